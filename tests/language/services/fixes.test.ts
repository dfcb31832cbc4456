/** Every computed fix of every finding of every sample and variant, taken and judged afresh. */
import { describe, expect, test } from 'vitest';
import { offersAt, type Offer } from '../../../language/src/services/code-actions/code-actions.ts';
import { applied } from '../../../language/src/services/code-actions/edit.ts';
import { underlinedAt } from '../../../language/src/services/code-actions/findings.ts';
import { gridOf, styleOf } from '../../../language/src/report/writing.ts';
import { solvedFor } from '../../../language/src/services/code-actions/solved.ts';
import type { CheckOutcome, CheckState, Outcome } from '../../../language/src/semantics/plan/outcome.ts';
import { planBuild } from '../../../language/src/semantics/plan/run.ts';
import { remediesFor } from '../../../language/src/semantics/solve/remedies.ts';
import { samples, workspaceOf } from './open.ts';

const breathe = (): Promise<void> => Promise.resolve();
const bad: readonly CheckState[] = ['at-risk', 'out-of-limits'];
const builds = [...samples.keys()].filter((name) => /^[^/]+\.thou$/.test(name));

function findingsOf(outcome: Outcome): readonly CheckOutcome[] {
  return outcome.checks.filter(({ state }) => bad.includes(state));
}

/** Checks with a cell that is worse than it was. */
function worseIn(before: Outcome, after: Outcome): string[] {
  return after.checks.flatMap((check) => {
    const old = before.checks.find(({ id }) => id === check.id);
    const isWorse = check.cells.some((cell) => {
      const was = old?.cells.find(({ places }) => places.join() === cell.places.join());
      return bad.indexOf(cell.state) > (was ? bad.indexOf(was.state) : -1);
    });
    return isWorse ? [`${after.binding.name} ${check.id}`] : [];
  });
}

describe.each(builds)('%s', (name) => {
  const uri = `file:///${name}`;
  const workspace = workspaceOf(samples);
  const before = workspace.result(uri);

  test('a fix that is taken leaves the check holding, and says what it worsens', { timeout: 900_000 }, async () => {
    let taken = 0;
    const titles: string[] = [];
    // each fix goes into the text as it was; what an edit leaves untouched is not worked out again
    const trial = workspaceOf(samples);
    for (const outcome of before.outcomes)
      for (const check of findingsOf(outcome))
        for (const fix of await solvedFor(workspace, uri, outcome, check, breathe)) {
          taken += 1;
          const text = applied(samples.get(name)!, fix.edits);
          trial.open(uri, text);
          const after = trial.result(uri);
          const own = after.outcomes.find(({ binding }) => binding.name === outcome.binding.name)!;
          const now = own.checks.find(({ id }) => id === check.id);
          if (now !== undefined || check.kind !== 'to-size')
            expect(bad, `${check.id}: ${fix.title}`).not.toContain(now!.state);
          expect(now?.state, fix.title).not.toBe('cannot-tell');
          const worse = before.outcomes.flatMap((one) => {
            const other = after.outcomes.find(({ binding }) => binding.name === one.binding.name)!;
            return worseIn(one, other);
          });
          expect(worse.length > 0, `${fix.title}: ${worse.join(', ')}`).toBe(/\bbut\b/.test(fix.title));
          const said = /goes out of limits|comes to be at risk/;
          expect(fix.follows.filter((one) => said.test(one)).length, fix.title).toBe(worse.length);
          const named = (fix.title.match(new RegExp(said, 'g')) ?? []).length;
          const counted = worse.length === 1 ? 'but another gets worse' : `but ${worse.length} others get worse`;
          expect(named === worse.length || fix.title.endsWith(counted), fix.title).toBe(true);
          titles.push(fix.title);
          const slips = (all: typeof after): number =>
            all.problems.filter(({ severity }) => severity !== 'hint').length;
          expect(slips(after), fix.title).toBeLessThanOrEqual(slips(before));
        }
    // a menu shows about so much of a line
    expect(titles.filter((title) => title.length > 110)).toEqual([]);
    if (name === 'tarn-427.thou' || name === 'skarn-998.thou') expect(taken).toBeGreaterThan(10);
  });

  test('nothing is turned the way that it cannot go', () => {
    for (const outcome of before.outcomes)
      for (const check of findingsOf(outcome)) {
        const wanted = {
          gridOf: (slot: number, cell: number) => gridOf(styleOf(outcome, slot, cell)),
          sizesOf: () => [],
        };
        for (const { moves } of remediesFor(planBuild(outcome.binding), check, wanted))
          for (const { slot, from, to } of moves) {
            const { features, path } = outcome.slots[slot]!.slot;
            for (const [cell, figure] of to) {
              expect(figure, path).not.toBe(from.get(cell));
              if (features.includes('grows')) expect(figure, path).toBeGreaterThan(from.get(cell)!);
              if (features.includes('falls')) expect(figure, path).toBeLessThan(from.get(cell)!);
            }
          }
      }
  });

  test('every finding is found where it is underlined', () => {
    const text = samples.get(name)!;
    const all = underlinedAt(workspace, uri, 0, text.length);
    for (const { uri: of, code, check } of all) {
      expect(of).toBe(uri);
      expect(['expect', check.id]).toContain(code);
    }
    const own = before.outcomes[0];
    if (own) expect(new Set(all.map(({ check }) => check.id)).size).toBeGreaterThanOrEqual(findingsOf(own).length);
  });
});

describe('of the samples', () => {
  test('the thin gasket gets a thicker one', async () => {
    const workspace = workspaceOf(samples);
    const uri = 'file:///fell-427.thou';
    const result = workspace.result(uri);
    const outcome = result.outcomes[1]!;
    const check = outcome.checks.find(({ id }) => id === 'quench-clearance')!;
    const [first] = await solvedFor(workspace, uri, outcome, check, breathe);
    expect(first!.title).toMatch(
      /^Head gasket thickness 0\.036 in: quench 0\.0360 in, compression 10\.7\d → 10\.\d\d; /,
    );
    expect(applied(samples.get('fell-427.thou')!, first!.edits)).toContain(
      'variant thin-gasket of fell-427 { head-gasket.thickness: 0.036 in }',
    );
  });

  test('uneven chambers are evened out until all cylinders are alike in compression, not in chamber', async () => {
    const workspace = workspaceOf(samples);
    const uri = 'file:///tarn-427.thou';
    const outcome = workspace.result(uri).outcomes[0]!;
    const check = outcome.checks.find(({ id }) => id === 'compression-even')!;
    const [first] = await solvedFor(workspace, uri, outcome, check, breathe);
    expect(first!.title).toMatch(/^Head chamber evened out to 71\.\d\.\.71\.\d cc: compression spread 0\.0[01]; /);
    const text = applied(samples.get('tarn-427.thou')!, first!.edits);
    const after = workspaceOf(new Map([...samples, ['tarn-427.thou', text]])).result(uri).outcomes[0]!;
    const figures = [...after.tensorOf(after.slots.find(({ slot }) => slot.path === 'compression')!.slot.id)!.data];
    // a chamber is written to 0.1 cc, which is 0.02 of compression here
    expect(Math.max(...figures) - Math.min(...figures)).toBeLessThan(0.02);
    const chambers = after.slots.find(({ slot }) => slot.path === 'head.chamber')!.slot.id;
    const before = outcome.tensorOf(chambers)!.data;
    after.tensorOf(chambers)!.data.forEach((figure, cell) => expect(figure).toBeGreaterThanOrEqual(before[cell]!));
  });

  test('what comes in steps is given as so many of them, place by place', async () => {
    const workspace = workspaceOf(samples);
    const uri = 'file:///skarn-998.thou';
    const outcome = workspace.result(uri).outcomes[0]!;
    const check = outcome.checks.find(({ id }) => id === 'exhaust.valve-lash')!;
    const fixes = await solvedFor(workspace, uri, outcome, check, breathe);
    const lines = (at: number): string[] =>
      applied(samples.get('skarn-998.thou')!, fixes[at]!.edits)
        .split('\n')
        .filter((line) => line.includes('exhaust.shim-to-fit'))
        .map((line) => line.trim().replace('exhaust.shim-to-fit', ''));
    // by hand, steps of 0.025: 0.25 + 2.700 − 2.725, 0.16 + 2.700 − 2.650, 0.27 + 2.650 − 2.700, 0.15 + 2.700 − 2.625, 0.25 + 2.675 − 2.700
    const rest = ['[3, 1]: 2.700 mm', '[3, 2]: 2.625 mm', '[4, 1]: 2.700 mm'];
    expect(lines(0)).toEqual(['[1, 1]: 2.725 mm', '[2, 1]: 2.650 mm', ...rest]);
    // 0.235 is nearer to 0.225 than 0.21 is
    expect(lines(1)).toEqual(['[1, 1]: 2.725 mm', '[2, 1]: 2.625 mm', ...rest]);
    expect(fixes.every(({ isClean }) => isClean)).toBe(true);
  });

  test('a finding of a check that has nothing to turn is given no figure', async () => {
    // a lash that no shim makes
    const text = samples.get('skarn-998.thou')!.replace(/^ *intake\.shim: .*\n/m, '');
    const workspace = workspaceOf(new Map([...samples, ['skarn-998.thou', text]]));
    const uri = 'file:///skarn-998.thou';
    const outcome = workspace.result(uri).outcomes[0]!;
    const check = outcome.checks.find(({ id }) => id === 'intake.valve-lash')!;
    expect(check.state).toBe('out-of-limits');
    expect(await solvedFor(workspace, uri, outcome, check, breathe)).toEqual([]);
  });

  test('one offer at most is the preferred one', async () => {
    const workspace = workspaceOf(samples);
    const uri = 'file:///tarn-427.thou';
    const text = samples.get('tarn-427.thou')!;
    const at = text.indexOf('ring.gap[top]');
    const offers: readonly Offer[] = await offersAt(workspace, uri, at, at, breathe);
    expect(offers.filter(({ isPreferred }) => isPreferred)).toHaveLength(1);
    expect(offers.find(({ isPreferred }) => isPreferred)!.title).toMatch(/^Ring gap .*: just holds; /);
  });
});
