/** Readings one by one: what is due, what a typed figure becomes, how it stands in the text; and empty tables for many at once. */
import { describe, expect, test } from 'vitest';
import { applied } from '../../../language/src/services/code-actions/edit.ts';
import { dueReadings } from '../../../language/src/services/readings/due.ts';
import { reading } from '../../../language/src/services/readings/measure.ts';
import { tableFor } from '../../../language/src/services/readings/table.ts';
import { toOffset } from '../../../language/src/services/positions.ts';
import { workspaceOf } from './open.ts';

const uri = 'file:///one.thou';
const textDocument = { uri };
const workspace = workspaceOf({});

const engine = `use prelude 1
build one {
  layout: inline-4
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket { bore: 82 mm, thickness: 0.9 mm }
  quench-limits: 1.2..2.0 mm
}
`;
const by = { date: '2026-03-02', hand: 'A. H.', instrument: 'mic-3' };

interface Change {
  readonly range: {
    readonly start: { line: number; character: number };
    readonly end: { line: number; character: number };
  };
  readonly newText: string;
}

/** The text with the changes in it, which is then the text. */
function written(edits: readonly Change[]): string {
  const positions = workspace.positionsOf(uri);
  const text = applied(
    workspace.source(uri)!.text,
    edits.map(({ range, newText }) => ({
      start: toOffset(positions, range.start),
      end: toOffset(positions, range.end),
      text: newText,
    })),
  );
  workspace.open(uri, text);
  return text;
}

function type(figure: string, typed: string, more: Partial<typeof by> = {}) {
  return reading(workspace, { textDocument, build: 'one', figure, typed, ...by, ...more });
}

describe('what is due', () => {
  test('comes figure by figure, each place once, with what it should be and the unit that it is written in', () => {
    workspace.open(uri, engine);
    const due = dueReadings(workspace, { textDocument, build: null, position: null })!;
    expect(due.build).toBe('one');
    const bores = due.readings.filter(({ figure }) => figure.startsWith('block.bore['));
    expect(bores.map(({ figure }) => figure)).toEqual([1, 2, 3, 4].map((at) => `block.bore[${at}]`));
    expect(bores[0]).toMatchObject({ unit: 'mm', label: 'Block bore, cylinder 1' });
    expect(bores[0]!.about.join('\n')).toMatch(/^One figure a cylinder\..*\nordered 80\.0 mm/);
    expect(new Set(due.readings.map(({ figure }) => figure)).size).toBe(due.readings.length);
    expect(due.last).toEqual({});
    expect(due.tables).toContainEqual({
      figure: 'block.bore',
      label: 'Block bore, each cylinder',
      count: 4,
    });
  });

  test('no build, nothing due', () => {
    workspace.open(uri, 'use prelude 1\n');
    expect(dueReadings(workspace, { textDocument, build: null, position: null })).toBeNull();
    expect(type('redline', '7000').problem).toMatch(/no build "one"/);
  });
});

describe('a reading', () => {
  test('opens a block of its day and hand; the next goes into the place that the list kept free, one change each', () => {
    workspace.open(uri, engine);
    const first = type('piston.compression-height[2]', '30.01');
    expect(first).toMatchObject({ problem: null, remark: null });
    expect(first.edits).toHaveLength(1);
    expect(written(first.edits)).toContain(`  quench-limits: 1.2..2.0 mm
  measured on 2026-03-02 by "A. H." {
    piston.compression-height: [_, 30.01, _, _] mm with mic-3
  }
}
`);
    const second = type('piston.compression-height[4]', '29.99 mm');
    expect(second.edits).toHaveLength(1);
    expect(written(second.edits)).toContain('    piston.compression-height: [_, 30.01, _, 29.99] mm with mic-3\n  }');
    const other = type('crank.stroke[1]', '70.02', { instrument: 'height-gauge' });
    expect(written(other.edits)).toContain(
      '29.99] mm with mic-3\n    crank.stroke: [70.02, _, _, _] mm with height-gauge\n  }',
    );
    const due = dueReadings(workspace, { textDocument, build: 'one', position: null })!;
    const left = due.readings.map(({ figure }) => figure).filter((figure) => figure.endsWith('compression-height'));
    expect(left).toEqual(['piston[1].compression-height', 'piston[3].compression-height']);
    expect(due.last).toEqual({ date: '2026-03-02', hand: 'A. H.', instrument: 'height-gauge' });
  });

  test('of another hand or day begins another block; in another unit another line', () => {
    workspace.open(uri, engine);
    written(type('piston.compression-height[1]', '30.01').edits);
    written(type('piston.compression-height[2]', '1.1811 in').edits);
    const text = written(type('piston.compression-height[3]', '30.00', { hand: 'B. K.', date: '2026-03-05' }).edits);
    expect(text).toContain(`    piston.compression-height: [30.01, _, _, _] mm with mic-3
    piston[2].compression-height: 1.1811 in with mic-3
  }
  measured on 2026-03-05 by "B. K." {
    piston.compression-height: [_, _, 30.00, _] mm with mic-3
  }
`);
    const outcome = workspace.result(uri);
    expect(outcome.problems.filter(({ severity }) => severity === 'error').map(({ message }) => message)).toEqual([]);
  });

  test('of many places is laid in lines that can be read', () => {
    workspace.open(uri, engine);
    const text = written(type('block.bore-reading[1, top, thrust]', '80.01').edits);
    expect(text).toContain('    block.bore-reading[1]: [[80.01, _], [_, _], [_, _]] mm with mic-3');
    expect(written(type('block.bore-reading[1, middle, along]', '80.02').edits)).toContain(
      '[[80.01, _], [_, 80.02], [_, _]]',
    );
  });

  test('that cannot be one is refused with a reason', () => {
    workspace.open(uri, engine);
    const problem = (typed: string, figure = 'piston.compression-height[1]'): string =>
      type(figure, typed).problem ?? 'none';
    expect(problem('')).toMatch(/^Type the figure/);
    expect(problem('30,01')).toBe('Write a decimal point: 30.01.');
    expect(problem('30.01 psi')).toMatch(/pressure|psi/i);
    expect(problem('30.01 milimeter')).toMatch(/milimeter/);
    expect(problem('30.01 } }')).not.toBe('none');
    expect(problem('30.01, 30.02')).not.toBe('none');
    expect(problem('[1, 2]')).toMatch(/^Type one figure/);
    expect(problem('was - 1 mm')).toMatch(/^Type one figure/);
    expect(problem('30.01\n')).toBe('none');
    expect(problem('30.01', 'piston.compression-height')).toMatch(/^Say which one/);
    expect(problem('30.01', 'piston.compression-heigth[1]')).toMatch(/Did you mean/);
    expect(type('piston.compression-height[1]', '30.01', { date: '2026-13-40' }).problem).toMatch(/no date/);
    expect(type('piston.compression-height[1]', '30.01', { hand: 'a\nb' }).problem).toMatch(/cannot be written/);
    expect(workspace.source(uri)!.text).toBe(engine);
  });

  test('a quote in a name is written so that it can be read again', () => {
    workspace.open(uri, engine);
    const text = written(type('piston.compression-height[1]', '30.01', { hand: 'A "Bert" H.' }).edits);
    expect(text).toContain('by "A \\"Bert\\" H." {');
    expect(written(type('piston.compression-height[2]', '30.02', { hand: 'A "Bert" H.' }).edits)).toContain(
      '[30.01, 30.02, _, _]',
    );
  });

  test('is thought about: what goes out through it, what is far from the order', () => {
    workspace.open(uri, engine);
    expect(type('piston.compression-height[1]', '29.00').remark).toMatch(/^Quench .* over the greatest, 2\.000 mm/);
    expect(type('piston.compression-height[1]', '3.00').remark).toMatch(/far from what was ordered, 30\.00 mm/);
  });
});

describe('a table', () => {
  test('has a row for every place, and is read without a problem when it is filled in', () => {
    workspace.open(uri, engine);
    const told = tableFor(workspace, { textDocument, build: 'one', figure: 'ring.gap', name: 'gaps.csv', ...by });
    if ('problem' in told) throw new Error(told.problem);
    const lines = told.csv.split('\n');
    expect(lines.slice(0, 3)).toEqual(['cylinder,ring-place,gap [mm]', '1,top,', '1,second,']);
    expect(lines).toHaveLength(1 + 12 + 1);
    const text = written(told.edits);
    expect(text).toContain('measured on 2026-03-02 by "A. H." {\n    ring.gap: from "gaps.csv" with mic-3\n  }');
    const filled = told.csv.replaceAll(/,$/gm, ',0.35');
    for (const csv of [told.csv, filled]) {
      const { problems, outcomes } = workspaceOf({ 'one.thou': text, 'gaps.csv': csv }).result(uri);
      expect(problems.filter(({ severity }) => severity === 'error').map(({ message }) => message)).toEqual([]);
      const gap = outcomes[0]!.slots.find(({ slot }) => slot.path === 'ring.gap')!;
      expect(gap.states.every((state) => (state === 'measured') === (csv === filled))).toBe(true);
    }
  });

  test('is refused for one figure, and under a name that leads elsewhere', () => {
    workspace.open(uri, engine);
    const problem = (figure: string, name: string) =>
      tableFor(workspace, { textDocument, build: 'one', figure, name, ...by });
    expect(problem('redline', 'a.csv')).toMatchObject({ problem: expect.stringMatching(/is one figure/) as string });
    for (const name of ['../a.csv', '/a.csv', 'a.txt', 'a".csv', 'c:a.csv', '.csv', ''])
      expect(problem('ring.gap', name), name).toHaveProperty('problem');
  });
});
