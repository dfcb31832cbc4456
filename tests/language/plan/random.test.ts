// Random histories against a slow model that knows nothing but the sentences of decisions.md; random edits against a fresh plan.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BuildBinding } from '../../../language/src/semantics/bind/binding.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import { planBuild } from '../../../language/src/semantics/plan/run.ts';
import { bin, gap, iff, limits, list, n, reduce, toleranced } from '../evaluate/build.ts';
import { cells, limitsType, World } from './build.ts';
import type { Build } from './build.ts';
import { snapshot } from './snapshot.ts';

const size = 3;
type Row = readonly (number | null)[];
interface BlockOf {
  readonly kind: 'cut' | 'read';
  readonly width: Row | null;
  readonly grid: readonly [Row, Row] | null;
  readonly shave: Row | null;
}

const row: fc.Arbitrary<Row> = fc.array(fc.option(fc.integer({ min: 1, max: 99 })), {
  minLength: size,
  maxLength: size,
});
const block: fc.Arbitrary<BlockOf> = fc.record({
  kind: fc.constantFrom('cut' as const, 'read' as const),
  width: fc.option(row),
  grid: fc.option(fc.tuple(row, row)),
  shave: fc.option(row),
});

/** True where there is a figure. */
const has = (row: Row | null | undefined, at: number): boolean => typeof row?.[at] === 'number';

const figures = (cellsOf: Row): Expr =>
  list(
    0,
    cellsOf.map((x) => (x === null ? gap : n(x))),
  );

/** width is measured by the mean of two readings a place; shave ages readings of width, which ages those of the grid. */
function world(): World {
  const made = new World().axis('row', size).axis('end', 2);
  made.property('reading', { axes: ['row', 'end'] }).property('shave', { axes: ['row'] });
  return made.property('width', {
    axes: ['row'],
    measuredBy: reduce('mean', made.read('reading'), [1]),
    changedBy: ['shave'],
  });
}

function write(specified: Row, blocks: readonly BlockOf[]): Build {
  const build = world().build().give('width', figures(specified));
  for (const { kind, width, grid, shave } of blocks) {
    if (kind === 'cut') build.cut();
    else build.measured();
    if (width !== null) build.set('width', figures(width));
    if (kind === 'cut' && shave !== null) build.set('shave', figures(shave));
    if (kind === 'read' && grid !== null) {
      const both = Array.from({ length: size }, (_, at) =>
        list(
          1,
          grid.map((one) => (has(one, at) ? n(one[at]!) : gap)),
        ),
      );
      build.set('reading', list(0, both));
    }
  }
  return build;
}

/** One cell, block by block. */
function model(specified: Row, blocks: readonly BlockOf[], at: number) {
  const cut = (upTo: number) =>
    blocks.findLastIndex((one, index) => index < upTo && one.kind === 'cut' && has(one.width, at));
  const aged = (upTo: number) =>
    blocks.findLastIndex(
      (one, index) => index < upTo && one.kind === 'cut' && (has(one.width, at) || has(one.shave, at)),
    );
  /** The newest reading before `upTo`, own or made of both ends; made ones have the older of their dates. */
  const reading = (upTo: number): { readonly value: number; readonly block: number } | null => {
    const own = blocks.findLastIndex((one, index) => index < upTo && one.kind === 'read' && has(one.width, at));
    const since = aged(upTo);
    const ends = [0, 1].map((end) =>
      blocks.findLastIndex(
        (one, index) => index < upTo && index > since && one.kind === 'read' && has(one.grid?.[end], at),
      ),
    );
    const made = Math.min(...ends);
    if (made > own)
      return { value: (blocks[ends[0]!]!.grid![0][at]! + blocks[ends[1]!]!.grid![1][at]!) / 2, block: made };
    return own < 0 ? null : { value: blocks[own]!.width![at]!, block: own };
  };
  const end = blocks.length;
  const lastCut = cut(end);
  const ordered = lastCut < 0 ? specified[at]! : blocks[lastCut]!.width![at]!;
  const newest = reading(end);
  const measured = newest !== null && newest.block > aged(end) ? newest.value : ordered;
  const stale = (): number | null => {
    for (let last = aged(end); last >= 0; last = aged(last)) {
      const before = reading(last);
      const found = before !== null && before.block < last ? before : null;
      if (found !== null) return found.value;
    }
    return specified[at]!;
  };
  return { specified: specified[at]!, ordered, measured, before: aged(end) < 0 ? measured : stale() };
}

describe('random histories', () => {
  it('give in every view what the sentences say, cell by cell', () => {
    fc.assert(
      fc.property(row, fc.array(block, { maxLength: 7 }), (specified, blocks) => {
        const plan = write(specified, blocks).plan();
        const shown = (x: number | null) => x ?? '_';
        for (const view of ['specified', 'ordered', 'before', 'measured'] as const) {
          const expected = Array.from({ length: size }, (_, at) => shown(model(specified, blocks, at)[view]));
          expect([view, cells(plan, 'width', view)]).toEqual([view, expected]);
        }
      }),
      { numRuns: 1500, seed: 42 },
    );
  });
});

/** A build with everything in it: practice, tolerances, derived values, readings of them, a ring, rules. */
interface Draft {
  readonly a: Row;
  readonly half: number;
  readonly before: Row | null;
  readonly cutAt: number | null;
  readonly read: Row | null;
  readonly gauge: string | null;
  readonly anchor: number | null;
  readonly given: number | null;
  readonly limit: number;
}
const draft: fc.Arbitrary<Draft> = fc.record({
  a: row,
  half: fc.constantFrom(0, 1, 2),
  before: fc.option(row),
  cutAt: fc.option(fc.integer({ min: 1, max: 50 })),
  read: fc.option(row),
  gauge: fc.option(fc.constantFrom('one', 'other')),
  anchor: fc.option(fc.integer({ min: 1, max: 99 })),
  given: fc.option(fc.integer({ min: 1, max: 9 })),
  limit: fc.integer({ min: 1, max: 150 }),
});

function fullWorld(): World {
  const made = new World().axis('row', size);
  made
    .property('a', { axes: ['row'] })
    .property('b', { formula: n(5), exact: true })
    .property('x')
    .property('y');
  made.slots[2] = { ...made.slots[2]!, formula: bin(made.read('y'), '+', n(1)) };
  made.slots[3] = { ...made.slots[3]!, formula: bin(made.read('x'), '-', n(1)) };
  made.derive('sum', bin(made.read('a'), '+', made.read('b')), { axes: ['row'] });
  made.derive('most', reduce('max', made.read('sum'), [0]));
  made.derive('lost', bin(made.in('ordered', 'a'), '-', made.in('before', 'a')), { axes: ['row'] });
  made.derive('worn', bin(made.in('before', 'a'), '-', made.read('a')), { axes: ['row'] });
  made.derive(
    'mixed',
    iff(bin(made.read('b'), '>', n(4)), bin(made.read('most'), '*', made.read('x')), made.read('b')),
  );
  made.property('limits', { type: limitsType, formula: limits(null, bin(made.read('b'), '*', n(20))) });
  made.rule('sum', [{ value: made.read('sum'), limits: made.read('limits') }]);
  made.rule('mixed', [{ value: made.read('mixed'), high: n(400) }], { when: bin(made.read('b'), '<', n(9)) });
  return made;
}

function writeFull(made: World, { a, half, before, cutAt, read, gauge, anchor, given, limit }: Draft): Build {
  const build = made.build().instrument('one', { resolution: 0.5, uncertainty: 2 });
  build.instrument('other', { resolution: 1, uncertainty: 1 });
  const toleranced1 = (x: number | null): Expr =>
    x === null ? gap : half === 0 ? n(x) : toleranced(x, x - half, x + half);
  build.give('a', list(0, a.map(toleranced1)));
  build.give('limits', limits(null, n(limit)), { layer: 'practice', whose: 'shop' });
  if (given !== null) build.give('b', n(given)).give('x', n(given));
  build.measured('one');
  if (anchor !== null) build.set('sum', n(anchor), { row: 2 });
  if (before !== null) build.set('a', figures(before));
  build.cut();
  if (cutAt !== null) build.set('a', bin(made.was('a'), '-', n(cutAt)), { row: 2 });
  build.measured(gauge);
  if (read !== null) build.set('a', figures(read));
  build.expect('most', [{ value: made.read('most'), high: n(limit + 20) }]).accept('sum', limits(null, n(120)));
  return build;
}

describe('random edits', () => {
  it('give to the last bit what a fresh plan gives', () => {
    fc.assert(
      fc.property(draft, fc.array(draft, { minLength: 1, maxLength: 4 }), (first, edits) => {
        const made = fullWorld();
        let plan = writeFull(made, first).plan();
        plan.outcome();
        let last = first;
        for (const edit of edits) {
          // one edit changes some of what the next draft says
          last = {
            ...last,
            ...Object.fromEntries(Object.entries(edit).filter(([name]) => (name.length + edit.limit) % 2 === 0)),
          };
          plan = writeFull(made, last).plan(plan);
          expect(snapshot(plan.outcome())).toEqual(snapshot(writeFull(made, last).plan().outcome()));
        }
      }),
      { numRuns: 150, seed: 7 },
    );
  });

  it('of a base give its variant to the last bit what a fresh plan gives', () => {
    fc.assert(
      fc.property(draft, fc.array(draft, { minLength: 1, maxLength: 3 }), (first, edits) => {
        const made = fullWorld();
        const variant = ({ limit, ...more }: Draft): Build => {
          const build = made.build().of(writeFull(made, { limit, ...more }));
          build.give('a', bin(made.was('a'), '+', n(1)), { at: { row: 1 } }).give('b', bin(made.was('b'), '*', n(2)));
          build.cut().set('a', bin(made.was('a'), '-', n(limit)), { row: 3 });
          return build.measured().set('sum', n(limit), { row: 3 });
        };
        let plan = variant(first).plan();
        plan.outcome();
        for (const edit of edits) {
          plan = variant(edit).plan(plan);
          expect(snapshot(plan.outcome())).toEqual(snapshot(variant(edit).plan().outcome()));
        }
      }),
      { numRuns: 80, seed: 11 },
    );
  });

  it('leave a variant, and a variant of it, the same whether its base was worked out before or not', () => {
    let taken = 0;
    fc.assert(
      fc.property(draft, draft, fc.constantFrom('nothing', 'limit', 'given', 'a', 'was', 'cut'), (first, of, what) => {
        const made = fullWorld();
        const second = (): BuildBinding => {
          const base = writeFull(made, first);
          const variant = made.build().of(base);
          if (what === 'limit') variant.give('limits', limits(null, n(of.limit)));
          if (what === 'given') variant.give('b', n(of.limit)).give('x', n(of.limit));
          if (what === 'a') variant.give('a', figures(of.a));
          if (what === 'was') variant.give('a', bin(made.was('a'), '+', n(1)), { at: { row: 2 } });
          if (what === 'cut') variant.cut().set('a', bin(made.was('a'), '-', n(of.limit)), { row: 3 });
          return made
            .build()
            .of(variant)
            .give('a', bin(made.was('a'), '*', n(2)), { at: { row: 1 } })
            .binding();
        };
        const [afterBase, alone] = [second(), second()];
        planBuild(afterBase.base!.base!).outcome();
        for (const pick of [(one: BuildBinding) => one.base!, (one: BuildBinding) => one]) {
          const [after, by] = [planBuild(pick(afterBase)), planBuild(pick(alone))];
          expect(snapshot(after.outcome())).toEqual(snapshot(by.outcome()));
          taken += by.evaluated - after.evaluated;
        }
      }),
      { numRuns: 120, seed: 3 },
    );
    expect(taken).toBeGreaterThan(0);
  });

  it('of one number evaluate only what depends on it', () => {
    const made = new World().axis('row', 8);
    for (let at = 0; at < 20; at++) {
      made.property(`p${at}`, { axes: ['row'] });
      made.derive(`d${at}`, bin(made.read(`p${at}`), '*', n(2)), { axes: ['row'] });
    }
    made.derive('all', reduce('sum', bin(made.read('d3'), '+', made.read('d4')), [0]));
    const write20 = (figure: number): Build => {
      const build = made.build();
      for (let at = 0; at < 20; at++) build.give(`p${at}`, n(at === 3 ? figure : at));
      return build;
    };
    const first = write20(3).plan();
    first.outcome();
    expect(first.evaluated).toBe(41);
    const second = write20(3.5).plan(first);
    second.outcome();
    // p3, d3 and all, once each: the other views are the same objects
    expect(second.evaluated).toBe(3);
    const third = write20(3.5).plan(second);
    third.outcome();
    expect(third.evaluated).toBe(0);
    expect(third.outcome().slots[0]!.views.measured).toBe(first.outcome().slots[0]!.views.measured);
  });
});
