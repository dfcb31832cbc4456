// Working back from a target at the command line: figures against closed forms and against the text with the change written into it.
import { mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SheetResult } from '../../../shared/src/result/contract.ts';
import type { SolveResult } from '../../../shared/src/result/solve.ts';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const schema = JSON.parse(readFileSync(join(top, 'shared/schema/thou-solve-1.schema.json'), 'utf8')) as object;
const isSolve = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

let folder: string;
const file = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-solve-')));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A single whose crown stands 1 mm below the deck, with a chamber and a gasket. */
const single = (thickness = '1.00', more = ''): string => `use prelude 1
part thin: Gasket { bore: 82 mm, thickness: 0.90 mm }
part thick: Gasket { bore: 82 mm, thickness: 1.30 mm }
build one {
  duty: circuit
  redline: 9000 rpm
  layout: single
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston { compression-height: 30.0 mm, dish: 2.0 cc }
  head.chamber: 30.0 cc
  head-gasket { bore: 82 mm, thickness: ${thickness} mm }
  ${more}
}
`;

async function solved(path: string, ...typed: string[]): Promise<{ code: number; result: SolveResult }> {
  const ran = await thou('solve', path, ...typed, '--format', 'json');
  expect(ran.err).toBe('');
  const result = JSON.parse(ran.out) as SolveResult;
  expect(isSolve(result), JSON.stringify(isSolve.errors)).toBe(true);
  return { code: ran.code, result };
}
const compression = (thickness: number, chamber = 30, dish = 2): number => {
  const swept = (Math.PI / 4) * 8 ** 2 * 7;
  const left = chamber + dish + ((Math.PI / 4) * 8.2 ** 2 * thickness) / 10 + ((Math.PI / 4) * 8 ** 2 * 1) / 10;
  return (swept + left) / left;
};

describe('one goal, one figure turned', () => {
  it('comes to the root of the definition of the ratio', async () => {
    const { code, result } = await solved(file('a.thou', single()), 'compression = 9.0', '--turn', 'head.chamber');
    expect(code).toBe(0);
    // by the definition (swept + left) / left, turned round by hand
    const swept = (Math.PI / 4) * 8 ** 2 * 7;
    const chamber = 30 + swept / (9 - 1) - swept / (compression(1) - 1);
    const [cell] = result.ways[0]!.changes[0]!.cells;
    expect(cell!.exact).toBeCloseTo(chamber, 6);
    expect(cell!.to).toBeCloseTo(Math.round(chamber * 10) / 10, 9);
    expect(result.ways[0]!.goals[0]!.after![0]).toBeCloseTo(compression(1, cell!.to), 9);
  });

  it('is what the text gives with the figure written into it', async () => {
    for (const wanted of [1.7, 1.93, 2.2, 2.41]) {
      const { result } = await solved(
        file('a.thou', single()),
        `quench = ${wanted} mm`,
        '--turn',
        'head-gasket.thickness',
      );
      const way = result.ways.find(({ changes }) => changes[0]!.part === null)!;
      const { to } = way.changes[0]!.cells[0]!;
      const ran = await thou('sheet', file('b.thou', single(String(to))), '--format', 'json');
      const { values } = (JSON.parse(ran.out) as SheetResult).builds[0]!;
      expect(values['quench']!.si).toEqual([expect.closeTo(way.goals[0]!.after![0] / 1000, 12)]);
      const ratio = way.moved.find(({ path }) => path === 'compression')!;
      expect(values['compression']!.value).toEqual([expect.closeTo(ratio.to, 9)]);
    }
  });

  it('names the size on the shelf that comes nearest', async () => {
    const { result } = await solved(file('a.thou', single()), 'quench = 2.25 mm', '--turn', 'head-gasket.thickness');
    expect(result.ways[0]!.changes[0]).toMatchObject({ bought: true, part: 'thick', cells: [{ from: 1, to: 1.3 }] });
    expect(result.ways[1]!.changes[0]).toMatchObject({
      part: null,
      cells: [{ to: expect.closeTo(1.25, 9) as number }],
    });
  });

  it('does not go where a cut cannot go, and says where it would have to', async () => {
    const { code, result } = await solved(file('a.thou', single()), 'compression = 10.5', '--turn', 'head.chamber');
    expect(code).toBe(1);
    expect(result.ways).toEqual([]);
    expect(result.noWays).toMatchObject([{ turned: ['head.chamber'], why: 'wrong-way' }]);
    expect(result.noWays[0]!.message).toMatch(
      /head\.chamber(\[1\])? would have to go to 2\d\.\d cc, and it cannot be made smaller again/,
    );
  });

  it('says what goes out by it', async () => {
    const path = file('a.thou', single('1.00', 'expect quench within 1.9..2.2 mm'));
    const { result } = await solved(path, 'compression = 9.0', '--turn', 'head-gasket.thickness');
    const [way] = result.ways.filter(({ changes }) => changes[0]!.part === null);
    expect(way!.worse.map(({ id, after }) => [id, after])).toEqual([['quench-clearance', 'out-of-limits']]);
    const ran = await thou('solve', path, 'compression = 9.0', '--turn', 'head-gasket.thickness');
    expect(ran.out).toMatch(/goes out: Quench .* over the greatest, 2\.200 mm\./s);
  });
});

describe('several goals, several figures turned', () => {
  it('are brought about together', async () => {
    const goals = ['quench = 1.80 mm', 'compression = 9.2', '--turn', 'head-gasket.thickness', '--turn', 'piston.dish'];
    const { result } = await solved(file('a.thou', single()), ...goals);
    const [gasket, dish] = result.ways[0]!.changes.map(({ cells }) => cells[0]!.exact!);
    expect(gasket).toBeCloseTo(0.8, 6);
    const swept = (Math.PI / 4) * 8 ** 2 * 7;
    expect(dish).toBeCloseTo(2 + swept / (9.2 - 1) - swept / (compression(0.8) - 1), 6);
  });

  it('one figure for two goals is no way', async () => {
    const ran = await solved(
      file('a.thou', single()),
      'quench = 1.8 mm',
      'compression = 9.2',
      '--turn',
      'head.chamber',
    );
    expect(ran).toMatchObject({ code: 1, result: { ways: [] } });
  });
});

describe('limits as a goal', () => {
  it('are met by the least change, by what the rule names', async () => {
    const { result } = await solved(file('a.thou', single()), 'quench within 2.10..2.30 mm');
    const changed = result.ways.map(({ changes: [change] }) => [change!.path, change!.cells[0]!.to]);
    expect(changed).toContainEqual(['head-gasket.thickness', expect.closeTo(1.1, 9)]);
    // the deck only falls: it brings less quench, never more
    expect(changed.map(([path]) => path)).not.toContain('block.deck-height');
  });

  it('that hold already ask for nothing', async () => {
    expect(await solved(file('a.thou', single()), 'quench <= 3 mm')).toMatchObject({
      code: 0,
      result: { holdsAlready: true, ways: [] },
    });
  });
});

describe('what cannot be asked', () => {
  it.each([
    ['quench = 40 cc', /Length.*Volume/],
    ['qench = 1 mm', /qench/],
    ['quench', /cannot be worked back|compares/],
    ['quench = 1 mm }', /"quench = 1 mm }"/],
    ['quench = 1 mm" {', /./],
  ])('%s', async (goal, words) => {
    const ran = await thou('solve', file('a.thou', single()), goal);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toMatch(/failed inside/);
  });

  it('a figure that is worked out cannot be turned', async () => {
    const ran = await thou('solve', file('a.thou', single()), 'quench = 1 mm', '--turn', 'deck-clearance');
    expect(ran).toMatchObject({ code: 2 });
    expect(ran.err).toContain('is worked out from others');
  });
});
