// Builds beside each other: what differs comes first, and says the same as the sheets of the builds.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { CompareResult } from '../../../shared/src/result/compare.ts';
import type { SheetResult } from '../../../shared/src/result/contract.ts';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const sample = (name: string): string => join(top, 'samples', name);
const schema = JSON.parse(readFileSync(join(top, 'shared/schema/thou-compare-1.schema.json'), 'utf8')) as object;
const isCompare = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

async function compared(...typed: string[]): Promise<CompareResult> {
  const ran = await thou('compare', ...typed, '--format', 'json');
  expect(ran).toMatchObject({ code: 0, err: '' });
  const result = JSON.parse(ran.out) as CompareResult;
  expect(isCompare(result), JSON.stringify(isCompare.errors)).toBe(true);
  return result;
}

describe('thou compare', () => {
  it('names what a variant changes and the check that goes out for it, before all else', async () => {
    const { builds, figures, checks } = await compared(sample('fell-427.thou'));
    expect(builds).toEqual(['fell-427', 'thin-gasket']);
    expect(figures.filter(({ differs, given }) => differs && given)).toMatchObject([
      { path: 'head-gasket.thickness', texts: ['0.039 in', '0.035 in'] },
    ]);
    expect(checks[0]).toEqual({
      id: 'quench-clearance',
      differs: true,
      states: ['holds-on-paper', 'out-of-limits'],
    });
    const order = figures.map(({ differs }) => differs);
    expect(order.lastIndexOf(true)).toBeLessThan(order.indexOf(false));
  });

  it('gives the figures and states of the sheets, and calls different what is', async () => {
    const path = sample('skarn-998.thou');
    const { builds, figures, checks } = await compared(path);
    const sheets = (JSON.parse((await thou('sheet', path, '--format', 'json')).out) as SheetResult).builds;
    expect(builds).toEqual(sheets.map(({ name }) => name));
    const flat = (values: unknown): number[] => [values].flat(5).filter((one) => typeof one === 'number');
    for (const { path: name, differs, values } of figures) {
      const si = sheets.map((sheet) => flat(sheet.values[name]!.si));
      const same = si.every((one) =>
        one.every((figure, at) => Math.abs(figure - si[0]![at]!) <= 1e-12 * Math.abs(figure)),
      );
      // what is the same to the last bit is never told as different
      if (same && values[0] !== null) expect(differs, name).toBe(false);
      values.forEach((one, at) => expect(flat(one).length, name).toBe(one === null ? 0 : si[at]!.length));
    }
    for (const { id, states } of checks)
      expect(states).toEqual(sheets.map((sheet) => sheet.checks.find((one) => one.id === id)?.state ?? null));
    expect(figures.filter(({ differs }) => differs).map(({ path: name }) => name)).toEqual(
      expect.arrayContaining(['block.deck', 'quench', 'compression', 'rod-clearance']),
    );
  });

  it('takes the builds that were named, in their order, and says what is the same when asked', async () => {
    const path = sample('skarn-998.thou');
    const ran = await thou('compare', path, '--build', 'pin-2-pair', '--build', 'pin-2-mixed');
    expect(ran.out).toMatch(/^pin-2-pair beside pin-2-mixed\n/);
    expect(ran.out).toMatch(/The same in all: \d+ figures and \d+ checks/);
    const all = await thou('compare', path, '--build', 'pin-2-pair', '--build', 'pin-2-mixed', '--all');
    expect(all.out).toContain('The same in all: figures');
  });

  it('sets builds of two files beside each other by their names', async () => {
    const { builds, figures } = await compared(
      sample('fell-427.thou'),
      sample('tarn-427.thou'),
      '--build',
      'fell-427',
      '--build',
      'tarn-427',
    );
    expect(builds).toEqual(['fell-427', 'tarn-427']);
    expect(figures.find(({ path }) => path === 'block.bore')).toMatchObject({ differs: true });
  });

  it('refuses what cannot be compared', async () => {
    expect(await thou('compare', sample('gill-350.thou'))).toMatchObject({ code: 2 });
    expect(await thou('compare', sample('fell-427.thou'), '--build', 'fel')).toMatchObject({ code: 2 });
    expect(await thou('compare')).toMatchObject({ code: 2 });
  });
});
