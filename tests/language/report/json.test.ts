// The JSON contract: shape by the published schema, figures unrounded, hostile names harmless.
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { sheetJson } from '../../../language/src/report/json.ts';
import type { Outcome } from '../../../language/src/semantics/plan/outcome.ts';
import { run } from '../../reference/run.ts';
import { check, files, numbers, outcome, schema, slots, station } from './rig.ts';

const options = { version: '0.0.0', edition: 1, files };
const text = (of: Outcome) => JSON.stringify(sheetJson([of], options));
const published = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../../shared/schema/${name}`, import.meta.url), 'utf8')) as object;
const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(published('thou-sheet-1.schema.json'));

describe('the JSON of a build', () => {
  it('obeys the published schema', () => {
    expect(validate(JSON.parse(text(outcome))), JSON.stringify(validate.errors)).toBe(true);
  });

  it('has teeth: a state outside the list and a text for a number are refused', () => {
    expect(validate(JSON.parse(text(outcome).replace('"out-of-limits"', '"bad"')))).toBe(false);
    expect(validate(JSON.parse(text(outcome).replace('"format":1', '"format":2')))).toBe(false);
    expect(validate(JSON.parse(text(outcome).replace('"min":0.01', '"min":"0.01"')))).toBe(false);
  });

  it('gives figures as computed, in the declared unit and in SI, missing as null', () => {
    const build = sheetJson([outcome], options).builds[0]!;
    expect(build.values['plate.width']).toMatchObject({
      value: [1, 1.0155, null],
      unit: 'in',
      axes: ['station'],
      state: ['specified', 'specified', 'missing'],
      layer: ['build', 'build', null],
    });
    expect(build.values['rail']).toMatchObject({
      value: 25.8,
      unit: 'mm',
      si: 0.0258,
      axes: [],
      layer: 'build',
      state: 'specified',
    });
    // closed form: 25.8 mm less 1 in
    expect((build.values['gap']!.value as number[])[0]).toBeCloseTo(25.8 / 25.4 - 1, 14);
    expect(build.axisLabels).toEqual({ station: [1, 2, 3] });
    expect(build.checks[0]).toMatchObject({
      id: 'gap-even',
      state: 'out-of-limits',
      path: 'gap',
      limits: { min: 0.01, max: 0.02 },
      unit: 'in',
    });
    expect(build.checks[0]!.cells[1]).toMatchObject({ at: { station: 2 }, state: 'out-of-limits' });
    expect(build.toMeasure).toEqual([
      {
        path: 'plate.width',
        at: { station: 3 },
        label: 'plate[3].width',
        why: null,
        stale: false,
        settles: ['gap-even'],
        weight: 1,
      },
    ]);
  });

  it('writes a figure along steps with seven digits, once where views are alike, and asks no point what it may be off', () => {
    const cut = 'build row { layout: single, crank.stroke: 100/3 mm ± 0.01 mm, rod.length: 100 mm }';
    const ran = run(cut).build('row').outcome;
    const build = sheetJson([ran], options).builds[0]!;
    const drop = build.values['piston-drop']!;
    const places = build.axisLabels['crank-angle']!.length;
    expect(drop).toMatchObject({
      along: 'crank-angle',
      axes: ['cylinder', 'crank-angle'],
      band: null,
      uncertainty: null,
    });
    expect(drop.views).toEqual({ specified: null, ordered: null, before: null, measured: null });
    // a quarter turn: 100/6 + 100 − √(100² − (100/6)²) mm, shown in inches
    const quarter = 100 / 6 + 100 - Math.sqrt(100 ** 2 - (100 / 6) ** 2);
    const at = places / 2 + 90;
    expect((drop.value as number[][])[0]![at]).toBe(Number((quarter / 25.4).toPrecision(7)));
    expect((drop.si as number[][])[0]![at]).toBe(Number((quarter / 1000).toPrecision(7)));
    expect(build.values['crank.stroke']!.along).toBeUndefined();
    expect(
      validate(JSON.parse(JSON.stringify({ ...sheetJson([ran], options) }))),
      JSON.stringify(validate.errors),
    ).toBe(true);
  });

  it('never writes a figure that is no number', () => {
    const infinite = { ...slots.rail, views: { ...slots.rail.views, measured: numbers([], [Infinity]) } };
    const broken = { ...check, cells: [{ ...check.cells[1]!, value: NaN, low: -Infinity, high: Infinity }] };
    const build = sheetJson([{ ...outcome, slots: [slots.width, infinite, slots.gap], checks: [broken] }], options)
      .builds[0]!;
    expect(build.values['rail']!.value).toBeNull();
    expect(build.checks[0]).toMatchObject({ value: null, limits: { min: null, max: null } });
    expect(JSON.stringify(build)).not.toMatch(/NaN|Infinity/);
  });

  it('takes __proto__ as a name like any other', () => {
    const named = { ...slots.rail, slot: { ...slots.rail.slot, path: '__proto__' } };
    const axis = { ...station, name: '__proto__' };
    const hostile = { ...outcome, axes: new Map([[0, axis]]), slots: [slots.width, named, slots.gap] };
    const parsed = JSON.parse(text(hostile)) as { builds: { values: object; axisLabels: object }[] };
    expect(Object.keys(parsed.builds[0]!.values)).toEqual(['plate.width', '__proto__', 'gap']);
    expect(Object.keys(parsed.builds[0]!.axisLabels)).toEqual(['__proto__']);
    expect(validate(parsed)).toBe(true);
    expect(({} as Record<string, unknown>)['value']).toBeUndefined();
  });

  it('names an axis through its mount where two of one name differ', () => {
    const other = { ...station, id: 1, size: 2, coordinates: Float64Array.of(1, 2) };
    const axes = [...schema.axes, { ...schema.axes[0]!, id: 1, mount: 1 }];
    const two = {
      ...outcome,
      binding: { ...outcome.binding, schema: { ...schema, axes } },
      axes: new Map([
        [0, station],
        [1, other],
      ]),
    };
    expect(sheetJson([two], options).builds[0]!.axisLabels).toEqual({ station: [1, 2, 3], 'plate.station': [1, 2] });
  });
});
