// What adds to, compares with and fits what: the table of the kinds (decisions.md, "Kinds"), typed in again.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { baseOnly, dimension, none } from '@thou/shared/dimension/dimension';
import {
  add,
  canAdd,
  canCompare,
  combine,
  fits,
  nameOf,
  namedMeasures,
  plainNumber,
  raise,
  subtract,
} from '@thou/shared/dimension/types';
import type { Kind, Measure } from '@thou/shared/dimension/types';

const named = (name: string): Measure => {
  const found = namedMeasures.get(name);
  if (!found) throw new Error(`No type is called ${name}`);
  return found;
};
const newtonMetre: Measure = { dimension: named('Torque').dimension, kind: null };
const kelvin: Measure = { dimension: named('Temperature').dimension, kind: null };
const [torque, energy, ratio, count] = ['Torque', 'Energy', 'Ratio', 'Count'].map(named) as [
  Measure,
  Measure,
  Measure,
  Measure,
];
const [point, difference] = [named('Temperature'), named('TemperatureDifference')];
const eur: Measure = { dimension: baseOnly('money:EUR'), kind: null };
const gbp: Measure = { dimension: baseOnly('money:GBP'), kind: null };
const all: Record<string, Measure> = {
  torque,
  energy,
  ratio,
  count,
  point,
  difference,
  newtonMetre,
  kelvin,
  plainNumber,
};

// value, place, fits, adds, compares
type Line = readonly [value: string, due: string, fits: boolean, adds: boolean, compares: boolean];
const table: readonly Line[] = [
  ['torque', 'torque', true, true, true],
  ['torque', 'energy', false, false, false],
  ['energy', 'torque', false, false, false],
  ['newtonMetre', 'torque', true, true, true],
  ['newtonMetre', 'energy', true, true, true],
  ['torque', 'newtonMetre', true, true, true],
  ['ratio', 'ratio', true, true, true],
  ['count', 'count', true, true, true],
  ['count', 'ratio', true, true, true],
  ['ratio', 'count', false, true, true],
  ['plainNumber', 'ratio', true, true, true],
  ['plainNumber', 'count', true, true, true],
  ['ratio', 'torque', false, false, false],
  ['point', 'point', true, false, true],
  ['point', 'difference', false, true, false],
  ['difference', 'point', false, true, false],
  ['difference', 'difference', true, true, true],
  ['kelvin', 'point', true, true, true],
  ['kelvin', 'difference', true, true, true],
];

describe('kinds', () => {
  it.each(table)('%s where %s is due: fits %s, adds %s, compares %s', (value, due, fit, adds, compares) => {
    expect(fits(all[value]!, all[due]!)).toBe(fit);
    expect(canAdd(all[value]!, all[due]!)).toBe(adds);
    expect(canCompare(all[value]!, all[due]!)).toBe(compares);
  });

  // decisions.md: `*` `/` `^` drop the kind except by a Ratio, a Count or a plain number
  const products: readonly (readonly [Measure, '*' | '/', Measure, Kind])[] = [
    [torque, '*', ratio, 'torque'],
    [ratio, '*', torque, 'torque'],
    [torque, '/', count, 'torque'],
    [energy, '*', plainNumber, 'energy'],
    [torque, '/', torque, null],
    [ratio, '/', torque, null],
    [torque, '*', named('Angle'), null],
    [named('Force'), '*', named('Length'), null],
    [difference, '*', ratio, 'difference'],
    [difference, '/', difference, null],
    [ratio, '*', ratio, 'ratio'],
    [ratio, '/', count, 'ratio'],
    [count, '*', count, 'count'],
    [count, '/', count, 'ratio'],
    [count, '*', plainNumber, null],
    [plainNumber, '*', plainNumber, null],
  ];
  it.each(products)('%o %s %o has the kind %s', (a, op, b, kind) => {
    expect(combine(op, a, b).kind).toBe(kind);
  });

  it('are dropped by a power, except from numbers', () => {
    expect(raise(torque, 2).kind).toBeNull();
    expect(raise(torque, 1)).toBe(torque);
    expect(raise(ratio, 2).kind).toBe('ratio');
    expect(raise(count, 2).kind).toBe('count');
    expect(raise(count, -1).kind).toBe('ratio');
    expect(raise(count, 0.5).kind).toBe('ratio');
    expect(raise(named('Area'), 0.5).dimension).toBe(named('Length').dimension);
  });

  it('let the formulas of the decisions through', () => {
    const force = named('Force');
    const angle = named('Angle');
    expect(fits(combine('*', force, named('Length')), torque)).toBe(true);
    expect(fits(combine('*', force, named('Length')), energy)).toBe(true);
    // mass × radius × (speed / 1 rad)^2 is a force
    const speed = combine('/', named('RotationalSpeed'), angle);
    const inertia = combine('*', combine('*', named('Mass'), named('Length')), raise(speed, 2));
    expect(fits(inertia, force)).toBe(true);
    expect(fits(combine('*', torque, speed), named('Power'))).toBe(true);
    expect(fits(combine('*', torque, named('RotationalSpeed')), named('Power'))).toBe(false);
    expect(fits(combine('/', torque, named('Volume')), named('Pressure'))).toBe(true);
  });

  it('add the same both ways, and what adds to a value compares with it unless a point is in it', () => {
    const measures = Object.values(all);
    fc.assert(
      fc.property(fc.constantFrom(...measures), fc.constantFrom(...measures), (a, b) => {
        expect(add(a, b)).toEqual(add(b, a));
        expect(canCompare(a, b)).toBe(canCompare(b, a));
        if (a.kind !== 'point' && b.kind !== 'point') expect(canAdd(a, b)).toBe(canCompare(a, b));
        if (a.dimension !== b.dimension) expect([canAdd(a, b), fits(a, b)]).toEqual([false, false]);
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});

describe('temperatures', () => {
  it.each([
    [point, '-', point, 'difference'],
    [point, '+', difference, 'point'],
    [point, '-', difference, 'point'],
    [difference, '+', point, 'point'],
    [difference, '+', difference, 'difference'],
    [difference, '-', difference, 'difference'],
    [point, '+', kelvin, 'point'],
    [point, '-', kelvin, null],
    [kelvin, '-', point, 'difference'],
  ] as const)('%o %s %o has the kind %s', (a, op, b, kind) => {
    expect(op === '+' ? add(a, b) : subtract(a, b)).toEqual({ dimension: a.dimension, kind });
  });

  it('refuse point + point and difference - point', () => {
    expect(add(point, point)).toBeNull();
    expect(subtract(difference, point)).toBeNull();
  });

  it('take a figure in kelvins as absolute where a Temperature is due, and nothing else', () => {
    expect(fits(difference, point, true)).toBe(true);
    expect(fits(difference, point)).toBe(false);
    expect(fits(point, difference, true)).toBe(false);
    expect(fits(named('Length'), point, true)).toBe(false);
    expect(fits(count, ratio, true)).toBe(true);
    expect(fits(ratio, count, true)).toBe(false);
  });

  it('leave no point in a product', () => {
    expect(combine('*', point, ratio).kind).toBeNull();
    expect(combine('*', ratio, point).kind).toBeNull();
  });
});

describe('money', () => {
  it('is any one currency, and two do not add', () => {
    expect(fits(eur, named('Money'))).toBe(true);
    expect(fits(named('Money'), eur)).toBe(false);
    expect(fits(eur, gbp)).toBe(false);
    expect(canAdd(eur, gbp)).toBe(false);
    expect(canAdd(eur, eur)).toBe(true);
    expect(add(eur, named('Money'))).toEqual(eur);
    expect(add(named('Money'), eur)).toEqual(eur);
    expect(fits(combine('*', eur, eur), named('Money'))).toBe(false);
    expect(fits(combine('*', count, eur), named('Money'))).toBe(true);
  });
});

describe('names', () => {
  it('are those of the design, each its own', () => {
    for (const [name, measure] of namedMeasures) expect(nameOf(measure)).toBe(name);
    expect([...namedMeasures.keys()].join(' ')).toBe(
      'Length Area Volume Angle Mass Force Pressure Torque Energy Power Speed RotationalSpeed Acceleration Frequency ' +
        'SpringRate Density Viscosity FlowRate Temperature TemperatureDifference Expansion Unbalance Ratio Count Money',
    );
  });

  it('fall back on both names, or on the dimension in words', () => {
    expect(nameOf(newtonMetre)).toBe('Torque or Energy');
    expect(nameOf(plainNumber)).toBe('plain number');
    expect(nameOf({ dimension: dimension({ length: 2, time: -1 }), kind: null })).toBe('length² / time');
    const more = new Map([['KinematicViscosity', { dimension: dimension({ length: 2, time: -1 }), kind: null }]]);
    expect(nameOf({ dimension: dimension({ length: 2, time: -1 }), kind: null }, more)).toBe('KinematicViscosity');
    expect(nameOf({ dimension: none, kind: 'count' })).toBe('Count');
  });
});
