import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastSpread, leastTotal } from '../../../language/src/semantics/evaluate/assignment.ts';
import { nearest } from '../../../language/src/semantics/evaluate/nearest-sum.ts';
import { leastPairs } from '../../../language/src/semantics/evaluate/pairs-of-stock.ts';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Assign, Expr } from '../../../language/src/semantics/ir.ts';
import { axis, flag, n, run, slot, valued } from './build.ts';

interface Ways {
  readonly total: number;
  readonly spread: number;
}
/** Every way of giving each row a column, tried. */
function bruteForce(
  rows: number,
  columns: number,
  cost: (row: number, column: number) => number,
  draw: (left: number[], column: number) => boolean,
  stock: readonly number[],
): Ways {
  let [total, spread] = [Infinity, Infinity];
  const from = (row: number, left: readonly number[], costs: readonly number[]): void => {
    if (row === rows) {
      total = Math.min(
        total,
        costs.reduce((a, b) => a + b, 0),
      );
      spread = Math.min(spread, Math.max(...costs) - Math.min(...costs));
      return;
    }
    for (let column = 0; column < columns; column++) {
      const after = [...left];
      if (cost(row, column) < Infinity && draw(after, column)) from(row + 1, after, [...costs, cost(row, column)]);
    }
  };
  from(0, stock, []);
  return { total, spread };
}
const one = (left: number[], column: number): boolean => left[column]!-- >= 1;
const costs = (count: number) =>
  fc.array(fc.oneof({ weight: 5, arbitrary: fc.integer({ min: 0, max: 20 }) }, fc.constant(Infinity)), {
    minLength: count,
    maxLength: count,
  });
const totalOf = (cost: Float64Array, columns: number, chosen: Int32Array): number =>
  chosen.reduce((sum, column, row) => sum + cost[row * columns + column]!, 0);

describe('the least total', () => {
  it('is that of every way tried, with and without stock, and draws no more than there is', () => {
    const arbitrary = fc.integer({ min: 1, max: 5 }).chain((rows) =>
      fc.integer({ min: 1, max: 6 }).chain((columns) =>
        fc.record({
          rows: fc.constant(rows),
          columns: fc.constant(columns),
          cost: costs(rows * columns),
          stock: fc.option(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: columns, maxLength: columns })),
        }),
      ),
    );
    fc.assert(
      fc.property(arbitrary, ({ rows, columns, cost, stock }) => {
        const table = Float64Array.from(cost);
        const have = stock ?? Array.from({ length: columns }, () => 1);
        const wanted = bruteForce(rows, columns, (row, column) => cost[row * columns + column]!, one, have);
        const found = leastTotal(table, rows, columns, stock);
        expect(found?.total ?? Infinity).toBe(wanted.total);
        const even = leastSpread(table, (within) => leastTotal(within, rows, columns, stock));
        if (even === null || even === 'too many') expect(wanted.spread).toBe(Infinity);
        else {
          const own = Array.from(even.columns, (column, row) => cost[row * columns + column]!);
          expect(Math.max(...own) - Math.min(...own)).toBe(wanted.spread);
        }
        if (found === null) return;
        expect(totalOf(table, columns, found.columns)).toBe(found.total);
        have.forEach((most, column) =>
          expect(found.columns.filter((chosen) => chosen === column).length).toBeLessThanOrEqual(most),
        );
      }),
      { seed: 23, numRuns: 400 },
    );
  });

  it('of pairs drawn from one stock is that of every way tried', () => {
    const arbitrary = fc.integer({ min: 1, max: 4 }).chain((rows) =>
      fc.record({
        rows: fc.constant(rows),
        cost: costs(rows * 9),
        stock: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 3, maxLength: 3 }),
      }),
    );
    const both = (left: number[], pair: number): boolean => one(left, Math.floor(pair / 3)) && one(left, pair % 3);
    fc.assert(
      fc.property(arbitrary, ({ rows, cost, stock }) => {
        const wanted = bruteForce(rows, 9, (row, pair) => cost[row * 9 + pair]!, both, stock);
        const found = leastPairs(Float64Array.from(cost), rows, [3, 3], {
          first: Float64Array.from(stock),
          second: Float64Array.from(stock),
          shared: true,
        });
        expect(found === null || found === 'too many' ? Infinity : found.total).toBe(wanted.total);
      }),
      { seed: 29, numRuns: 300 },
    );
  });

  it('of sixteen rows by two hundred columns is no worse than any exchange of two', () => {
    const [rows, columns] = [16, 200];
    const cost = Float64Array.from({ length: rows * columns }, (_, at) => ((at * 7919) % 1009) + ((at * 31) % 17));
    const found = leastTotal(cost, rows, columns, null)!;
    for (let a = 0; a < rows; a++) {
      for (let b = 0; b < a; b++) {
        const [ca, cb] = [found.columns[a]!, found.columns[b]!];
        expect(cost[a * columns + cb]! + cost[b * columns + ca]!).toBeGreaterThanOrEqual(
          cost[a * columns + ca]! + cost[b * columns + cb]!,
        );
      }
    }
  });
});

describe('assign', () => {
  const row = axis(0, 'row', 3);
  const part = axis(1, 'part', 3);
  const twin = axis(2, 'twin', 3);
  const axes = [row, part, twin];
  const assign = (more: Partial<Assign>): Expr => ({
    op: 'assign',
    cost: slot(0),
    row: 0,
    to: [1],
    result: 1,
    where: null,
    stock: null,
    aim: 'sum',
    type: slot(0).type,
    at: null,
    ...more,
  });
  const cost = valued([row, part], [4, 1, 3, 2, 0, 5, 3, 2, 2], Mark.measured);

  it('gives the place chosen for every row', () => {
    const found = run(assign({}), { axes, slots: [cost] });
    expect(found).toMatchObject({ axes: ['row'], cells: [1, 0, 2] });
    expect(found.marks).toEqual([1, 1, 1]);
  });

  it('keeps to where, and is missing with a reason where nothing serves', () => {
    const world = { axes, slots: [cost, valued([row, part], [1, 0, 1, 1, 1, 1, 1, 1, 0]), valued([row], [1, 0, 1])] };
    expect(run(assign({ where: slot(1, flag) }), world).cells).toEqual([2, 1, 0]);
    const none = run(assign({ where: slot(2, flag) }), world);
    expect(none.cells).toEqual(['_', '_', '_']);
    expect(none.reasons).toEqual(['no choice serves every row']);
  });

  it('lets a row that is not there go without, and is missing where a cost is', () => {
    const world = { axes, slots: [valued([row, part], [4, 1, 3, 'x', 'x', 'x', 3, 2, 2])] };
    expect(run(assign({}), world).cells).toEqual([1, 'x', 2]);
    expect(run(assign({}), { axes, slots: [valued([row, part], [4, 1, 3, 2, '_', 5, 3, 2, 2])] }).cells).toEqual([
      '_',
      '_',
      '_',
    ]);
  });

  it('draws both halves of a pair from one stock, each result being one half', () => {
    // cost: how far the two sizes (0, 1, 2) are from what the row wants (1, 1, 4)
    const wants = [1, 1, 4];
    const cells = wants.flatMap((want) => [0, 1, 2].flatMap((p) => [0, 1, 2].map((q) => Math.abs(p + q - want))));
    const world = { axes, slots: [valued([row, part, twin], cells), valued([part], [1, 3, 2])] };
    const stock = { of: slot(1), over: 1 };
    const first = run(assign({ to: [1, 2], stock }), world).cells as number[];
    const second = run(assign({ to: [1, 2], stock, result: 2 }), world).cells as number[];
    const used = [...first, ...second];
    expect([0, 1, 2].map((size) => used.filter((one) => one === size).length)).toEqual([1, 3, 2]);
    expect(first.reduce((sum, p, at) => sum + Math.abs(p + second[at]! - wants[at]!), 0)).toBe(1);
  });

  it('solves one table for every lane', () => {
    const lanes = axis(-1, 'lanes', 2);
    const world = { axes, slots: [valued([lanes, row, part], [4, 1, 3, 2, 0, 5, 3, 2, 2, 0, 9, 9, 9, 0, 9, 9, 9, 0])] };
    expect(run(assign({}), world)).toMatchObject({ axes: ['lanes', 'row'], cells: [1, 0, 2, 0, 1, 2] });
  });
});

describe('nearest sums', () => {
  it('are those of every way tried', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 0, max: 90 }),
        fc.integer({ min: 0, max: 4 }),
        (sizes, target, most) => {
          let best = Infinity;
          const from = (at: number, sum: number, left: number): void => {
            if (at === sizes.length) best = Math.min(best, Math.abs(sum - target));
            else for (let count = 0; count <= left; count++) from(at + 1, sum + count * sizes[at]!, left - count);
          };
          from(0, 0, most);
          const found = nearest(
            sizes,
            target,
            sizes.map(() => most),
            most,
          )!;
          expect(Math.abs(found.reduce((sum, count, at) => sum + count * sizes[at]!, 0) - target)).toBe(best);
          expect(found.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(most);
        },
      ),
      { seed: 31, numRuns: 200 },
    );
  });

  it('take the fewest pieces of equal ways, and lie along the sizes', () => {
    const size = axis(0, 'size', 3);
    const world = { axes: [size], slots: [valued([size], [0.015, 0.03, 0.06])] };
    const sums = (target: number, most: Expr): Expr => ({
      op: 'nearest-sum',
      sizes: slot(0),
      axis: 0,
      target: n(target),
      atMost: most,
      type: slot(0).type,
      at: null,
    });
    expect(run(sums(0.061, n(4)), world)).toMatchObject({ axes: ['size'], cells: [0, 0, 1] });
    expect(run(sums(0.105, n(3)), world).cells).toEqual([1, 1, 1]);
    const limited = { axes: [size], slots: [valued([size], [0.015, 0.03, 0.06]), valued([size], [4, 1, 0])] };
    expect(run(sums(0.061, slot(1)), limited).cells).toEqual([2, 1, 0]);
  });

  it('give up where there are too many ways', () => {
    const size = axis(0, 'size', 8);
    const world = { axes: [size], slots: [valued([size], [1, 2, 3, 4, 5, 6, 7, 8])] };
    const found = run(
      { op: 'nearest-sum', sizes: slot(0), axis: 0, target: n(500), atMost: n(40), type: slot(0).type, at: null },
      world,
    );
    expect(found.cells[0]).toBe('_');
    expect(found.reasons).toEqual(['there are more than 100000 ways to add these sizes up']);
  });
});
