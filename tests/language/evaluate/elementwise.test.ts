import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Axis } from '../../../language/src/semantics/evaluate/value.ts';
import type { Binary } from '../../../language/src/semantics/ir.ts';
import { apply, axis, bin, flag, gap, iff, limits, n, run, slot, sum, toleranced, valued } from './build.ts';
import type { Cell } from './build.ts';

const row = axis(0, 'row', 3);
const column = axis(1, 'column', 2);
const sheet = axis(2, 'sheet', 2);
const axes = [row, column, sheet];

describe('broadcasting', () => {
  it('combines shared axes place by place and lays the others across', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3]), valued([column, row], [10, 20, 30, 40, 50, 60])] };
    const { axes: names, cells } = run(bin(slot(0), '+', slot(1)), world);
    expect(names).toEqual(['row', 'column']);
    expect(cells).toEqual([11, 41, 22, 52, 33, 63]);
  });

  it('agrees with nested loops over any two sets of axes', () => {
    const some = fc.subarray([row, column, sheet]).chain((chosen) =>
      fc.shuffledSubarray(chosen, { minLength: chosen.length }).chain((own) => {
        const cells = own.reduce((all, { size }) => all * size, 1);
        const cell: fc.Arbitrary<Cell> = fc.oneof(
          { weight: 6, arbitrary: fc.integer({ min: -3, max: 3 }) },
          fc.constantFrom<Cell>('_', 'x'),
        );
        return fc.record({ own: fc.constant(own), cells: fc.array(cell, { minLength: cells, maxLength: cells }) });
      }),
    );
    const at = (own: readonly Axis[], cells: readonly Cell[], places: ReadonlyMap<Axis, number>): Cell =>
      cells[own.reduce((cell, one) => cell * one.size + places.get(one)!, 0)]!;
    const combine = (operator: Binary, a: Cell, b: Cell): Cell => {
      if (a === 'x' || b === 'x') return 'x';
      if (a === '_' || b === '_') return '_';
      if (operator === '/') return b === 0 ? '_' : a / b;
      return operator === '+' ? a + b : operator === '-' ? a - b : operator === '*' ? a * b : a <= b ? 1 : 0;
    };
    fc.assert(
      fc.property(some, some, fc.constantFrom<Binary>('+', '-', '*', '/', '<='), (left, right, operator) => {
        const world = { axes, slots: [valued(left.own, left.cells), valued(right.own, right.cells)] };
        const result = run(bin(slot(0), operator, slot(1)), world);
        const own = result.axes.map((name) => axes.find((one) => one.name === name)!);
        expect(new Set(own)).toEqual(new Set([...left.own, ...right.own]));
        result.cells.forEach((found, cell) => {
          const places = new Map<Axis, number>();
          let rest = cell;
          for (const one of own.toReversed()) {
            places.set(one, rest % one.size);
            rest = Math.floor(rest / one.size);
          }
          const wanted = combine(operator, at(left.own, left.cells, places), at(right.own, right.cells, places));
          expect(found === 0 ? 0 : found).toBe(wanted === 0 ? 0 : wanted);
        });
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('never writes over what others hold', () => {
    const held = valued([row], [1, 2, 3]);
    const world = { axes, slots: [held] };
    const twice = bin(bin(slot(0), '*', n(2)), '+', bin(slot(0), '-', n(1)));
    expect(run(twice, world).cells).toEqual([2, 5, 8]);
    expect([...held.tensor.data]).toEqual([1, 2, 3]);
  });
});

describe('marks', () => {
  it('takes the worse mark of both sides', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3], Mark.measured), valued([], [1], Mark.specified)] };
    expect(run(sum(slot(0), slot(1)), world).marks).toEqual([4, 4, 4]);
    expect(run(sum(slot(0), n(1)), world).marks).toEqual([1, 1, 1]);
  });

  it('lets absent go before missing', () => {
    const world = { axes, slots: [valued([row], [1, '_', 'x']), valued([row], ['x', 'x', '_'])] };
    expect(run(sum(slot(0), slot(1)), world).cells).toEqual(['x', 'x', 'x']);
    expect(run(sum(slot(0), gap), world).cells).toEqual(['_', '_', 'x']);
  });
});

describe('what has no figure', () => {
  it.each([
    ['a division by zero', bin(n(1), '/', n(0))],
    ['the root of a negative figure', apply('sqrt', [n(-1)])],
    ['the logarithm of a figure that is not above zero', apply('log', [n(0)])],
    ['no angle has a sine beyond 1', apply('asin', [n(1.1)])],
    ['a power that has no real figure', bin(n(-8), '^', n(1 / 3))],
    ['a period that is not above zero', apply('wrap', [n(1), n(0)])],
    ['a figure too great to reckon with', bin(n(1e300), '*', n(1e300))],
  ])('%s is missing, with the reason', (reason, expr) => {
    const { cells, reasons } = run(expr);
    expect(cells).toEqual(['_']);
    expect(reasons).toEqual([reason]);
  });

  it('says nothing of a root of what is missing already', () => {
    expect(run(apply('sqrt', [gap])).reasons).toEqual([]);
  });
});

describe('conditions', () => {
  const three: readonly Cell[] = [1, 0, '_', 'x'];
  const four = axis(3, 'four', 4);
  const world = { axes: [...axes, four], slots: [valued([four], three)] };

  it.each([
    ['and', 0, [0, 0, 0, 0]],
    ['and', 1, [1, 0, '_', 'x']],
    ['or', 1, [1, 1, 1, 1]],
    ['or', 0, [1, 0, '_', 'x']],
  ] as const)('%s %d answers as soon as one side decides', (operator, other, wanted) => {
    expect(run(bin(slot(0, flag), operator, n(other, flag)), world).cells).toEqual(wanted);
    const { cells } = run(bin(n(other, flag), operator, slot(0, flag)), world);
    expect(cells.length === 1 ? wanted.map(() => cells[0]) : cells).toEqual(wanted);
  });

  it('takes the figure of the branch taken, cell by cell', () => {
    const cases = {
      axes: [...axes, four],
      slots: [valued([four], three, Mark.measured), valued([four], ['_', 5, 6, 7]), valued([], [9])],
    };
    expect(run(iff(slot(0, flag), slot(2), slot(1)), cases).cells).toEqual([9, 5, '_', 'x']);
    expect(run(iff(slot(0, flag), slot(1), slot(2)), cases).cells).toEqual(['_', 9, '_', 'x']);
  });

  it('leaves the other branch alone, and its reasons', () => {
    const root = apply('sqrt', [n(-1)]);
    expect(run(iff(n(1, flag), n(4), root)).reasons).toEqual([]);
    const mixed = { axes, slots: [valued([row], [4, -1, 9])] };
    const guarded = iff(bin(slot(0), '>', n(0)), apply('sqrt', [slot(0)]), n(0));
    const { cells, reasons } = run(guarded, mixed);
    expect(cells).toEqual([2, 0, 3]);
    expect(reasons).toEqual([]);
  });

  it('answers what is not applicable with otherwise, and nothing else', () => {
    const cases = {
      axes: [...axes, four],
      slots: [valued([four], [1, '_', 'x', 'x']), valued([four], [9, 9, 9, '_'])],
    };
    expect(run(bin(slot(0), 'otherwise', slot(1)), cases).cells).toEqual([1, '_', 9, '_']);
  });

  it('allows 1e-9 of a limit, and is exact on places', () => {
    expect(run(bin(n(1 + 5e-10), '<=', n(1))).cells).toEqual([1]);
    expect(run(bin(n(1 + 5e-10), '>', n(1))).cells).toEqual([0]);
    expect(run(bin(n(1 + 5e-9), '<=', n(1))).cells).toEqual([0]);
    expect(run(bin(n(0.1 + 0.2), '==', n(0.3))).cells).toEqual([1]);
    expect(run(bin(n(1 + 5e-10, { is: 'choice', names: [] }), '==', n(1, { is: 'choice', names: [] }))).cells).toEqual([
      0,
    ]);
  });

  it('judges limits with open ends', () => {
    const within = (x: number, low: number | null, high: number | null): Cell =>
      run({
        op: 'within',
        value: n(x),
        limits: limits(low === null ? null : n(low), high === null ? null : n(high)),
        type: { value: flag, axes: [] },
        at: null,
      }).cells[0]!;
    expect([within(2, 1, 3), within(4, 1, 3), within(4, 1, null), within(-9, null, 3), within(3 + 1e-9, 1, 3)]).toEqual(
      [1, 0, 1, 1, 1],
    );
  });
});

describe('limits and bands', () => {
  it('shift and scale; a negative factor swaps the ends', () => {
    const ends = (expr: Parameters<typeof run>[0]): number[] => {
      const { value } = run(expr);
      return value.is === 'limits' ? [value.low.data[0]!, value.high.data[0]!] : [];
    };
    const l = limits(n(1), n(3));
    expect(ends(bin(l, '+', n(2)))).toEqual([3, 5]);
    expect(ends(bin(l, '*', n(-2)))).toEqual([-6, -2]);
    expect(ends(bin(l, '/', n(2)))).toEqual([0.5, 1.5]);
    expect(ends(bin(n(10), '-', l))).toEqual([7, 9]);
    expect(ends(bin(limits(n(1), null), '*', n(-1)))).toEqual([-Infinity, -1]);
    expect(ends(bin(limits(null, n(1)), '-', n(1)))).toEqual([-Infinity, 0]);
  });

  it('keeps a band through if, drops it in arithmetic', () => {
    const banded = run(iff(n(1, flag), toleranced(2, 1, 4), n(0))).value;
    expect(banded.is === 'numbers' && [...banded.band!.low.data, ...banded.band!.high.data]).toEqual([1, 4]);
    const doubled = run(bin(toleranced(2, 1, 4), '*', n(2))).value;
    expect(doubled.is === 'numbers' && doubled.band).toBeNull();
  });

  it('reads the ends; an open end is not there', () => {
    expect(run(apply('low', [toleranced(2, 1, 4)])).cells).toEqual([1]);
    expect(run(apply('middle', [toleranced(2, 1, 4)])).cells).toEqual([2.5]);
    expect(run(apply('high', [n(7)])).cells).toEqual([7]);
    expect(run(apply('high', [limits(n(1), null)])).cells).toEqual(['x']);
    expect(run(apply('middle', [limits(n(1), n(2))])).cells).toEqual([1.5]);
  });
});

describe('steps and turns', () => {
  it.each([
    ['nearest', 0.26, 0.05, 0.25],
    ['up', 0.251, 0.05, 0.3],
    ['up', 0.15000000000001, 0.05, 0.15],
    ['down', 0.299, 0.05, 0.25],
    ['down', 0.29999999999999, 0.05, 0.3],
    ['nearest', -0.26, 0.05, -0.25],
  ])('to-step %s of %d by %d', (way, x, step, wanted) => {
    expect(run(apply('to-step', [n(x), n(step)], way)).cells[0]).toBeCloseTo(wanted, 12);
  });

  it.each([
    [725, 720, 5],
    [-5, 720, 715],
    [720 - 1e-8, 720, 0],
    [1440, 720, 0],
  ])('wrap(%d, %d)', (x, period, wanted) => {
    expect(run(apply('wrap', [n(x), n(period)])).cells[0]).toBeCloseTo(wanted, 9);
  });

  it('wraps round zero into the half-open period', () => {
    expect(run(apply('wrap-centred', [n(360), n(720)])).cells).toEqual([-360]);
    expect(run(apply('wrap-centred', [n(-361), n(720)])).cells).toEqual([359]);
  });
});
