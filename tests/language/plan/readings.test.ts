// decisions.md, "Readings of readings", "Ageing", "A reading of a derive is an anchor".
import { describe, expect, it } from 'vitest';
import { bin, gap, list, n, reduce } from '../evaluate/build.ts';
import { cells, marksIn, views, World } from './build.ts';

const grid = () => {
  const world = new World().axis('row', 2).axis('level', ['top', 'bottom']);
  world.property('width-reading', { axes: ['row', 'level'] });
  world.property('width', { axes: ['row'], measuredBy: reduce('mean', world.read('width-reading'), [1]) });
  return world;
};
const rows = (a: number | null, b: number | null, c: number | null, d: number | null) => {
  const one = (x: number | null) => (x === null ? gap : n(x));
  return list(0, [list(1, [one(a), one(b)]), list(1, [one(c), one(d)])]);
};

describe('readings of readings', () => {
  it('are a reading where all inputs are readings, above a figure that was given', () => {
    const plan = grid()
      .build()
      .give('width', n(10))
      .measured()
      .set('width-reading', rows(10.1, 10.3, 10.5, null))
      .plan();
    expect(cells(plan, 'width')).toEqual([10.2, 10]);
    expect(marksIn(plan, 'width')).toEqual(['measured', 'specified']);
    expect(plan.outcome().slots[1]!.layerOf(0, 'measured')).toBe('measured');
    expect(plan.outcome().slots[1]!.sourceOf(0, 'measured')!.slot).toBe(0);
  });

  it('have the oldest date among them: a cut between the two takes them away', () => {
    const build = grid()
      .build()
      .give('width', n(10))
      .measured()
      .set('width-reading', rows(10, null, 10, 10.2));
    build
      .cut()
      .set('width', n(11), { row: 2 })
      .measured()
      .set('width-reading', rows(null, 10.4, null, 11.2));
    const plan = build.plan();
    // row 1 was never cut: readings of both blocks; row 2 was cut: its top reading is from before
    expect(cells(plan, 'width')).toEqual([10.2, 11]);
    expect(views(plan, 'width', 1)).toEqual({ specified: 10, ordered: 11, before: 10.1, measured: 11 });
  });

  it('rank against a plain reading by date', () => {
    const later = grid()
      .build()
      .measured()
      .set('width-reading', rows(1, 1, 2, 2))
      .measured()
      .set('width', list(0, [n(5), gap]));
    expect(cells(later.plan(), 'width')).toEqual([5, 2]);
    const earlier = grid()
      .build()
      .measured()
      .set('width', list(0, [n(5), gap]))
      .measured()
      .set('width-reading', rows(1, 1, 2, 2));
    expect(cells(earlier.plan(), 'width')).toEqual([1, 2]);
  });

  it('age with what is cut: machining a slot ages the readings that it is made from', () => {
    const plan = grid()
      .build()
      .measured()
      .set('width-reading', rows(1, 1, 2, 2))
      .cut()
      .set('width', n(3), { row: 1 })
      .plan();
    expect(cells(plan, 'width-reading')).toEqual(['_', '_', 2, 2]);
    expect(cells(plan, 'width-reading', 'before')).toEqual([1, 1, 2, 2]);
    expect(cells(plan, 'width')).toEqual([3, 2]);
    expect(cells(plan, 'width', 'before')).toEqual([1, 2]);
  });

  it('do not follow from what is only specified', () => {
    const plan = grid()
      .build()
      .give('width-reading', rows(7, 7, 7, 7))
      .measured()
      .set('width-reading', rows(1, null, null, null))
      .plan();
    expect(cells(plan, 'width')).toEqual(['_', '_']);
  });
});

describe('changed-by', () => {
  const world = () => new World().property('cut').property('volume', { changedBy: ['cut'] });
  it('ages readings when the other is machined later', () => {
    const plan = world().build().give('volume', n(60)).measured().set('volume', n(61)).cut().set('cut', n(1)).plan();
    expect(views(plan, 'volume')).toEqual({ specified: 60, ordered: 60, before: 61, measured: 60 });
  });
  it('leaves readings that came after', () => {
    const plan = world().build().give('volume', n(60)).cut().set('cut', n(1)).measured().set('volume', n(61)).plan();
    expect(views(plan, 'volume')).toEqual({ specified: 60, ordered: 60, before: 60, measured: 61 });
  });
});

describe('a reading of a derived value', () => {
  const world = () => {
    const made = new World()
      .axis('row', 2)
      .property('a', { axes: ['row'] })
      .property('b');
    return made.derive('sum', bin(made.read('a'), '+', made.read('b')), { axes: ['row'] });
  };
  const read = () =>
    world()
      .build()
      .give('a', n(10))
      .give('b', n(1))
      .measured()
      .set('sum', list(0, [n(11.5), gap]));

  it('is the value in as measured, the formula in the other views', () => {
    const plan = read().plan();
    expect(cells(plan, 'sum')).toEqual([11.5, 11]);
    expect(marksIn(plan, 'sum')).toEqual(['measured', 'specified']);
    expect(views(plan, 'sum')).toEqual({ specified: 11, ordered: 11, before: 11.5, measured: 11.5 });
  });

  it('is carried along by later machining of what it depends on, in the cells that it touches', () => {
    const plan = read().cut().set('a', n(12), { row: 1 }).plan();
    expect(cells(plan, 'sum')).toEqual([13.5, 11]);
    expect(marksIn(plan, 'sum')).toEqual(['carried-over', 'specified']);
    expect(views(plan, 'sum').before).toBe(11.5);
    expect(marksIn(read().cut().set('a', n(12), { row: 2 }).plan(), 'sum')[0]).toBe('measured');
  });

  it('is measured against the values at the end of its block', () => {
    const build = read().set('b', n(2)).cut().set('a', n(12), { row: 1 });
    // then: 10 + 2 = 12, read 11.5; now 12 + 2 − 0.5
    expect(cells(build.plan(), 'sum')[0]).toBe(13.5);
  });

  it('is carried over, never measured, in variants and with other inputs', () => {
    const base = read();
    const variant = base.world.build().of(base).give('b', n(3)).plan();
    expect(cells(variant, 'sum')).toEqual([13.5, 13]);
    expect(marksIn(variant, 'sum')).toEqual(['carried-over', 'specified']);
    const plan = base.plan();
    const other = plan.withInputs([{ slot: 1, view: 'measured', cells: new Map([[0, 4]]) }]);
    expect(Array.from((other.valueOf(2, 'measured').value as { tensor: { data: Float64Array } }).tensor.data)).toEqual([
      14.5, 14,
    ]);
    expect(other.valueOf(0, 'measured').value).toBe(plan.valueOf(0, 'measured').value);
  });

  it('leaves the formula to be asked for', () => {
    const made = world();
    made.derive('off', bin(made.read('sum'), '-', made.in('computed', 'sum')), { axes: ['row'] });
    const plan = made
      .build()
      .give('a', n(10))
      .give('b', n(1))
      .measured()
      .set('sum', list(0, [n(11.5), gap]))
      .plan();
    expect(cells(plan, 'off')).toEqual([0.5, 0]);
  });
});
