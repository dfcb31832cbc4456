import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derived, readPieces } from '../../../language/src/semantics/evaluate/curves/pieces.ts';
import type { Pieces } from '../../../language/src/semantics/evaluate/curves/pieces.ts';
import { rootsInUnit } from '../../../language/src/semantics/evaluate/curves/polynomial.ts';
import { quintic } from '../../../language/src/semantics/evaluate/curves/quintic.ts';
import { steffen } from '../../../language/src/semantics/evaluate/curves/steffen.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import { axis, call, curve, n, onCurve, run, slot, valued } from './build.ts';

interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
}
const gaps = (least: number) =>
  fc.array(fc.double({ min: 0.01, max: 5, noNaN: true }), { minLength: least, maxLength: 14 });
function tables(steps: (count: number) => fc.Arbitrary<number[]>): fc.Arbitrary<Points> {
  return gaps(2).chain((widths) =>
    steps(widths.length).map((rises) => {
      const x = new Float64Array(widths.length + 1);
      const y = new Float64Array(widths.length + 1);
      widths.forEach((width, at) => {
        x[at + 1] = x[at]! + width;
        y[at + 1] = y[at]! + rises[at]!;
      });
      return { x, y };
    }),
  );
}
const many = (min: number, max: number) => (count: number) =>
  fc.array(fc.oneof({ weight: 5, arbitrary: fc.double({ min, max, noNaN: true }) }, fc.constant(0)), {
    minLength: count,
    maxLength: count,
  });
const monotone = tables(many(0, 3));
const upAndDown = tables(many(-3, 3));

/** CM-08: no slope of the wrong sign, nothing beyond a piece's own ends. */
function expectOrder({ x, y }: Points, pieces: Pieces): void {
  const slope = derived(pieces);
  const height = Math.max(...y) - Math.min(...y);
  for (let at = 0; at + 1 < x.length; at++) {
    const way = Math.sign(y[at + 1]! - y[at]!);
    const [low, high] = [Math.min(y[at]!, y[at + 1]!), Math.max(y[at]!, y[at + 1]!)];
    const steepest = Math.abs((y[at + 1]! - y[at]!) / (x[at + 1]! - x[at]!));
    for (let step = 0; step < 50; step++) {
      const here = x[at]! + ((x[at + 1]! - x[at]!) * step) / 50;
      const value = readPieces(pieces, here);
      expect(value).toBeGreaterThanOrEqual(low - 1e-13 * (height + 1));
      expect(value).toBeLessThanOrEqual(high + 1e-13 * (height + 1));
      expect(readPieces(slope, here) * way).toBeGreaterThanOrEqual(-1e-12 * (steepest + 1));
    }
  }
}

/** Value, slope (and curvature) from both sides of every inner point. */
function expectSmooth({ x, y }: Points, pieces: Pieces, orders: number): void {
  let here = pieces;
  for (let order = 0; order <= orders; order++) {
    const { degree, coefficients, breaks } = here;
    for (let at = 1; at + 1 < x.length; at++) {
      const left = coefficients.subarray((at - 1) * (degree + 1), at * (degree + 1)).reduce((sum, one) => sum + one, 0);
      const right = coefficients[at * (degree + 1)]!;
      const scale = coefficients
        .subarray((at - 1) * (degree + 1), (at + 1) * (degree + 1))
        .reduce((most, one) => Math.max(most, Math.abs(one)), 1);
      expect(Math.abs(left - right)).toBeLessThanOrEqual(1e-12 * scale);
      if (order === 0) expect(readPieces(here, breaks[at]!)).toBe(y[at]);
    }
    here = derived(here);
  }
}

describe('the C2 quintic (CM-08)', () => {
  it('keeps its order and its curvature on 300 tables that only rise', () => {
    fc.assert(
      fc.property(monotone, (points) => {
        const pieces = quintic(points.x, points.y);
        expectOrder(points, pieces);
        expectSmooth(points, pieces, 2);
      }),
      { seed: 300, numRuns: 300 },
    );
  });

  it('and on 200 that rise and fall', () => {
    fc.assert(
      fc.property(upAndDown, (points) => {
        const pieces = quintic(points.x, points.y);
        expectOrder(points, pieces);
        expectSmooth(points, pieces, 2);
      }),
      { seed: 200, numRuns: 200 },
    );
  });

  it('is level at both ends, and starts without curvature where the figure is 0', () => {
    const x = Float64Array.of(0, 1, 2, 4);
    const pieces = quintic(x, Float64Array.of(0, 0.2, 0.9, 1));
    const slope = derived(pieces);
    expect(readPieces(slope, 0)).toBe(0);
    expect(readPieces(slope, 4)).toBeCloseTo(0, 14);
    expect(readPieces(derived(slope), 0)).toBe(0);
    expect(readPieces(derived(slope), 4)).toBeLessThan(0);
  });
});

describe('the C1 cubic', () => {
  it('keeps its order and its slope on any table', () => {
    fc.assert(
      fc.property(upAndDown, (points) => {
        const pieces = steffen(points.x, points.y);
        expectOrder(points, pieces);
        expectSmooth(points, pieces, 1);
      }),
      { seed: 21, numRuns: 300 },
    );
  });

  it('is a straight line and a parabola where the points are', () => {
    const x = Float64Array.of(0, 1, 3, 4);
    const line = steffen(
      x,
      x.map((at) => 2 * at + 1),
    );
    expect(readPieces(line, 2.2)).toBeCloseTo(5.4, 14);
    const parabola = steffen(
      x,
      x.map((at) => at * at),
    );
    expect(readPieces(parabola, 2)).toBeCloseTo(4, 14);
  });
});

describe('roots', () => {
  it('finds every root of a product of factors', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 99 }), { minLength: 1, maxLength: 5 }), (hundredths) => {
        const roots = hundredths.map((root) => root / 100).sort((a, b) => a - b);
        const p = roots.reduce<number[]>(
          (own, root) => [...own.map((one, at) => (at === 0 ? 0 : own[at - 1]!) - root * one), own[own.length - 1]!],
          [1],
        );
        const found = rootsInUnit(p);
        expect(found).toHaveLength(roots.length);
        found.forEach((root, at) => expect(root).toBeCloseTo(roots[at]!, 7));
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

const lift: readonly (readonly [number, number])[] = [
  [0, 0],
  [10, 1],
  [20, 4],
  [30, 6],
  [40, 3],
  [50, 0],
];

describe('curves in expressions', () => {
  const read = (of: Expr, x: number) => run(call(of, n(x)));

  it('pass through their points and are missing outside', () => {
    for (const [x, y] of lift) expect(read(curve(lift), x).cells).toEqual([y]);
    const { cells, reasons } = read(curve(lift), 51);
    expect(cells).toEqual(['_']);
    expect(reasons).toEqual(['the curve is read outside its data']);
  });

  it('hold at their ends when clamped; the slope there is 0', () => {
    const clamped = onCurve(
      'clamped',
      curve([
        [0, 1],
        [1, 3],
      ]),
    );
    expect(read(clamped, 9).cells).toEqual([3]);
    expect(read(clamped, -9).cells).toEqual([1]);
    expect(read(onCurve('slope', clamped, [n(1)]), 9).cells).toEqual([0]);
    expect(read(onCurve('slope', clamped, [n(1)]), 0.5).cells).toEqual([2]);
  });

  it('read straight, or over the logarithm of the key', () => {
    expect(read(onCurve('through', curve(lift), [], 'linear'), 25).cells).toEqual([5]);
    const decades = curve([
      [1, 0],
      [10, 1],
      [100, 2],
      [1000, 3],
    ]);
    expect(read(onCurve('through', decades, [], 'log'), 50).cells[0]).toBeCloseTo(Math.log10(50), 14);
    const slope = onCurve('slope', onCurve('through', decades, [], 'log'), [n(1)]);
    expect(read(slope, 50).cells[0]).toBeCloseTo(1 / (50 * Math.LN10), 14);
    expect(run(call(onCurve('through', curve(lift), [], 'log'), n(5))).cells).toEqual(['_']);
  });

  it('give slopes that agree with differences', () => {
    for (const kind of [null, 'monotone', 'linear'] as const) {
      const of = kind === null ? curve(lift) : onCurve('through', curve(lift), [], kind);
      for (const x of [3, 14, 26, 41]) {
        const [before, after] = [x - 1e-4, x + 1e-4].map((at) => read(of, at).cells[0] as number);
        expect(read(onCurve('slope', of), x).cells[0]).toBeCloseTo((after! - before!) / 2e-4, 6);
      }
    }
    const bend = onCurve('slope', onCurve('through', curve(lift), [], 'monotone'), [n(2)]);
    const slope = onCurve('slope', onCurve('through', curve(lift), [], 'monotone'), [n(1)]);
    const [before, after] = [14 - 1e-4, 14 + 1e-4].map((at) => read(slope, at).cells[0] as number);
    expect(read(bend, 14).cells[0]).toBeCloseTo((after! - before!) / 2e-4, 6);
  });

  it('find where they rise first and fall last, to 1e-12', () => {
    const twice = curve([...lift, [60, 5], [70, 0]]);
    for (const kind of ['linear', 'monotone']) {
      const of = onCurve('through', twice, [], kind);
      const up = run(onCurve('rises-at', of, [n(2)])).cells[0] as number;
      const down = run(onCurve('falls-at', of, [n(2)])).cells[0] as number;
      expect(up).toBeGreaterThan(10);
      expect(up).toBeLessThan(20);
      expect(down).toBeGreaterThan(60);
      expect(read(of, up).cells[0]).toBeCloseTo(2, 12);
      expect(read(of, down).cells[0]).toBeCloseTo(2, 12);
    }
    expect(run(onCurve('rises-at', onCurve('through', curve(lift), [], 'linear'), [n(2)])).cells[0]).toBeCloseTo(
      10 + 10 / 3,
      12,
    );
    expect(run(onCurve('rises-at', curve(lift), [n(0)])).cells).toEqual([0]);
    expect(run(onCurve('falls-at', curve(lift), [n(0)])).cells).toEqual([50]);
    expect(run(onCurve('rises-at', curve(lift), [n(7)])).cells).toEqual(['_']);
  });

  it('wait out a level stretch before they rise', () => {
    const flat = onCurve(
      'through',
      curve([
        [0, 0],
        [1, 0],
        [2, 0],
        [3, 1],
        [4, 0],
        [5, 0],
      ]),
      [],
      'linear',
    );
    expect(run(onCurve('rises-at', flat, [n(0)])).cells).toEqual([2]);
    expect(run(onCurve('falls-at', flat, [n(0)])).cells).toEqual([4]);
  });

  it('know their greatest and least, of slopes too', () => {
    expect(run(onCurve('greatest', curve(lift))).cells).toEqual([6]);
    const slope = onCurve('slope', onCurve('through', curve(lift), [], 'monotone'), [n(1)]);
    const greatest = run(onCurve('greatest', slope)).cells[0] as number;
    const sampled = Math.max(...Array.from({ length: 5001 }, (_, at) => read(slope, at / 100).cells[0] as number));
    expect(greatest).toBeGreaterThanOrEqual(sampled);
    expect(greatest).toBeCloseTo(sampled, 5);
  });

  it('of two arguments are read across and then along', () => {
    const plane: Expr = {
      ...(curve([]) as Expr & { op: 'curve' }),
      keys: [
        [n(0), n(1), n(2)],
        [n(0), n(10)],
      ],
      values: [n(0), n(10), n(1), n(11), n(2), n(12)],
    };
    expect(run(call(plane, n(1.5), n(4))).cells[0]).toBeCloseTo(5.5, 13);
    expect(run(call(plane, n(1.5), n(11))).cells).toEqual(['_']);
    expect(run(call(onCurve('clamped', plane), n(3), n(11))).cells).toEqual([12]);
  });

  it('are made from cells along an axis, one for each of the others', () => {
    const point = axis(0, 'point', 3);
    const side = axis(1, 'side', 2);
    const world = {
      axes: [point, side],
      slots: [valued([point], [0, 1, 2]), valued([side, point], [0, 2, 4, 0, 1, '_']), valued([point], [0, 2, 1])],
    };
    const over = (keys: number, values: number): Expr => ({
      op: 'curve-over',
      keys: slot(keys),
      values: slot(values),
      axis: 0,
      type: curve([]).type,
      at: null,
    });
    expect(run(call(over(0, 1), n(0.5)), world).cells).toEqual([1, '_']);
    const falling = run(call(over(2, 0), n(0.5)), world);
    expect(falling.cells).toEqual(['_']);
    expect(falling.reasons).toEqual(['the keys of the curve do not rise']);
  });

  it('lay out their keys and values', () => {
    const laid = (fn: 'keys' | 'values'): Expr => ({
      ...(onCurve(fn, curve(lift)) as Expr & { op: 'curve-apply' }),
      axis: 9,
    });
    expect(run(laid('keys')).cells).toEqual(lift.map(([x]) => x));
    expect(run(laid('values')).cells).toEqual(lift.map(([, y]) => y));
  });
});
