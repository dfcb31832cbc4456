// Circles, long chains, axes without a size: never a crash, always what is missing by its name.
import { describe, expect, it } from 'vitest';
import { apply, bin, gap, list, n, reduce, toleranced } from '../evaluate/build.ts';
import { cells, World } from './build.ts';

/** Each of three follows from the two others: separation = advance + centreline and so on. */
const ring = () => {
  const world = new World();
  world.slots.length = 0;
  for (const name of ['separation', 'advance', 'centreline']) world.property(name);
  const formulas = [
    bin(world.read('advance'), '+', world.read('centreline')),
    bin(world.read('separation'), '-', world.read('centreline')),
    bin(world.read('separation'), '-', world.read('advance')),
  ];
  world.slots.forEach((slot, at) => (world.slots[at] = { ...slot, formula: formulas[at]! }));
  return world;
};

describe('circles of default formulas', () => {
  const given = { separation: 110, advance: 4, centreline: 106 } as const;
  it.each([
    ['separation', 'advance'],
    ['advance', 'centreline'],
    ['separation', 'centreline'],
  ] as const)('are broken by %s and %s', (a, b) => {
    const plan = ring().build().give(a, n(given[a])).give(b, n(given[b])).plan();
    expect([...cells(plan, 'separation'), ...cells(plan, 'advance'), ...cells(plan, 'centreline')]).toEqual([
      110, 4, 106,
    ]);
    expect(plan.outcome().problems).toEqual([]);
  });

  it('are missing and named where too little is given', () => {
    const plan = ring().build().give('separation', n(110)).plan();
    expect(cells(plan, 'advance')).toEqual(['_']);
    expect(cells(plan, 'centreline')).toEqual(['_']);
    const problem = plan.outcome().problems.find(({ code }) => code === 'cycle')!;
    expect(problem.args['names']).toBe('advance, centreline');
    expect(problem.severity).toBe('hint');
  });

  it('are judged by slot: a partly given slot still depends on its formula', () => {
    const world = new World()
      .axis('row', 2)
      .property('a', { axes: ['row'] })
      .property('b', { axes: ['row'] });
    world.slots[0] = { ...world.slots[0]!, formula: world.read('b') };
    world.slots[1] = { ...world.slots[1]!, formula: world.read('a') };
    const plan = world
      .build()
      .give('a', list(0, [n(1), gap]))
      .plan();
    expect(cells(plan, 'a')).toEqual([1, '_']);
    expect(cells(plan, 'b')).toEqual([1, '_']);
    expect(plan.outcome().problems.map(({ code }) => code)).toEqual(['cycle']);
  });

  it('of fourteen, each read by each, end', () => {
    const world = new World();
    const names = Array.from({ length: 14 }, (_, at) => `s${at}`);
    for (const name of names) world.property(name);
    names.forEach((name, at) => {
      const others = names.filter((other) => other !== name).map((other) => world.read(other));
      world.slots[at] = { ...world.slots[at]!, formula: others.reduce((a, b) => bin(a, '+', b)) };
    });
    const plan = world.build().plan();
    expect(cells(plan, 's13')).toEqual(['_']);
    expect(plan.evaluated).toBeLessThan(5_000);
  });
});

describe('long chains', () => {
  it('of five thousand values come out, asked from either end', () => {
    const world = new World().property('s0');
    for (let at = 1; at <= 5_000; at++)
      world.derive(
        `s${at}`,
        bin(world.slots.length % 2 ? world.read(`s${at - 1}`) : world.read(`s${at - 1}`), '+', n(1)),
      );
    const plan = world.build().give('s0', n(0)).plan();
    const last = plan.valueOf(5_000, 'measured').value;
    expect(last.is === 'numbers' && last.tensor.data[0]).toBe(5_000);
  });

  it('that close to a ring longer than any stack end too', () => {
    const world = new World();
    for (let at = 0; at < 300; at++) world.property(`s${at}`);
    world.slots.forEach(
      (slot, at) => (world.slots[at] = { ...slot, formula: bin(world.read(`s${(at + 1) % 300}`), '+', n(1)) }),
    );
    const plan = world.build().plan();
    expect(cells(plan, 's7')).toEqual(['_']);
    expect(plan.outcome().problems.map(({ code }) => code)).toEqual(['cycle']);
    const given = world.build().give('s150', n(0)).plan();
    expect(cells(given, 's151')).toEqual([299]);
  });
});

describe('axes', () => {
  const sized = () => {
    const world = new World().mount('layout').property('layout.rows', { measurable: false });
    world.anyAxis('row', { range: { from: n(1), to: world.read('layout.rows'), step: null } });
    world.anyAxis('twin', { twinOf: 0 });
    return world.property('width', { axes: ['row'] }).derive('all', reduce('sum', world.read('width'), [0]));
  };
  it('are as long as a figure says', () => {
    const plan = sized().build().give('layout.rows', n(3)).give('width', n(2)).plan();
    expect(cells(plan, 'width')).toEqual([2, 2, 2]);
    expect(cells(plan, 'all')).toEqual([6]);
    expect(plan.outcome().axes.get(1)!.size).toBe(3);
  });
  it('without a size leave everything along them missing', () => {
    const plan = sized().build().give('width', n(2)).plan();
    expect(cells(plan, 'width')).toEqual(['_']);
    expect(cells(plan, 'all')).toEqual(['_']);
    expect(plan.outcome().axes.has(0)).toBe(false);
  });
  it('have steps', () => {
    const world = new World().anyAxis('angle', { range: { from: n(-360), to: n(359), step: n(0.5) } });
    world.property('x', {
      axes: ['angle'],
      formula: { op: 'coordinate', axis: 0, of: null, type: { value: { is: 'unsettled' }, axes: [0] }, at: null },
    });
    const x = cells(world.build().plan(), 'x');
    expect([x.length, x[0], x[1], x.at(-1)]).toEqual([1439, -360, -359.5, 359]);
  });
  it('larger than the tool takes are refused with a message', () => {
    const plan = sized().build().give('layout.rows', n(1e9)).give('width', n(2)).plan();
    expect(cells(plan, 'width')).toEqual(['_']);
    expect(plan.outcome().problems.map(({ code }) => code)).toEqual(['list.too-large']);
  });
});

describe('slips that show with sizes known', () => {
  it('come out as problems, once, at the figure', () => {
    const world = new World().axis('row', 3).property('width', { axes: ['row'] });
    const plan = world
      .build()
      .give('width', list(0, [n(1), n(2)]))
      .plan();
    expect(plan.outcome().problems.map(({ code }) => code)).toEqual(['list.too-short']);
  });
});

describe('how certain', () => {
  it('worst case and standard uncertainty of a sum of toleranced figures', () => {
    const world = new World()
      .axis('row', 2)
      .property('a', { axes: ['row'] })
      .property('b');
    world.derive('sum', bin(world.read('a'), '+', world.read('b')), { axes: ['row'] });
    world.derive('spread', reduce('spread', world.read('a'), [0]));
    world.derive('mean', reduce('mean', world.read('a'), [0]));
    const plan = world
      .build()
      .give('a', toleranced(10, 9, 11))
      .give('b', toleranced(1, 0.8, 1))
      .plan();
    const [, , sum, spread, mean] = plan.outcome().slots;
    expect(cells(plan, 'sum')).toEqual([11, 11]);
    // b round its middle 0.9
    expect(sum!.band()[0]!.low).toBeCloseTo(9.8, 12);
    expect(sum!.band()[0]!.high).toBeCloseTo(12, 12);
    expect(sum!.uncertainty()[0]).toBeCloseTo(Math.sqrt((1 + 0.01) / 3), 12);
    // cells of a toleranced scalar are independent
    expect(mean!.uncertainty()[0]).toBeCloseTo(Math.sqrt(2 / 4 / 3), 12);
    // at the kink of a spread both ways lead up: central differences see no slope
    expect(spread!.band()).toEqual([null]);
  });

  it('agrees with derivatives taken by hand', () => {
    const world = new World().property('a').property('b');
    world.derive('y', bin(bin(world.read('a'), '^', n(2)), '*', apply('sin', [world.read('b')])));
    const plan = world
      .build()
      .give('a', toleranced(3, 2.999, 3.001))
      .give('b', toleranced(0.5, 0.4998, 0.5002))
      .plan();
    const da = 2 * 3 * Math.sin(0.5) * 0.001;
    const db = 9 * Math.cos(0.5) * 0.0002;
    expect(plan.outcome().slots[2]!.uncertainty()[0]).toBeCloseTo(Math.hypot(da, db) / Math.sqrt(3), 9);
  });

  it('a reading has no tolerance left, unless ± is written with it (k = 2)', () => {
    const world = new World().property('a').property('b');
    world.derive('y', bin(world.read('a'), '+', world.read('b')));
    const plan = world
      .build()
      .give('a', toleranced(3, 2, 4))
      .give('b', n(1))
      .measured()
      .set('a', n(3.2))
      .plan();
    expect(plan.outcome().slots[2]!.uncertainty()).toEqual([null]);
    const unsure = world
      .build()
      .give('a', n(3))
      .give('b', n(1))
      .measured()
      .set('a', toleranced(3.2, 3.1, 3.3))
      .plan();
    expect(unsure.outcome().slots[2]!.uncertainty()[0]).toBeCloseTo(0.05, 12);
  });

  it('many sources are taken in turns of lanes', () => {
    const world = new World().axis('row', 100).property('a', { axes: ['row'] });
    world.derive('all', reduce('sum', world.read('a'), [0]));
    const plan = world
      .build()
      .give('a', toleranced(1, 0.9, 1.1))
      .plan();
    expect(plan.outcome().slots[1]!.uncertainty()[0]).toBeCloseTo((0.1 / Math.sqrt(3)) * 10, 9);
  });
});
