// What a build itself expects and what it accepts: one test for each sentence of decisions.md, “Checks”, on schemas written by hand.
import { describe, expect, it } from 'vitest';
import { bin, gather, limits, n, reduce } from '../evaluate/build.ts';
import type { Build } from '../plan/build.ts';
import { check, states, codes, world, three, shop, read } from './shop.ts';

describe('expect in a build', () => {
  const base = (): Build => shop(world().build().give('hole', n(7)).give('pin', n(5)), 1, 3);
  const on = (
    build: Build,
    text: string,
    low: number | null,
    high: number | null,
    cell: number | null = null,
  ): Build => {
    const value = build.world.read('gap');
    const at = cell === null ? value : gather(value, 0, n(cell));
    return build.expect(text, [{ value: at, low: low === null ? null : n(low), high: high === null ? null : n(high) }]);
  };

  it("takes the place of a rule's limits, only on the sides it gives; the rule keeps severity and reason", () => {
    const plan = on(base(), 'gap >= 2.5', 2.5, null).plan();
    const found = check(plan, 'gap');
    expect(found.cells[0]).toMatchObject({ state: 'out-of-limits', low: 2.5, high: 3 });
    expect([found.severity, found.because, found.expect?.text, found.limitFrom?.layer]).toEqual([
      'warning',
      'it wears',
      'gap >= 2.5',
      'expect',
    ]);
    expect(plan.outcome().checks.map(({ id }) => id)).toEqual(['gap']);
  });

  it('only in the cells it names', () => {
    const plan = on(base(), 'gap[2] >= 2.5', 2.5, null, 1).plan();
    expect(states(plan, 'gap')).toEqual(['holds-on-paper', 'out-of-limits', 'holds-on-paper']);
    expect(plan.outcome().checks).toHaveLength(1);
  });

  it('is advised of when looser than what would have spoken', () => {
    const plan = on(base(), 'gap <= 4', null, 4).plan();
    const problem = plan.outcome().problems[0]!;
    expect([problem.code, problem.severity, problem.args['whose'], problem.args['limits']]).toEqual([
      'expect.looser',
      'advice',
      'Brackwater',
      '1 to 3',
    ]);
    expect(check(plan, 'gap').cells[0]!.high).toBe(4);
    expect(codes(on(base(), 'gap <= 2.9', null, 2.9).plan())).toEqual([]);
  });

  it('several on one cell intersect', () => {
    const plan = on(on(base(), 'a', 1.5, 2.9), 'b', 1.2, 2.5).plan();
    expect(check(plan, 'gap').cells[0]).toMatchObject({ low: 1.5, high: 2.5 });
  });

  it("a variant's takes the place of its base's", () => {
    const first = on(base(), 'a', 1.5, 2.5);
    const plan = on(first.world.build().of(first), 'b', null, 2.9).plan();
    expect(check(plan, 'gap').cells[0]).toMatchObject({ low: 1, high: 2.9 });
    expect(plan.outcome().checks).toHaveLength(1);
  });

  it('any other stands alone, severity error', () => {
    const build = base();
    build.expect('max(gap) <= 1', [{ value: reduce('max', build.world.read('gap'), [0]), high: n(1), slot: null }]);
    const found = check(build.plan(), 'expect max(gap) <= 1');
    expect([found.kind, found.severity, found.state]).toEqual(['expect', 'error', 'out-of-limits']);
  });

  it('stands alone where the rule does not apply', () => {
    const made = world((w) => bin(w.read('mode'), '==', n(2)));
    const build = on(shop(made.build().give('hole', n(7)).give('pin', n(5)), 1, 3), 'gap <= 1', null, 1);
    expect(check(build.plan(), 'gap').state).toBe('not-applicable');
    expect(check(build.plan(), 'expect gap <= 1').state).toBe('out-of-limits');
  });
});

describe('accept', () => {
  const out = (): Build =>
    read(shop(world().build().give('hole', n(7)).give('pin', n(5)), 1, 3), three(7, 9, 9), three(5, 5, 5));
  it('turns a finding into accepted while the value is inside, in the cells it names', () => {
    const plan = out()
      .accept('gap', limits(null, n(4)), [2])
      .plan();
    expect(states(plan, 'gap')).toEqual(['holds-measured', 'accepted', 'out-of-limits']);
    expect(check(plan, 'gap').cells[1]!.accept?.because).toBe('the maker allows it');
    expect(
      check(
        out()
          .accept('gap', limits(null, n(4)))
          .plan(),
        'gap',
      ).state,
    ).toBe('accepted');
  });
  it('outside its limits the finding returns', () => {
    expect(
      states(
        out()
          .accept('gap', limits(null, n(3.9)))
          .plan(),
        'gap',
      ),
    ).toEqual(['holds-measured', 'out-of-limits', 'out-of-limits']);
  });
  it('of a check that is not there is an error; one that is not needed is advised of; cannot-tell is left alone', () => {
    expect(
      codes(
        out()
          .accept('gape', limits(null, n(4)))
          .plan(),
      ),
    ).toEqual(['accept.no-such-check']);
    expect(
      codes(
        out()
          .accept('gap', limits(null, n(4)), [1])
          .plan(),
      ),
    ).toEqual(['accept.not-needed']);
    const untold = shop(world().build().give('hole', n(7)), 1, 3)
      .accept('gap', limits(null, n(4)))
      .plan();
    expect([codes(untold), check(untold, 'gap').state]).toEqual([[], 'cannot-tell']);
    expect(
      codes(
        out()
          .accept('gap', limits(null, n(4)), [9])
          .plan(),
      ),
    ).toEqual(['list.no-such-place']);
  });
  it('is inherited by variants', () => {
    const first = out().accept('gap', limits(null, n(4)));
    expect(check(first.world.build().of(first).plan(), 'gap').state).toBe('accepted');
  });
});
