// Ways back from a target, in figures and in words: what is changed to what, what that brings, what else moves, what no longer holds.
import type {
  ChangeResult,
  GoalResult,
  MovedResult,
  NoWayResult,
  StandingResult,
  WayResult,
} from '@thou/shared/result/solve';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { planBuild } from '../semantics/plan/run.ts';
import { consequencesOf } from '../semantics/solve/consequences.ts';
import type { Goal, Goals } from '../semantics/solve/goals.ts';
import { figuresOf, withMoves } from '../semantics/solve/reach.ts';
import type { Changed, Move, Moved } from '../semantics/solve/records.ts';
import type { NoWay, Way } from '../semantics/solve/work-back.ts';
import { address, placeName, placesOf } from './cells.ts';
import { headline } from './headline.ts';
import { listed } from './place.ts';
import { inUnit, showingOfFormula, showingsIn } from './units.ts';
import type { Showing } from './units.ts';
import { lastDigit, quantityIn, styleOf } from './writing.ts';
import { fromSI } from '@thou/shared/unit/unit';

export interface Desk {
  readonly outcome: Outcome;
  readonly goals: Goals;
  /** The part on the shelf with that size. */
  partOf(slot: number, size: number): string | null;
}

export function wayResult({ outcome, goals, partOf }: Desk, way: Way): WayResult {
  const after = withMoves(planBuild(outcome.binding, undefined, outcome.texts), way.moves).outcome();
  const consequences = consequencesOf(outcome, after, lastDigit(outcome));
  const turned = new Set(way.moves.map(({ slot }) => slot));
  const checked = checkedSlots(outcome);
  const moved = withMoves(goals.plan, way.moves);
  return {
    changes: way.moves.map((move, at) => changeResult(outcome, move, way.exact[at]!, way.bought ? partOf : () => null)),
    goals: goals.all.map((goal) => goalResult(outcome, goal, figuresOf(goals.plan, goal), figuresOf(moved, goal))),
    moved: consequences.moved
      .filter(({ before: { slot } }) => !turned.has(slot.id))
      .map((one) => movedResult(outcome, one, checked)),
    worse: consequences.worse.map((one) => standingResult(after, one)),
    better: consequences.better.map((one) => standingResult(after, one)),
  };
}

function checkedSlots({ checks }: Outcome): ReadonlySet<number> {
  return new Set(checks.flatMap(({ slot, state }) => (slot === null || state === 'not-applicable' ? [] : [slot.id])));
}

function changeResult(
  outcome: Outcome,
  { slot, to, from }: Move,
  exact: ReadonlyMap<number, number>,
  partOf: Desk['partOf'],
): ChangeResult {
  const one = outcome.slots[slot]!;
  const { unit } = styleOf(outcome, slot, [...to.keys()][0] ?? 0);
  const figure = (si: number): number => (unit === null ? si : fromSI(si, unit));
  const parts = new Set([...to.values()].map((size) => partOf(slot, size)));
  return {
    path: one.slot.path,
    unit: unit?.symbol ?? null,
    cells: [...to].map(([cell, size]) => ({
      at: atPlaces(one.axes, placesOf(one.axes, cell)),
      from: figure(from.get(cell)!),
      to: figure(size),
      exact: exact.has(cell) ? figure(exact.get(cell)!) : null,
    })),
    bought: one.slot.features.includes('bought'),
    part: parts.size === 1 ? [...parts][0]! : null,
  };
}

function atPlaces(axes: readonly Axis[], places: readonly number[]): Readonly<Record<string, string | number>> {
  return Object.fromEntries(axes.map((axis, at) => [axis.name, placeName(axis, places[at] ?? 0)]));
}

/** In the unit in which the goal's figure is shown. */
export function showingOfGoal(outcome: Outcome, { comparison }: Pick<Goal, 'comparison'>): Showing {
  const slot = comparison.slot === null ? undefined : outcome.binding.schema.slots[comparison.slot];
  return slot ? showingsIn(outcome, slot)[0]! : showingOfFormula(comparison.value, outcome.binding.schema);
}

function goalResult(outcome: Outcome, goal: Goal, before: Float64Array, after: Float64Array): GoalResult {
  const showing = showingOfGoal(outcome, goal);
  return {
    goal: goal.text,
    unit: showing.unit?.symbol ?? null,
    before: ends(before, showing),
    after: ends(after, showing),
  };
}

function ends(figures: Float64Array, showing: Showing): readonly [number, number] | null {
  const known = [...figures].filter(Number.isFinite).map((si) => inUnit(si, showing));
  return known.length === 0 ? null : [Math.min(...known), Math.max(...known)];
}

function movedResult(outcome: Outcome, { before, cell, from, to }: Moved, checked: ReadonlySet<number>): MovedResult {
  const [showing] = showingsIn(outcome, before.slot);
  return {
    path: before.slot.path,
    unit: showing!.unit?.symbol ?? null,
    at: atPlaces(before.axes, placesOf(before.axes, cell)),
    from: inUnit(from, showing!),
    to: inUnit(to, showing!),
    checked: checked.has(before.slot.id),
  };
}

function standingResult(after: Outcome, { id, before, after: now }: Changed): StandingResult {
  return {
    id,
    before: before?.state ?? 'not-applicable',
    after: now?.state ?? 'not-applicable',
    message: now === null ? '' : headline(after, now),
  };
}

export function noWayResult(outcome: Outcome, { targets, target, cell, why, to }: NoWay): NoWayResult {
  const turned = targets.map(({ slot }) => slot.path);
  const style = styleOf(outcome, target.slot.id, cell);
  const from = target.from.get(cell)!;
  const name = address(outcome.binding.schema, target.slot, target.axes, placesOf(target.axes, cell));
  if (why === 'as-near')
    return {
      turned,
      why,
      message: `${listed(turned)} ${turned.length === 1 ? 'is' : 'are'} as near as can be written already`,
    };
  if (why === 'out-of-reach' || to === null)
    return { turned, why, message: `turning ${listed(turned)} does not bring it about, as far as it may go` };
  const way = to > from ? 'larger' : 'smaller';
  return {
    turned,
    why,
    message: `${name} would have to go to ${quantityIn(to, style)}, and it cannot be made ${way} again`,
  };
}
