// Many trials at the command line: against closed forms of what is drawn, and repeatable.
import { mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ChanceResult } from '../../../shared/src/result/chance.ts';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const schema = JSON.parse(readFileSync(join(top, 'shared/schema/thou-chance-1.schema.json'), 'utf8')) as object;
const isChance = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

let folder: string;
let path: string;
beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-chance-')));
  path = join(folder, 'one.thou');
  writeFileSync(
    path,
    `use prelude 1
component Stack {
  frame: Length as 0.000 mm
  first: Length as 0.000 mm
  second: Length as 0.000 mm
  derive gap: Length as 0.000 mm = frame - first - second
}
extend Engine { stack: Stack }
build one {
  layout: single
  stack { frame: 100.000 mm, first: 40.00 ± 0.06 mm, second: 59.00 ± 0.06 mm }
  expect stack.gap >= 0.94 mm
}
`,
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function drawn(...more: string[]): Promise<ChanceResult> {
  const ran = await thou('chance', path, 'stack.gap', '--format', 'json', ...more);
  expect(ran).toMatchObject({ code: 0, err: '' });
  const result = JSON.parse(ran.out) as ChanceResult;
  expect(isChance(result), JSON.stringify(isChance.errors)).toBe(true);
  return result;
}

describe('thou chance', () => {
  it('of two even tolerances is their triangle', async () => {
    const { cells, unit, trials } = await drawn('--trials', '40000');
    expect([unit, trials]).toEqual(['mm', 40_000]);
    const [cell] = cells;
    // the sum of two rectangles of half width 0.06: u = 0.06 √(2/3), triangular over ±0.12
    const u = 0.06 * Math.sqrt(2 / 3);
    expect(cell!.figure).toBeCloseTo(1, 9);
    expect(cell!.uncertainty).toBeCloseTo(u, 9);
    expect(Math.abs(cell!.mean! - 1)).toBeLessThan((4 * u) / Math.sqrt(40_000));
    expect(Math.abs(cell!.deviation! / u - 1)).toBeLessThan(3 / Math.sqrt(40_000));
    // 95 % of a triangle of half width w lie within w (1 − √0.05)
    const reach = 0.12 * (1 - Math.sqrt(0.05));
    expect(cell!.interval![0]).toBeCloseTo(1 - reach, 2);
    expect(cell!.interval![1]).toBeCloseTo(1 + reach, 2);
    expect(cell!.shortest![1] - cell!.shortest![0]).toBeLessThanOrEqual(
      cell!.interval![1] - cell!.interval![0] + 1e-12,
    );
    // below 0.94 lies half of (1 − 0.06/0.12)²: an eighth; four standard deviations of the count beside it
    expect(Math.abs(cell!.inside! - 7 / 8)).toBeLessThan(4 * Math.sqrt(((7 / 8) * (1 / 8)) / 40_000));
  });

  it('draws the same when other figures are declared before', async () => {
    const before = await drawn('--trials', '500');
    const text = readFileSync(path, 'utf8');
    writeFileSync(path, text.replace('component Stack {', 'component Stack {\n  shim: Length as 0.000 mm'));
    const after = await drawn('--trials', '500');
    writeFileSync(path, text);
    expect(after.cells).toEqual(before.cells);
  });

  it('gives the same trials for the same seed, and others for another', async () => {
    const [a, b, c] = [
      await drawn('--trials', '500'),
      await drawn('--trials', '500', '--seed', '1'),
      await drawn('--trials', '500', '--seed', '2'),
    ];
    expect(a).toEqual(b);
    expect(c.cells[0]!.mean).not.toBe(a.cells[0]!.mean);
  });

  it('tells it as a table, and what is sure without a margin', async () => {
    const ran = await thou('chance', path, 'stack.gap', '--trials', '1000');
    expect(ran.out).toMatch(
      /^stack gap \(mm\), one\n1000 trials, .*\n\n +worked out +in the trials +95 % of them +shortest +inside limits\n/,
    );
    expect(ran.out).toMatch(/1\.000 ± 0\.098 +(0\.99|1\.00)\d ± 0\.\d+ +0\.9\d\d\.\.1\.0\d\d/);
    const sure = await thou('chance', path, 'stack.frame', '--trials', '100');
    expect(sure.out).toMatch(/ 100\.000 +100\.000 +100\.000\.\.100\.000/);
  });

  it.each([
    [['stack.gapp'], /no figure "stack\.gapp"/],
    [['material'], /material/],
    [['stack.gap', '--trials', '5'], /whole number from 100/],
    [['stack.gap', '--seed', 'x'], /whole number/],
    [[], /Name a file/],
  ])('refuses %j', async (typed, words) => {
    const ran = await thou('chance', path, ...typed);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toMatch(/failed inside/);
  });
});
