/** Figures of the sheet taken apart, one step at a time: every step that is offered can be taken, and both ways lead back to each other. */
import { describe, expect, it } from 'vitest';
import { takenApart, type Asked, type Step, type TakenApart } from '../../../language/src/report/taken-apart.ts';
import { apartOf } from '../../../language/src/services/sheet.ts';
import { samples, workspaceOf } from './open.ts';

const uri = 'file:///tarn-427.thou';
const workspace = workspaceOf(samples);
const outcome = workspace.result(uri).outcomes[0]!;
const build = outcome.binding.name;

function apart(asked: Partial<Asked> & { readonly figure: string }): TakenApart {
  const told = takenApart(outcome, { view: 'measured', way: 'both', ...asked }, workspace.files);
  if ('problem' in told) throw new Error(told.problem);
  return told;
}
const figures = (steps: readonly Step[]): (string | null)[] => steps.map(({ figure }) => figure);

describe('a figure taken apart', () => {
  it('of several places is each of them, then what it is made of there and what uses it', () => {
    const whole = apart({ figure: 'swept-volume' });
    expect(figures(whole.places)).toEqual([1, 2, 3, 4, 5, 6, 7, 8].map((cylinder) => `swept-volume[${cylinder}]`));
    expect(whole.made).toEqual([]);
    const third = apart({ figure: 'swept-volume[3]' });
    expect(figures(third.made)).toContain('block.bore[3]');
    expect(figures(third.used)).toContain('compression[3]');
    expect(third.about.join('\n')).toMatch(/^Formula/m);
  });

  it('leads from what it is made of back to it', () => {
    const bore = apart({ figure: 'block.bore[3]', way: 'used' });
    expect(figures(bore.used)).toContain('swept-volume[3]');
    expect(bore.made).toEqual([]);
  });

  it('is opened as far as it goes, and what is said to open does open', () => {
    const seen = new Set<string>();
    const open: Asked[] = ['compression[1]', 'quench[2]', 'piston-to-wall'].map((figure) => ({
      figure,
      view: 'measured',
      way: 'both',
    }));
    for (let asked = open.pop(); asked && seen.size < 400; asked = open.pop()) {
      const key = [asked.figure, asked.view, asked.way].join();
      if (seen.has(key)) continue;
      seen.add(key);
      const { places, made, used } = apart(asked);
      if (asked.way !== 'both') expect(places.length + made.length + used.length, key).toBeGreaterThan(0);
      const further = (steps: readonly Step[], way: Asked['way']): Asked[] =>
        steps.flatMap(({ figure, view, opens }) => (figure !== null && opens ? [{ figure, view, way }] : []));
      const placesWay = asked.way;
      open.push(...further(places, placesWay), ...further(made, 'made'), ...further(used, 'used'));
    }
    expect(seen.size).toBeGreaterThan(60);
  });

  it('goes to the page as markup that is escaped, or as nothing where it is gone', () => {
    const asked = { textDocument: { uri }, build, figure: 'compression[1]', view: 'measured', way: 'both' } as const;
    const { html } = apartOf(workspace, asked)!;
    expect(html).toContain('<a href="#" class="figure" data-path="compression[1]">');
    expect(html).toMatch(/<details data-apart="[\w.-]+\[1\]" data-view="measured" data-way="made"><summary>/);
    expect(html).not.toContain('<script');
    expect(apartOf(workspace, { ...asked, figure: 'no-such-figure' })).toBeNull();
    expect(apartOf(workspace, { ...asked, figure: '"><b>' })).toBeNull();
    expect(apartOf(workspace, { ...asked, build: 'nobody' })).toBeNull();
  });
});
