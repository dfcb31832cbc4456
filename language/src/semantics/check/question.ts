/**
 * One comparison of a check, ready to be judged: value and limits cell by cell along the check's axes, with what each is
 * worth and how it moves as toleranced figures move. Judges nothing.
 */
import { guardFactor } from '../certainty/decision.ts';
import { along, cellsFrom, markAt, sizeOf } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes, isBounded } from '../plan/sensitivities.ts';
import type { Spread } from '../plan/sensitivities.ts';
import type { Source } from '../plan/unsure.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import type { Comparison, Origin } from '../schema/schema.ts';

/** A limit on one side. Without one: ∓Infinity, exact. */
export interface Side {
  readonly data: Float64Array;
  readonly mark: Uint8Array;
  readonly open: boolean;
  /** Null where it does not move with any tolerance. */
  readonly spread: Spread | null;
}

export interface Question {
  readonly comparison: Comparison | null;
  readonly value: Side;
  readonly low: Side;
  readonly high: Side;
  /** How many standard uncertainties must lie between value and limit before it surely holds, or is surely out. */
  readonly guard: number;
}

/** How far each source moves one cell of a side from where it is with all toleranced figures at their middles. */
export interface Movement {
  readonly middle: number;
  /** By the source's id. */
  readonly moves: ReadonlyMap<string, { readonly source: Source; readonly by: number }>;
}

/** Values of a comparison as they stand in one plan (the build itself, or lanes of it). */
export interface Read {
  readonly value: Value;
  readonly low: Tensor | null;
  readonly high: Tensor | null;
}

export function readComparison(plan: Plan, comparison: Comparison, origin: Origin): Read {
  const value = plan.watch(comparison.value, origin).value;
  const limits = comparison.limits === null ? null : plan.watch(comparison.limits, origin).value;
  if (limits !== null) {
    // limits that are not there at all, or are no limits: missing on both sides
    if (limits.is === 'limits') return { value, low: limits.low, high: limits.high };
    return { value, low: tensorOf(limits), high: tensorOf(limits) };
  }
  const end = (expr: Expr | null): Tensor | null => (expr === null ? null : tensorOf(plan.watch(expr, origin).value));
  return { value, low: end(comparison.low), high: end(comparison.high) };
}

export function tensorOf(value: Value): Tensor {
  if (value.is === 'numbers') return value.tensor;
  const axes = axesWithoutLanes(value);
  const size = sizeOf(axes);
  return { axes, data: new Float64Array(size).fill(NaN), mark: new Uint8Array(size).fill(Mark.missing) };
}

/** Axes of all values together, each once, in the order in which they come. */
export function unionOfAxes(values: readonly (Value | Tensor | null)[]): readonly Axis[] {
  const all: Axis[] = [];
  for (const value of values) {
    if (value === null) continue;
    const axes = 'is' in value ? axesWithoutLanes(value) : value.axes;
    for (const axis of axes) if (!all.some((known) => known.id === axis.id)) all.push(axis);
  }
  return all;
}

export function sideOf(tensor: Tensor, axes: readonly Axis[], open: boolean, spread: Spread | null): Side {
  const laid = along(tensor, axes);
  return { data: laid.data, mark: Uint8Array.from(laid.data, (_, cell) => markAt(laid.mark, cell)), open, spread };
}

export function noSide(axes: readonly Axis[], figure: number): Side {
  const size = sizeOf(axes);
  return { data: new Float64Array(size).fill(figure), mark: new Uint8Array(size), open: false, spread: null };
}

export function questionOf(plan: Plan, comparison: Comparison, read: Read, axes: readonly Axis[]): Question {
  const spreadOf = (expr: Expr | null): Spread | null => (expr === null ? null : plan.sensitivities().ofExpr(expr));
  const { lowOpen, highOpen } = comparison;
  return {
    comparison,
    guard: guardFactor(plan),
    value: sideOf(tensorOf(read.value), axes, false, spreadOf(comparison.value)),
    low: read.low === null ? noSide(axes, -Infinity) : sideOf(read.low, axes, lowOpen, spreadOf(comparison.low)),
    high: read.high === null ? noSide(axes, Infinity) : sideOf(read.high, axes, highOpen, spreadOf(comparison.high)),
  };
}

/** A side's movement in one cell; of limits that stand still only the figure. */
export function movementOf(side: Side, axes: readonly Axis[], cell: number): Movement {
  const { spread } = side;
  if (spread === null || spread.moves.length === 0) return { middle: side.data[cell]!, moves: new Map() };
  const at = cellsFrom(spread.axes, axes)[cell]!;
  const moves = new Map<string, { source: Source; by: number }>();
  for (const { source, by } of spread.moves) if (by[at] !== 0) moves.set(source.id, { source, by: by[at]! });
  return { middle: moves.size === 0 ? side.data[cell]! : spread.middle[at]!, moves };
}

/** `a` less `b`, source by source: what both share cancels. */
export function difference(a: Movement, b: Movement): Movement {
  const moves = new Map(a.moves);
  for (const [id, { source, by }] of b.moves) moves.set(id, { source, by: (moves.get(id)?.by ?? 0) - by });
  return { middle: a.middle - b.middle, moves };
}

export function uncertaintyOf(movement: Movement): number {
  let sum = 0;
  for (const { source, by } of movement.moves.values()) sum += (by * source.deviation) ** 2;
  return Math.sqrt(sum);
}

export function reachOf(movement: Movement): number {
  let sum = 0;
  for (const { source, by } of movement.moves.values()) if (isBounded(source)) sum += Math.abs(by);
  return sum;
}
