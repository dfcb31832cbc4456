/**
 * States against many trials of the same build, over random builds. With a guard of 1.65 standard uncertainties a figure that surely holds is
 * beyond its limit in 5 of 100 trials at most where what is unsure is normal, 2.4 where it is rectangular, 5.3 where it is two rectangles
 * alike; so 6 are allowed on each side, 2 are due where it is too close to call, and three standard deviations of the count beyond either.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { simulated } from '../../../language/src/semantics/certainty/monte-carlo.ts';
import { stackOf } from '../../../language/src/semantics/certainty/ranking.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import type { CheckState } from '../../../language/src/semantics/plan/outcome.ts';
import type { Plan } from '../../../language/src/semantics/plan/run.ts';
import { apply, bin, n, toleranced } from '../evaluate/build.ts';
import { World } from '../plan/build.ts';
import type { Build } from '../plan/build.ts';

const trials = 2000;
const [most, least] = [0.06, 0.02];
const spread = (share: number): number => 3 * Math.sqrt((share * (1 - share)) / trials);

/** How an input came to be known. `half` is of its size. */
interface Input {
  readonly value: number;
  readonly how: 'exact' | 'tolerance' | 'lopsided' | 'read' | 'read with ±' | 'repeated';
  readonly half: number;
  readonly gauge: 'one' | 'other';
  /** How much it was when it was read before it ran. */
  readonly earlier: { readonly value: number; readonly gauge: 'one' | 'other' } | null;
}
/** A formula over inputs by number, and behind them over the same as they were before, if they were read; only smooth ones, and divisors are inputs themselves. */
type Tree = number | readonly ['+' | '-' | '*', Tree, Tree] | readonly ['/', Tree, number] | readonly ['sqrt', number];
interface Case {
  readonly inputs: readonly Input[];
  readonly tree: Tree;
  /** Where the limits lie, in standard uncertainties from the figure. */
  readonly low: number | null;
  readonly high: number | null;
  readonly limitMoves: boolean;
}

const size = fc.integer({ min: 100, max: 999 }).map((value) => value / 100);
const gauge = fc.constantFrom<('one' | 'other')[]>('one', 'other');
const input = fc.record<Input>({
  value: size,
  how: fc.constantFrom('exact', 'tolerance', 'lopsided', 'read', 'read', 'read with ±', 'read with ±', 'repeated'),
  half: fc.integer({ min: 1, max: 20 }).map((half) => half / 10_000),
  gauge,
  earlier: fc.option(fc.record({ value: size, gauge })),
});
const count = 4;
const leaf = fc.nat(2 * count - 1);
const { tree } = fc.letrec<{ tree: Tree }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    leaf,
    fc.tuple(fc.constantFrom('+', '-', '*'), tie('tree'), tie('tree')),
    fc.tuple(fc.constant('/' as const), tie('tree'), leaf),
    fc.tuple(fc.constant('sqrt' as const), leaf),
  ),
}));
const away = fc.integer({ min: -40, max: 40 }).map((tenths) => tenths / 10);
const anyCase = fc.record<Case>({
  inputs: fc.array(input, { minLength: count, maxLength: count }),
  tree,
  low: fc.option(away.map((by) => -Math.abs(by))),
  high: fc.option(away),
  limitMoves: fc.boolean(),
});

function formula(world: World, of: Tree, inputs: readonly Input[]): Expr {
  const made = (one: Tree): Expr => formula(world, one, inputs);
  if (typeof of === 'number') {
    const [at, path] = [of % count, `x${of % count}`];
    return of < count || inputs[at]!.earlier === null ? world.read(path) : world.in('before', path);
  }
  return of[0] === 'sqrt' ? apply('sqrt', [made(of[1])]) : bin(made(of[1]), of[0], made(of[2]));
}

function worldOf(one: Case): World {
  const world = new World();
  world.property('hours');
  one.inputs.forEach((_, at) => world.property(`x${at}`, { changedBy: ['hours'] }));
  world.property('slack');
  return world.derive('y', formula(world, one.tree, one.inputs));
}

function filled(world: World, { inputs }: Case): Build {
  const build = world.build();
  build.instrument('one', { resolution: 0.004, uncertainty: 0.006 });
  build.instrument('other', { resolution: 0.001, uncertainty: 0.01 });
  inputs.forEach(({ earlier }, at) => {
    if (earlier !== null) build.measured(earlier.gauge).set(`x${at}`, n(earlier.value));
  });
  build.cut().set('hours', n(31));
  inputs.forEach(({ value, how, half, gauge }, at) => {
    const path = `x${at}`;
    const by = value * half;
    if (how === 'exact') build.give(path, n(value));
    else if (how === 'tolerance') build.give(path, toleranced(value, value - by, value + by));
    else if (how === 'lopsided') build.give(path, toleranced(value, value - by / 4, value + by));
    else if (how === 'read') build.measured(gauge).set(path, n(value));
    else if (how === 'read with ±') build.measured(gauge).set(path, toleranced(value, value - by, value + by));
    else build.measured(gauge).set(path, repeated([value - by, value + by, value, value + by / 2]));
  });
  return build.give('slack', toleranced(0, -0.01, 0.01));
}

function repeated(readings: readonly number[]): Expr {
  const all = readings.map((reading) => n(reading));
  return { op: 'repeated', readings: all, type: all[0]!.type, at: null };
}

/** The same build with limits in the given distance of its figure; those may be unsure themselves. */
function withLimits(one: Case): { readonly plan: Plan; readonly sides: readonly ('low' | 'high')[] } {
  const bare = filled(worldOf(one), one).plan();
  const { middle, uncertainty } = stackOf(bare, bare.schema.slotAt.get('y')!)[0]!;
  const u = uncertainty === 0 ? 0.01 : uncertainty;
  const world = worldOf(one);
  const limit = (by: number | null): Expr | null => {
    if (by === null) return null;
    return one.limitMoves ? bin(n(middle + by * u), '+', world.read('slack')) : n(middle + by * u);
  };
  const high = one.high ?? (one.low === null ? 0.5 : null);
  world.rule('holds', [{ value: world.read('y'), low: limit(one.low), high: limit(high) }]);
  const sides = [one.low === null ? null : 'low', high === null ? null : 'high'] as const;
  return { plan: filled(world, one).plan(), sides: sides.filter((side) => side !== null) };
}

/** Of all trials, how many lie beyond each limit. */
function beyond(plan: Plan, sides: readonly ('low' | 'high')[]): readonly number[] {
  const comparison = plan.schema.rules[0]!.demand.comparisons[0]!;
  const ends = sides.map((side) => ({ expr: comparison[side]! }));
  const [value, ...limits] = simulated(plan, [{ slot: plan.schema.slotAt.get('y')! }, ...ends], { trials, seed: 5 });
  return limits.map(({ columns }, at) => {
    const sign = sides[at] === 'low' ? 1 : -1;
    const out = columns[0]!.filter((limit, trial) => sign * (value!.columns[0]![trial]! - limit) < 0);
    return out.length / trials;
  });
}

describe('states', () => {
  it('never contradict many trials of the same build', () => {
    const seen = new Map<CheckState, number>();
    fc.assert(
      fc.property(anyCase, (one) => {
        const { plan, sides } = withLimits(one);
        const { state } = plan.outcome().checks.find(({ id }) => id === 'holds')!;
        const out = beyond(plan, sides);
        seen.set(state, (seen.get(state) ?? 0) + 1);
        if (state.startsWith('holds')) for (const share of out) expect(share).toBeLessThan(most + spread(most));
        else if (state === 'out-of-limits') expect(Math.max(...out)).toBeGreaterThan(1 - most - spread(most));
        else {
          expect(state).toBe('at-risk');
          const doubtful = out.some((share) => share > least - spread(least) && share < 1 - least + spread(least));
          expect(doubtful).toBe(true);
        }
      }),
      { seed: 983, numRuns: 320 },
    );
    // every state was met often enough to mean something
    for (const state of ['holds-measured', 'holds-on-paper', 'at-risk', 'out-of-limits'] as const)
      expect(seen.get(state), state).toBeGreaterThan(12);
  });

  it('call what is one standard uncertainty from its limit, on either side, too close', () => {
    const one = fc.record({ of: anyCase, by: fc.constantFrom(-1, 1) });
    fc.assert(
      fc.property(one, ({ of, by }) => {
        const near: Case = { ...of, low: null, high: by, limitMoves: false };
        const { plan } = withLimits(near);
        const { middle, uncertainty } = stackOf(plan, plan.schema.slotAt.get('y')!)[0]!;
        // more than the last bits of what cancels
        fc.pre(uncertainty > 1e-9 * Math.abs(middle));
        expect(plan.outcome().checks.find(({ id }) => id === 'holds')!.state).toBe('at-risk');
      }),
      { seed: 14_253, numRuns: 100 },
    );
  });
});
