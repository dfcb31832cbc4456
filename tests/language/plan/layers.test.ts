// One test for each sentence of decisions.md, "Layers and views", on schemas written by hand.
import { describe, expect, it } from 'vitest';
import { bin, gap, list, n, reduce } from '../evaluate/build.ts';
import { cells, marksIn, valueOf, views, World } from './build.ts';

const row = () => new World().axis('row', 3).property('width', { axes: ['row'] });

describe('layers, cell by cell', () => {
  it('lets the upper layer speak and the lower where the upper has none', () => {
    const world = new World().axis('row', 4).property('width', { axes: ['row'], formula: n(1), exact: true });
    const plan = world
      .build()
      .give('width', list(0, [n(2), n(2), n(2), gap]), { layer: 'practice' })
      .give('width', list(0, [n(3), n(3), gap, gap]), { layer: 'part' })
      .give('width', list(0, [n(4), gap, gap, gap]))
      .plan();
    expect(cells(plan, 'width')).toEqual([4, 3, 2, 1]);
    expect(marksIn(plan, 'width')).toEqual(['specified', 'specified', 'specified', 'exact']);
    const outcome = plan.outcome().slots[0]!;
    expect([0, 1, 2, 3].map((cell) => outcome.layerOf(cell, 'measured'))).toEqual([
      'build',
      'part',
      'practice',
      'default',
    ]);
    expect(outcome.historyOf(0).map(({ layer, value, speaks }) => [layer, value, speaks])).toEqual([
      ['default', 1, false],
      ['practice', 2, false],
      ['part', 3, false],
      ['build', 4, true],
    ]);
  });

  it('takes practice by order, nearer files being greater', () => {
    const plan = row()
      .build()
      .give('width', n(1), { layer: 'practice' })
      .give('width', n(2), { layer: 'practice' })
      .plan();
    expect(cells(plan, 'width')).toEqual([2, 2, 2]);
  });

  it('lets a key name a cell, and says where one is off its axis', () => {
    const build = row()
      .build()
      .give('width', n(1))
      .give('width', n(5), { at: { row: 2 } })
      .give('width', n(9), { at: { row: 7 } });
    const plan = build.plan();
    expect(cells(plan, 'width')).toEqual([1, 5, 1]);
    expect(plan.outcome().problems.map(({ code, args }) => [code, args])).toEqual([
      ['list.no-such-place', { key: '7', axis: 'row' }],
    ]);
  });

  it('counts figures of a part only where that part is fitted', () => {
    const world = new World()
      .axis('row', 3)
      .mount('rod', { axes: ['row'] })
      .property('rod.length');
    const build = world.build();
    const first = build.part('rod');
    const second = build.part('rod', { row: 2 });
    build
      .give('rod.length', n(6), { layer: 'part', part: first })
      .give('rod.length', n(7), { layer: 'part', part: second });
    expect(cells(build.plan(), 'rod.length')).toEqual([6, 7, 6]);
  });

  it('has a cell without any layer missing, and a formula over it', () => {
    const world = row();
    world.derive('all', reduce('sum', world.read('width'), [0]));
    const plan = world
      .build()
      .give('width', list(0, [n(1), gap, n(2)]))
      .plan();
    expect(cells(plan, 'width')).toEqual([1, '_', 2]);
    expect(cells(plan, 'all')).toEqual(['_']);
  });

  it('has an optional mount absent until it is fitted, and `none` takes it off', () => {
    const world = new World().mount('turbo', { optional: true }).property('turbo.boost', { formula: n(2) });
    world.derive('twice', bin(world.read('turbo.boost'), '*', n(2)));
    expect(cells(world.build().plan(), 'twice')).toEqual(['x']);
    expect(cells(world.build().fit('turbo').plan(), 'twice')).toEqual([4]);
    expect(cells(world.build().of(world.build().fit('turbo')).takeOff('turbo').plan(), 'twice')).toEqual(['x']);
  });
});

describe('views', () => {
  const history = (world = row()) =>
    world
      .build()
      .give('width', n(10))
      .measured()
      .set('width', list(0, [n(10.1), n(10.2), gap]))
      .cut()
      .set('width', list(0, [n(11), gap, n(11)]))
      .measured()
      .set('width', list(0, [n(11.1), gap, gap]));

  it('specified, ordered, before and measured follow from the history of each cell', () => {
    const plan = history().plan();
    expect(views(plan, 'width', 0)).toEqual({ specified: 10, ordered: 11, before: 10.1, measured: 11.1 });
    expect(views(plan, 'width', 1)).toEqual({ specified: 10, ordered: 10, before: 10.2, measured: 10.2 }); // never cut
    expect(views(plan, 'width', 2)).toEqual({ specified: 10, ordered: 11, before: 10, measured: 11 });
    expect(marksIn(plan, 'width')).toEqual(['measured', 'measured', 'ordered']);
  });

  it('a derived value in a view takes all its inputs in that view', () => {
    const world = row();
    world.derive('double', bin(world.read('width'), '*', n(2)), { axes: ['row'] });
    const plan = history(world).plan();
    expect(views(plan, 'double', 0)).toEqual({ specified: 20, ordered: 22, before: 20.2, measured: 22.2 });
    expect(marksIn(plan, 'double')).toEqual(['measured', 'measured', 'ordered']);
  });

  it('a formula may name a view', () => {
    const world = row();
    world.derive('cut', bin(world.in('ordered', 'width'), '-', world.in('before', 'width')), { axes: ['row'] });
    expect(cells(history(world).plan(), 'cut').map((x) => Number(Number(x).toFixed(6)))).toEqual([0.9, -0.2, 1]);
  });

  it('is the same object where views do not differ', () => {
    const world = row();
    world.property('other').derive('more', bin(world.read('other'), '+', n(1)));
    world.derive('mixed', bin(world.read('width'), '+', world.read('other')), { axes: ['row'] });
    const plan = world.build().give('other', n(1)).give('width', n(1)).measured().set('width', n(2)).plan();
    for (const view of ['ordered', 'before', 'measured'] as const)
      expect(valueOf(plan, 'more', view)).toBe(valueOf(plan, 'more', 'specified'));
    expect(valueOf(plan, 'mixed', 'ordered')).toBe(valueOf(plan, 'mixed', 'specified'));
    expect(valueOf(plan, 'mixed', 'measured')).not.toBe(valueOf(plan, 'mixed', 'specified'));
  });

  it('`was` in machining is the newest earlier reading, else the order, else the specification', () => {
    const world = row();
    const build = world
      .build()
      .give('width', n(10))
      .cut()
      .set('width', n(11), { row: 2 })
      .measured()
      .set('width', list(0, [n(10.5), gap, gap]))
      .cut()
      .set('width', bin(world.was('width'), '+', n(1)));
    expect(cells(build.plan(), 'width')).toEqual([11.5, 12, 11]);
  });

  it('a toleranced figure keeps its band through the layers', () => {
    const world = row();
    const plan = world
      .build()
      .give('width', {
        op: 'toleranced',
        nominal: n(1),
        low: n(0.9),
        high: n(1.2),
        type: { value: { is: 'unsettled' }, axes: [] },
        at: null,
      })
      .measured()
      .set('width', n(1.1), { row: 1 })
      .plan();
    const value = valueOf(plan, 'width', 'measured');
    expect(value.is === 'numbers' && Array.from(value.band!.low.data)).toEqual([NaN, 0.9, 0.9]);
  });
});
