// One figure against another: table, drawing and JSON, against the closed form of what is swept.
import { mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SweepResult } from '../../../shared/src/result/sweep.ts';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const schema = JSON.parse(readFileSync(join(top, 'shared/schema/thou-sweep-1.schema.json'), 'utf8')) as object;
const isSweep = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

let folder: string;
let path: string;
beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-sweep-')));
  path = join(folder, 'one.thou');
  writeFileSync(
    path,
    `use prelude 1
build one {
  duty: circuit
  redline: 9000 rpm
  layout: single
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston { compression-height: 30.0 mm, dish: 2.0 cc }
  head.chamber: 30.0 cc
  head-gasket { bore: 82 mm, thickness: 1.00 mm }
  expect quench within 1.9..2.3 mm
}
`,
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('thou sweep', () => {
  it('gives the definition of the ratio at every thickness', async () => {
    const ran = await thou(
      'sweep',
      path,
      'compression',
      'over',
      'head-gasket.thickness',
      '0.6..1.6',
      'mm',
      '--format',
      'json',
    );
    expect(ran).toMatchObject({ code: 0, err: '' });
    const { chart, over } = JSON.parse(ran.out) as SweepResult;
    expect(isSweep(JSON.parse(ran.out)), JSON.stringify(isSweep.errors)).toBe(true);
    expect(over).toBe('head-gasket.thickness');
    expect(chart.at).toHaveLength(21);
    expect([chart.at[0], chart.at[20]]).toEqual([expect.closeTo(0.6, 9), expect.closeTo(1.6, 9)]);
    const swept = (Math.PI / 4) * 8 ** 2 * 7;
    chart.at.forEach((thickness, at) => {
      const left = 32 + ((Math.PI / 4) * (8.2 ** 2 * thickness + 8 ** 2 * 1)) / 10;
      expect(chart.lines[0]!.figures[at]).toBeCloseTo((swept + left) / left, 9);
    });
    expect(chart.marks).toEqual([{ at: expect.closeTo(1, 9) as number, name: 'now' }]);
  });

  it('marks what is outside the limits of the build', async () => {
    const ran = await thou('sweep', path, 'quench', 'over', 'head-gasket.thickness', '0.8..1.4 mm', '--steps', '7');
    const rows = ran.out.split('\n').filter((line) => /^\s+\d/.test(line));
    expect(rows.map((row) => row.includes('!'))).toEqual([true, false, false, false, false, false, true]);
    expect(ran.out).toContain('limits are 1.900..2.300 mm');
  });

  it('draws what it tells, and writes it where it is asked to', async () => {
    const to = join(folder, 'gap.svg');
    const ran = await thou(
      'sweep',
      path,
      'quench',
      'over',
      'head-gasket.thickness',
      '0.8..1.4 mm',
      '--format',
      'svg',
      '-o',
      to,
    );
    expect(ran).toEqual({ code: 0, out: '', err: `thou: ${to} is written: quench over head-gasket.thickness, one.\n` });
    expect(readFileSync(to, 'utf8')).toMatch(/^<svg [^>]*>\n<title>quench against head gasket thickness, one<\/title>/);
  });

  it.each([
    [['quench', 'head-gasket.thickness', '1..2 mm'], 'Say it like this'],
    [['quench', 'over', 'head-gasket.thickness', '1..2 cc'], 'Volume'],
    [['quench', 'over', 'head-gasket.thickness', '2..1 mm'], /smaller/],
    [['quench', 'over', 'deck-clearance', '1..2 mm'], 'is worked out from others'],
    [['material', 'over', 'head-gasket.thickness', '1..2 mm'], /material/],
    [['quench', 'over', 'head-gasket.thickness', '1..2 mm', '--steps', '1'], 'whole number'],
  ])('refuses %j', async (typed, words) => {
    const ran = await thou('sweep', path, ...typed);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toMatch(/failed inside/);
  });
});
