import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smoothingWeights } from '../../../language/src/semantics/evaluate/smoothing.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import { along, axis, coordinate, n, product, run, slot, sum, valued } from './build.ts';

const row = axis(0, 'row', 5);
const other = axis(1, 'other', 5);
const axes = [row, other];

describe('neighbours', () => {
  it('next and previous go round the end', () => {
    const world = { axes, slots: [valued([row], [1, 2, '_', 4, 'x'])] };
    expect(run(along('next', slot(0), 0), world).cells).toEqual([2, '_', 4, 'x', 1]);
    expect(run(along('previous', slot(0), 0), world).cells).toEqual(['x', 1, 2, '_', 4]);
  });

  it('running is the sum of the cells before', () => {
    const world = { axes, slots: [valued([row], [1, 2, 'x', 4, 5]), valued([row], [1, '_', 3, 4, 5])] };
    expect(run(along('running', slot(0), 0), world).cells).toEqual([0, 1, 'x', 3, 7]);
    expect(run(along('running', slot(1), 0), world).cells).toEqual([0, 1, '_', '_', '_']);
  });

  it('rank is stable and counts from 0', () => {
    const world = {
      axes,
      slots: [valued([row], [3, 1, 3, 2, 1]), valued([row], [3, 'x', 1, 2, 1]), valued([row], [3, '_', 1, 2, 1])],
    };
    expect(run(along('rank', slot(0), 0), world).cells).toEqual([3, 0, 4, 2, 1]);
    expect(run(along('rank', slot(1), 0), world).cells).toEqual([3, 'x', 0, 2, 1]);
    expect(run(along('rank', slot(2), 0), world).cells).toEqual(['_', '_', '_', '_', '_']);
  });

  it('inverse turns a pairing round, each place once', () => {
    const inverse: Expr = { op: 'inverse', of: slot(0), from: 0, to: 1, type: slot(0).type, at: null };
    const turned = (cells: Parameters<typeof valued>[1]) => run(inverse, { axes, slots: [valued([row], cells)] });
    expect(turned([2, 0, 1, 4, 3])).toMatchObject({ axes: ['other'], cells: [1, 2, 0, 4, 3] });
    const twice = turned([2, 2, 1, 4, 3]);
    expect(twice.cells).toEqual(['_', 2, '_', 4, 3]);
    expect(twice.reasons).toEqual(['not every other is named just once']);
    fc.assert(
      fc.property(fc.shuffledSubarray([0, 1, 2, 3, 4], { minLength: 5 }), (order) => {
        expect(turned(order).cells).toEqual(order.map((_, place) => order.indexOf(place)));
      }),
      { seed: 3 },
    );
  });
});

describe('slope', () => {
  const uneven = { ...axis(2, 'uneven', 5), coordinates: Float64Array.of(0, 1, 3, 4, 7) };
  it('is exact for a parabola, at uneven places and at the ends', () => {
    const parabola = sum(product(n(3), coordinate(2), coordinate(2)), product(n(-2), coordinate(2)));
    const { cells } = run(along('slope', parabola, 2), { axes: [uneven] });
    [0, 1, 3, 4, 7].forEach((x, at) => expect(cells[at]).toBeCloseTo(6 * x - 2, 12));
  });
});

describe('smoothing', () => {
  const long = axis(3, 'long', 21, -10, 1);
  const x = coordinate(3);
  const power = (order: number): Expr => product(...Array.from({ length: order }, () => x));
  const middle = (of: Expr, half: number, order: number): number =>
    run(along('smoothed', of, 3, n(2 * half + 1), n(order)), { axes: [long] }).cells[10] as number;

  it('leaves a quadratic as it is, with its slope and curvature, to the very ends', () => {
    const quadratic = sum(product(n(3), power(2)), product(n(-2), x), n(7));
    const wanted = [(at: number) => 3 * at * at - 2 * at + 7, (at: number) => 6 * at - 2, () => 6];
    wanted.forEach((f, order) => {
      const { cells } = run(along('smoothed', quadratic, 3, n(7), n(order)), { axes: [long] });
      cells.forEach((found, at) => expect(found).toBeCloseTo(f(at - 10), 9));
    });
  });

  it('is the classic set of weights over five points (Savitzky and Golay 1964, table)', () => {
    const weights = smoothingWeights(Float64Array.of(-2, -1, 0, 1, 2), 0);
    [-3, 12, 17, 12, -3].forEach((wanted, at) => expect(weights[at]! * 35).toBeCloseTo(wanted, 12));
    const bend = smoothingWeights(Float64Array.of(-2, -1, 0, 1, 2), 2);
    [2, -1, -2, -1, 2].forEach((wanted, at) => expect(bend[at]! * 7).toBeCloseTo(wanted, 12));
  });

  it('has the bias of CM-10 on a fourth power: fourth derivative × step² × (6m² + 6m − 5) / 84', () => {
    for (const m of [1, 2, 3, 5]) expect(middle(power(4), m, 2)).toBeCloseTo((24 * (6 * m * m + 6 * m - 5)) / 84, 8);
    expect(middle(power(4), 1, 2) / 24).toBeCloseTo(1 / 12, 12);
    expect(middle(power(4), 2, 2) / 24).toBeCloseTo(31 / 84, 12);
  });

  it('passes noise on as CM-06 and §8.6 say', () => {
    for (const m of [1, 2, 5]) {
      const step = 2;
      const weights = smoothingWeights(
        Float64Array.from({ length: 2 * m + 1 }, (_, at) => (at - m) * step),
        2,
      );
      const passed = Math.hypot(...weights);
      const wanted = 2 / (step * step * Math.sqrt((m * (m + 1) * (2 * m + 1) * (4 * m * m + 4 * m - 3)) / 45));
      expect(passed / wanted).toBeCloseTo(1, 12);
    }
    expect(Math.hypot(...smoothingWeights(Float64Array.of(-2, 0, 2), 2))).toBeCloseTo(Math.sqrt(6) / 4, 14);
  });
});
