// One test for each sentence of decisions.md, “Checks”, but for what a build expects and accepts, on schemas written by hand.
import { describe, expect, it } from 'vitest';
import { bin, gap, list, n, reduce, toleranced } from '../evaluate/build.ts';
import { World } from '../plan/build.ts';
import type { Build } from '../plan/build.ts';
import { check, states, world, three, shop, read } from './shop.ts';

describe('states', () => {
  it('holds measured only if every cell that was used is measured', () => {
    const build = shop(world().build().give('hole', n(7)).give('pin', n(5)), 1, 3);
    expect(states(build.plan(), 'gap')).toEqual(['holds-on-paper', 'holds-on-paper', 'holds-on-paper']);
    read(build, three(7, 7, 7), three(5, 5, null));
    expect(states(build.plan(), 'gap')).toEqual(['holds-measured', 'holds-measured', 'holds-on-paper']);
    expect(check(build.plan(), 'gap').state).toBe('holds-on-paper');
  });

  it('out of limits, with the limits, whose they are, and the reading to blame first', () => {
    const plan = read(
      shop(world().build().give('hole', n(7)).give('pin', n(5)), 1, 3),
      three(7, 9, 7),
      three(5, 5, 5),
    ).plan();
    const found = check(plan, 'gap');
    expect(states(plan, 'gap')).toEqual(['holds-measured', 'out-of-limits', 'holds-measured']);
    expect([found.state, found.severity, found.because]).toEqual(['out-of-limits', 'warning', 'it wears']);
    expect(found.cells[1]).toMatchObject({ places: [1], value: 4, low: 1, high: 3 });
    expect(found.limitFrom).toMatchObject({ words: 'Brackwater', layer: 'practice' });
    expect(found.blame.map(({ path, origin }) => [path, origin.at.$type.split(' ')[0]])).toEqual([
      ['hole', 'measured'],
      ['pin', 'measured'],
    ]);
  });

  it('a limit is inclusive and allows 1e-9 of itself; < and > leave it out', () => {
    const made = new World().property('x');
    made
      .rule('closed', [{ value: made.read('x'), high: n(3) }])
      .rule('open', [{ value: made.read('x'), high: n(3), highOpen: true }]);
    const at = (x: number) => [
      states(made.build().give('x', n(x)).plan(), 'closed')[0],
      states(made.build().give('x', n(x)).plan(), 'open')[0],
    ];
    expect(at(3)).toEqual(['holds-on-paper', 'out-of-limits']);
    expect(at(3 + 2e-9)).toEqual(['holds-on-paper', 'out-of-limits']);
    expect(at(3 + 4e-9)).toEqual(['out-of-limits', 'out-of-limits']);
    expect(at(2.9)).toEqual(['holds-on-paper', 'holds-on-paper']);
  });

  it('cannot tell, a hint, and names what is missing, only the cells that matter', () => {
    const plan = shop(
      world()
        .build()
        .give('hole', n(7))
        .give('pin', three(5, null, 5)),
      1,
      3,
    ).plan();
    const found = check(plan, 'gap');
    expect(states(plan, 'gap')).toEqual(['holds-on-paper', 'cannot-tell', 'holds-on-paper']);
    expect([found.state, found.severity]).toEqual(['cannot-tell', 'hint']);
    expect(found.cells[1]!.missing.map(({ label }) => label)).toEqual(['pin[2]']);
    expect(found.cells[0]!.missing).toEqual([]);
  });

  it('names the size of an axis that nobody gave', () => {
    const made = new World().mount('layout').property('layout.rows', { measurable: false });
    made
      .anyAxis('row', { range: { from: n(1), to: made.read('layout.rows'), step: null } })
      .property('width', { axes: ['row'] });
    made.rule('width', [{ value: made.read('width'), low: n(1) }]);
    const plan = made.build().give('width', n(2)).plan();
    expect(check(plan, 'width').cells.map(({ missing }) => missing.map(({ label }) => label))).toEqual([
      ['layout.rows'],
    ]);
  });

  it('is out where one side decides, whatever the other is', () => {
    const made = new World().property('x').property('least');
    made.rule('x', [{ value: made.read('x'), low: made.read('least'), high: n(3) }]);
    expect(states(made.build().give('x', n(4)).plan(), 'x')).toEqual(['out-of-limits']);
    expect(states(made.build().give('x', n(2)).plan(), 'x')).toEqual(['cannot-tell']);
  });

  it('not applicable where `when` is false or what it reads is absent', () => {
    const made = world((w) => bin(w.read('mode'), '==', n(1)));
    const given = (): Build => shop(made.build().give('hole', n(7)).give('pin', n(1)), 1, 3);
    expect(states(given().plan(), 'gap')[0]).toBe('out-of-limits');
    expect(check(given().give('mode', n(2)).plan(), 'gap').state).toBe('not-applicable');
    const turbo = new World().mount('turbo', { optional: true }).property('turbo.boost');
    turbo.rule('boost', [{ value: turbo.read('turbo.boost'), high: n(1) }]);
    expect(states(turbo.build().plan(), 'boost')).toEqual(['not-applicable']);
    expect(turbo.build().plan().outcome().toMeasure).toEqual([]);
  });

  it('takes a demand of yes or no cell by cell', () => {
    const made = new World().axis('row', 2).property('x', { axes: ['row'] });
    made.rule('even', [], { flag: bin(made.read('x'), '!=', n(3)) });
    expect(
      states(
        made
          .build()
          .give('x', list(0, [n(2), n(3)]))
          .plan(),
        'even',
      ),
    ).toEqual(['holds-on-paper', 'out-of-limits']);
  });
});

describe('risk', () => {
  const made = new World().property('a').property('b');
  made.derive('sum', bin(made.read('a'), '+', made.read('b'))).rule('sum', [{ value: made.read('sum'), high: n(10) }]);
  it('when the middle ± 1.65 u crosses a limit: a hint while something can be measured', () => {
    // u = 0.1/√3 = 0.0577; 1.65 u = 0.0953
    const near = made
      .build()
      .give('a', toleranced(5, 4.9, 5.1))
      .give('b', n(4.9))
      .plan();
    expect([check(near, 'sum').state, check(near, 'sum').severity]).toEqual(['holds-on-paper', 'warning']);
    const risky = made
      .build()
      .give('a', toleranced(5, 4.9, 5.1))
      .give('b', n(4.91))
      .plan();
    expect([check(risky, 'sum').state, check(risky, 'sum').severity]).toEqual(['at-risk', 'hint']);
    const { low, high } = check(risky, 'sum').cells[0]!.band!;
    expect([low, high].map((x) => Number(x.toFixed(9)))).toEqual([9.81, 10.01]);
    expect(risky.outcome().toMeasure.map(({ input, settles }) => [input.label, settles])).toEqual([
      ['a', ['sum']],
      ['b', ['sum']],
    ]);
  });
  it('else a warning', () => {
    const plan = made
      .build()
      .measured()
      .set('a', toleranced(5, 4.8, 5.2))
      .set('b', n(4.9))
      .plan();
    // ± on a reading is U with k = 2: u = 0.1
    expect([check(plan, 'sum').state, check(plan, 'sum').severity]).toEqual(['at-risk', 'warning']);
    expect(plan.outcome().toMeasure).toEqual([]);
  });
  it('takes the formula at the middles, not at the nominals', () => {
    const plan = made
      .build()
      .give('a', toleranced(5, 5, 5.4))
      .give('b', n(4.7))
      .plan();
    expect(check(plan, 'sum').state).toBe('at-risk'); // nominal 9.7, middle 9.9, 1.65 u = 0.19
  });
});

describe('to-size', () => {
  it('holds every reading against the tolerance of its order, else of its specification', () => {
    const made = new World().axis('row', 3).property('bore', { axes: ['row'] });
    const build = made
      .build()
      .give('bore', toleranced(4, 3.9, 4.1))
      .cut()
      .set('bore', toleranced(5, 4.9, 5.1), { row: 3 });
    build.measured().set('bore', list(0, [n(4.2), gap, n(5)]));
    const found = check(build.plan(), 'bore.to-size');
    expect(found.cells.map(({ state }) => state)).toEqual(['out-of-limits', 'not-applicable', 'holds-measured']);
    expect([found.severity, found.kind]).toEqual(['warning', 'to-size']);
    expect(found.cells[0]).toMatchObject({ value: 4.2, low: 3.9, high: 4.1 });
    expect(
      check(
        made
          .build()
          .give('bore', n(4))
          .measured()
          .set('bore', three(4, 4, 5))
          .plan(),
        'bore.to-size',
      ),
    ).toBeUndefined();
  });
});

describe('causes', () => {
  it('list findings that clear when one cell returns to its specification', () => {
    const made = world();
    made
      .derive('spread', reduce('spread', made.read('gap'), [0]))
      .rule('spread', [{ value: made.read('spread'), high: n(0.5) }]);
    const build = shop(made.build().give('hole', n(7)).give('pin', n(5)), 1, 3);
    const plan = read(build, three(7.1, 9, 7), three(5, 5, 5.1)).plan();
    const { causes } = plan.outcome();
    expect(causes.map(({ label, checks }) => [label, checks])).toEqual([['hole[2]', ['gap', 'spread']]]);
    expect(causes[0]!.origin?.at.$type).toMatch(/^measured hole/);
    expect([check(plan, 'gap').cause, check(plan, 'spread').cause]).toEqual([0, 0]);
  });
  it('count a cut as well, and nothing where all holds', () => {
    const build = shop(world().build().give('hole', n(7)).give('pin', n(5)), 1, 3);
    expect(build.plan().outcome().causes).toEqual([]);
    build.cut().set('hole', n(9), { row: 1 });
    expect(
      build
        .plan()
        .outcome()
        .causes.map(({ label }) => label),
    ).toEqual(['hole[1]']);
  });
});

describe('to measure', () => {
  it('orders by how many checks each cell settles, and names stale readings', () => {
    const made = world();
    made.rule('pin', [{ value: made.read('pin'), low: n(1) }]);
    const build = shop(made.build().give('hole', n(7)), 1, 3)
      .measured()
      .set('pin', three(5, 5, 5))
      .cut()
      .set('pin', n(4.5), { row: 1 });
    build.measured().set('hole', three(7, null, 7));
    const list = build.plan().outcome().toMeasure;
    expect(list.map(({ input, settles }) => [input.label, input.stale, settles])).toEqual([
      ['pin[1]', true, ['gap', 'pin']],
      ['hole[2]', false, ['gap']],
    ]);
  });
  it('leaves out settings, limits and defaults that nobody replaced', () => {
    const made = new World().property('dome', { formula: n(0), exact: true }).property('speed', { measurable: false });
    made.rule('dome', [{ value: bin(made.read('dome'), '+', made.read('speed')), high: n(3) }]);
    const plan = made.build().give('speed', n(2)).plan();
    expect(plan.outcome().toMeasure).toEqual([]);
    expect(check(plan, 'dome').state).toBe('holds-measured');
  });
});
