import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Reduction } from '../../../language/src/semantics/ir.ts';
import { axis, bin, coordinate, flag, measure, n, reduce, run, slot, valued } from './build.ts';
import type { Cell } from './build.ts';

const row = axis(0, 'row', 4, 10, 10);
const column = axis(1, 'column', 3);
const group = axis(2, 'group', 2);
const axes = [row, column, group];
const asked = new Set<Reduction>(['any', 'all', 'where-first']);
const over = (fn: Reduction, cells: readonly Cell[]): readonly Cell[] =>
  run(reduce(fn, slot(0, asked.has(fn) ? flag : measure), [0]), { axes, slots: [valued([row], cells)] }).cells;

describe('what is missing and what is absent', () => {
  it.each<[Reduction, Cell, Cell, Cell, Cell]>([
    // all there, one missing, one absent, all absent
    ['sum', 10, '_', 7, 'x'],
    ['min', 1, '_', 1, 'x'],
    ['max', 4, '_', 4, 'x'],
    ['mean', 2.5, '_', 7 / 3, 'x'],
    ['spread', 3, '_', 3, 'x'],
    ['count', 4, '_', 3, 'x'],
    ['where-least', 0, '_', 0, 'x'],
    ['where-most', 3, '_', 3, 'x'],
    ['area', 75, '_', 75, 'x'],
  ])('%s', (fn, whole, missing, absent, none) => {
    expect(over(fn, [1, 2, 3, 4])).toEqual([whole]);
    expect(over(fn, [1, '_', 3, 4])).toEqual([missing]);
    expect(over(fn, [1, 2, 'x', 4])).toEqual([absent]);
    expect(over(fn, ['x', 'x', 'x', 'x'])).toEqual([none]);
    expect(over(fn, ['x', '_', 'x', 'x'])).toEqual(['_']);
  });

  it('any and all answer as soon as they can', () => {
    expect(over('any', [0, '_', 1, 'x'])).toEqual([1]);
    expect(over('any', [0, '_', 0, 0])).toEqual(['_']);
    expect(over('any', [0, 'x', 0, 0])).toEqual([0]);
    expect(over('all', [1, '_', 0, 1])).toEqual([0]);
    expect(over('all', [1, '_', 1, 1])).toEqual(['_']);
    expect(over('all', [1, 'x', 1, 1])).toEqual([1]);
    expect(over('all', ['x', 'x', 'x', 'x'])).toEqual(['x']);
  });

  it('where-first is the first that is true', () => {
    expect(over('where-first', [0, 1, 1, 0])).toEqual([1]);
    expect(over('where-first', [0, '_', 1, 0])).toEqual(['_']);
    expect(over('where-first', [1, '_', 1, 0])).toEqual([0]);
    expect(over('where-first', [0, 0, 0, 0])).toEqual(['_']);
  });

  it('an empty selection is absent, a sum or count of it 0', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3, 4]), valued([row], [0, 0, 0, 0])] };
    const of = (fn: Reduction) => run(reduce(fn, slot(0), [0], { where: slot(1, flag) }), world).cells[0];
    expect([of('sum'), of('count'), of('max'), of('mean'), of('where-least')]).toEqual([0, 0, 'x', 'x', 'x']);
  });

  it('a condition that is missing makes the result missing; what it leaves out does not', () => {
    const world = {
      axes,
      slots: [valued([row], [1, '_', 3, 4]), valued([row], [1, 0, 1, 0]), valued([row], [1, 0, '_', 0])],
    };
    expect(run(reduce('sum', slot(0), [0], { where: slot(1, flag) }), world).cells).toEqual([4]);
    expect(run(reduce('sum', slot(0), [0], { where: slot(2, flag) }), world).cells).toEqual(['_']);
  });

  it('takes the worst mark of its cells', () => {
    const world = {
      axes,
      slots: [valued([row], [1, 2, 3, 4], Mark.measured), valued([row], [1, 1, 1, 1], Mark.ordered)],
    };
    expect(run(reduce('sum', slot(0), [0]), world).marks).toEqual([Mark.measured]);
    expect(run(reduce('sum', slot(0), [0], { where: slot(1, flag) }), world).marks).toEqual([Mark.ordered]);
  });
});

describe('groups and axes', () => {
  it('groups by an index, an empty group being absent', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3, 4]), valued([row], [1, 1, 1, 1])] };
    const by = { index: slot(1, { is: 'index', axis: 2 }), to: 2 };
    expect(run(reduce('sum', slot(0), [0], { by }), world)).toMatchObject({ axes: ['group'], cells: [0, 10] });
    expect(run(reduce('max', slot(0), [0], { by }), world).cells).toEqual(['x', 4]);
  });

  it('cannot tell any group where an index is missing', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3, 4]), valued([row], [0, 1, '_', 1])] };
    expect(run(reduce('sum', slot(0), [0], { by: { index: slot(1), to: 2 } }), world).cells).toEqual(['_', '_']);
  });

  it('counts a figure that is the same along an axis once for each place', () => {
    expect(run(reduce('sum', n(5), [0]), { axes }).cells).toEqual([20]);
    expect(run(reduce('sum', coordinate(0), [0]), { axes }).cells).toEqual([100]);
  });

  it('lets lanes through', () => {
    const lanes = axis(-1, 'lanes', 2);
    const world = {
      axes,
      slots: [valued([lanes, row], [1, 2, 3, 4, 10, 20, 30, 40]), valued([row, lanes], [1, 10, 2, 20, 3, 30, 4, 40])],
    };
    expect(run(reduce('sum', slot(0), [0]), world)).toMatchObject({ axes: ['lanes'], cells: [10, 100] });
    expect(run(reduce('sum', slot(1), [0]), world)).toMatchObject({ axes: ['lanes'], cells: [10, 100] });
  });

  it('agrees with nested loops, with conditions and groups', () => {
    const cell: fc.Arbitrary<Cell> = fc.oneof(
      { weight: 12, arbitrary: fc.integer({ min: -5, max: 5 }) },
      fc.constant<Cell>('x'),
      fc.constant<Cell>('_'),
    );
    const arbitrary = fc.record({
      cells: fc.array(cell, { minLength: 12, maxLength: 12 }),
      where: fc.array(fc.constantFrom(0, 1, 1, 1), { minLength: 4, maxLength: 4 }),
      by: fc.array(fc.constantFrom(0, 1), { minLength: 4, maxLength: 4 }),
      fn: fc.constantFrom<Reduction>('sum', 'min', 'max', 'mean', 'spread', 'count'),
    });
    const figure = (fn: Reduction, cells: readonly Cell[]): Cell => {
      const there = cells.filter((one): one is number => typeof one === 'number');
      if (cells.includes('_')) return '_';
      if (there.length === 0) return (fn === 'sum' || fn === 'count') && cells.length === 0 ? 0 : 'x';
      const total = there.reduce((a, b) => a + b, 0);
      switch (fn) {
        case 'sum':
          return total;
        case 'count':
          return there.length;
        case 'mean':
          return total / there.length;
        case 'min':
          return Math.min(...there);
        case 'max':
          return Math.max(...there);
        default:
          return Math.max(...there) - Math.min(...there);
      }
    };
    fc.assert(
      fc.property(arbitrary, ({ cells, where, by, fn }) => {
        const world = { axes, slots: [valued([row, column], cells), valued([row], where), valued([row], by)] };
        const grouped = run(reduce(fn, slot(0), [0], { where: slot(1, flag), by: { index: slot(2), to: 2 } }), world);
        expect(grouped.axes).toEqual(['column', 'group']);
        grouped.cells.forEach((found, at) => {
          const [c, g] = [Math.floor(at / 2), at % 2];
          const own = cells.filter(
            (_, own) => own % 3 === c && where[Math.floor(own / 3)] === 1 && by[Math.floor(own / 3)] === g,
          );
          expect(found).toEqual(figure(fn, own));
        });
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('compares flags by count of those that are true', () => {
    const world = { axes, slots: [valued([row], [1, 2, 3, 4])] };
    expect(run(reduce('count', bin(slot(0), '>', n(2)), [0]), world).cells).toEqual([2]);
  });
});
