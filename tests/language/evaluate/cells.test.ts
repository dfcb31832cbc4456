import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Axis } from '../../../language/src/semantics/evaluate/value.ts';
import type { AxisKey, Expr } from '../../../language/src/semantics/ir.ts';
import {
  apply,
  axis,
  bin,
  bind,
  coordinate,
  gap,
  gather,
  labelled,
  limits,
  list,
  local,
  n,
  place,
  run,
  slot,
  sum,
  toleranced,
  valued,
} from './build.ts';

const row = axis(0, 'row', 3);
const column = axis(1, 'column', 2);
const end = labelled(2, 'end', ['front', 'rear']);
const depth = axis(3, 'depth', 4, 0.1, 0.1);
const axes = [row, column, end, depth];

describe('lists', () => {
  it('lay entries in order, nested ones along further axes', () => {
    expect(run(list(0, [n(5), gap, n(7)]), { axes })).toMatchObject({ axes: ['row'], cells: [5, '_', 7] });
    const nested = list(0, [list(1, [n(1), n(2)]), n(3), list(1, [n(4), gap])]);
    expect(run(nested, { axes })).toMatchObject({ axes: ['row', 'column'], cells: [1, 2, 3, 3, 4, '_'] });
  });

  it('find places by label and by coordinate, within 1e-9', () => {
    expect(run(list(2, [n(1), n(2)], null, ['rear', 'front']), { axes }).cells).toEqual([2, 1]);
    expect(run(list(3, [n(1), n(2)], n(0), [0.1 + 0.2, 0.1]), { axes }).cells).toEqual([2, 0, 1, 0]);
  });

  it.each<[string, Expr, string, Record<string, string>, readonly unknown[]]>([
    ['too short', list(0, [n(1), n(2)]), 'list.too-short', { due: '3', here: '2', axis: 'row' }, [1, 2, '_']],
    ['too long', list(0, [n(1), n(2), n(3), n(4)]), 'list.too-long', { due: '3', here: '4', axis: 'row' }, [1, 2, 3]],
    [
      'off the axis',
      list(0, [n(1), n(2)], null, [1, 9]),
      'list.no-such-place',
      { key: '9', axis: 'row' },
      [1, '_', '_'],
    ],
    ['a key twice', list(0, [n(1), n(2)], n(0), [1, 1]), 'axes.duplicate-key', { key: '1', axis: 'row' }, [1, 0, 0]],
    ['others for none', list(0, [n(1), n(2), n(3)], n(9)), 'list.others-covers-nothing', { axis: 'row' }, [1, 2, 3]],
  ])('tell of what does not fit: %s', (_, expr, code, args, cells) => {
    const found = run(expr, { axes });
    expect(found.problems).toEqual([{ code, args }]);
    expect(found.cells).toEqual(cells);
  });

  it('keep bands and limits', () => {
    const banded = run(list(1, [toleranced(2, 1, 3), n(5)]), { axes }).value;
    expect(banded.is === 'numbers' && [...banded.band!.low.data]).toEqual([1, NaN]);
    const limited = run(list(1, [limits(n(1), null), limits(null, n(4))]), { axes }).value;
    expect(limited.is === 'limits' && [...limited.low.data, ...limited.high.data]).toEqual([1, -Infinity, Infinity, 4]);
    const second = run(apply('high', [gather(list(1, [toleranced(2, 1, 3), n(5)]), 1, n(0))]), { axes });
    expect(second.cells).toEqual([3]);
  });
});

describe('cells from a file', () => {
  const key = (label: string | null, number: number | null): AxisKey => ({ label, number, at: null });
  it('stand at their places; an empty or lacking one is no reading', () => {
    const rows = [
      { keys: [key(null, 1), key('front', null)], value: 11, line: 2 },
      { keys: [key(null, 1), key('rear', null)], value: null, line: 3 },
      { keys: [key(null, 3), key('rear', null)], value: 32, line: 4 },
      { keys: [key(null, 7), key('rear', null)], value: 72, line: 5 },
    ];
    const found = run({ op: 'table', axes: [0, 2], rows, file: 'a.csv', type: slot(0).type, at: null }, { axes });
    expect(found.cells).toEqual([11, '_', '_', '_', '_', 32]);
    expect(found.problems).toEqual([
      { code: 'table.no-such-place', args: { key: '7', axis: 'row', file: 'a.csv', line: '5' } },
    ]);
  });
});

describe('gathering', () => {
  it('replaces an axis by those of the index, combining what they share', () => {
    const world = {
      axes,
      slots: [valued([row, column], [1, 2, 3, 4, 5, 6]), valued([column], [2, 0]), valued([row], [1, 0, 1])],
    };
    expect(run(gather(slot(0), 0, slot(1)), world)).toMatchObject({ axes: ['column'], cells: [5, 2] });
    expect(run(gather(slot(0), 1, slot(2)), world)).toMatchObject({ axes: ['row'], cells: [2, 3, 6] });
    expect(run(gather(slot(0), 1, n(1)), world)).toMatchObject({ axes: ['row'], cells: [2, 4, 6] });
  });

  it('is missing where the place is missing or is none', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3]), valued([column], ['_', 7]), valued([column], ['x', 0])] };
    const { cells, reasons } = run(gather(slot(0), 0, slot(1)), world);
    expect(cells).toEqual(['_', '_']);
    expect(reasons).toEqual(['there is no such place on row']);
    expect(run(gather(slot(0), 0, slot(2)), world).cells).toEqual(['x', 1]);
  });

  it('agrees with nested loops', () => {
    const figures = fc.array(fc.integer({ min: 0, max: 99 }), { minLength: 24, maxLength: 24 });
    const indices = fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 8, maxLength: 8 });
    const order = fc.shuffledSubarray([row, column, depth], { minLength: 3 });
    fc.assert(
      fc.property(figures, indices, order, (cells, index, own) => {
        const world = { axes, slots: [valued(own, cells), valued([column, depth], index)] };
        const found = run(gather(slot(0), 0, slot(1)), world);
        const rest = own.filter((one) => one !== row);
        expect(found.axes).toEqual(rest.map(({ name }) => name));
        found.cells.forEach((figure, cell) => {
          const [a, b] = [Math.floor(cell / rest[1]!.size), cell % rest[1]!.size];
          const [c, d] = rest[0] === column ? [a, b] : [b, a];
          const at = new Map<Axis, number>([
            [column, c],
            [depth, d],
            [row, index[c * 4 + d]!],
          ]);
          expect(figure).toBe(cells[own.reduce((sofar, one) => sofar * one.size + at.get(one)!, 0)]);
        });
      }),
      { seed: 13, numRuns: 200 },
    );
  });

  it('takes an index that runs along the axis it picks from', () => {
    const world = { axes, slots: [valued([row], [10, 20, 30]), valued([row], [2, 0, 1])] };
    expect(run(gather(slot(0), 0, slot(1)), world)).toMatchObject({ axes: ['row'], cells: [30, 10, 20] });
  });

  it('reads places and coordinates', () => {
    expect(run(place(3), { axes }).cells).toEqual([0, 1, 2, 3]);
    expect(run(coordinate(0), { axes }).cells).toEqual([1, 2, 3]);
    const of: Expr = { op: 'coordinate', axis: 3, of: slot(0), type: slot(0).type, at: null };
    expect(run(of, { axes, slots: [valued([row], [3, 0, 1])] }).cells).toEqual([depth.coordinates[3], 0.1, 0.2]);
  });

  it('lays cells along a twin', () => {
    const twin = axis(5, 'twin', 3);
    const world = { axes: [...axes, twin], slots: [valued([row], [1, 2, 3])] };
    const titled: Expr = { op: 'retitle', of: slot(0), from: 0, to: 5, type: slot(0).type, at: null };
    expect(run(bin(slot(0), '-', titled), world)).toMatchObject({
      axes: ['row', 'twin'],
      cells: [0, -1, -2, 1, 0, -1, 2, 1, 0],
    });
  });
});

describe('other cells', () => {
  it('pools values in one row', () => {
    const world = { axes, slots: [valued([row, column], [1, 2, 3, 4, 5, 6]), valued([end], [7, '_'])] };
    const pooled: Expr = { op: 'pooled', parts: [slot(0), slot(1)], from: [0, 2], to: 9, type: slot(0).type, at: null };
    expect(run(pooled, world)).toMatchObject({ axes: ['open', 'column'], cells: [1, 2, 3, 4, 5, 6, 7, 7, '_', '_'] });
  });

  it('means repeated readings', () => {
    const repeated: Expr = { op: 'repeated', readings: [n(66.1), n(66), n(66.2)], type: slot(0).type, at: null };
    expect(run(repeated).cells[0]).toBeCloseTo(66.1, 12);
  });

  it('reads other views, locals in them too', () => {
    const views = { ordered: [valued([], [5], Mark.ordered)], measured: [valued([], [6], Mark.measured)] };
    const inOrdered: Expr = { op: 'view', view: 'ordered', of: local(0), type: slot(0).type, at: null };
    const both = bind(0, slot(0), sum(product100(local(0)), inOrdered));
    expect(run(both, { axes, views }).cells).toEqual([605]);
  });

  it('asks after figures through indices', () => {
    const world = { axes, slots: [valued([row], [1, '_', 'x'])] };
    expect(run(apply('given', [gather(slot(0), 0, n(1))]), world).cells).toEqual([0]);
    expect(run(apply('present', [slot(0)]), world).cells).toEqual([1, 1, 0]);
    expect(run(apply('given', [n(3)]), world).cells).toEqual([0]);
  });

  it('refuses more cells than it takes, with the reason', () => {
    const big = [axis(10, 'a', 2000), axis(11, 'b', 2000)];
    const { cells, reasons } = run(bin(coordinate(10), '+', coordinate(11)), { axes: big });
    expect(cells).toEqual(['_']);
    expect(reasons).toEqual(['it would have more than 2000000 cells']);
  });
});

function product100(of: Expr): Expr {
  return bin(n(100), '*', of);
}
