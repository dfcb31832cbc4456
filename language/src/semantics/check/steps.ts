/**
 * Which cells of a slot one cell of a formula rests on: the same places on common axes, and where an index stands on the
 * slot the place that the index gives. Too many pairs, or an index that runs along other axes: all places.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { cellsFrom, markAt, sizeOf } from '../plan/cells.ts';
import { placesOf } from '../plan/labels.ts';
import { readsLocals, turnsTo } from '../reads.ts';
import type { Turn } from '../reads.ts';
import type { Plan } from '../plan/run.ts';

/** Pairs of cells; null: as common axes say. */
export type Steps = { readonly from: Int32Array; readonly to: Int32Array } | null;

const mostPairs = 1_000_000;

export function stepsTo(
  plan: Plan,
  exprs: readonly Expr[],
  axes: readonly Axis[],
  slot: SlotId,
  slotAxes: readonly Axis[],
): Steps {
  const reads = exprs.flatMap((expr) => turnsTo(expr, slot));
  if (!reads.some((turns) => turns.length > 0) || sizeOf(axes) * sizeOf(slotAxes) > mostPairs) return null;
  const from: number[] = [];
  const to: number[] = [];
  for (const turns of reads) {
    const ways = waysOf(plan, turns, axes, slotAxes);
    for (let cell = 0; cell < sizeOf(axes); cell++)
      for (let below = 0; below < sizeOf(slotAxes); below++)
        if (ways.every((way) => way(cell, below))) {
          from.push(cell);
          to.push(below);
        }
  }
  return { from: Int32Array.from(from), to: Int32Array.from(to) };
}

type Way = (cell: number, below: number) => boolean;

/** One condition for each axis of the slot. */
function waysOf(plan: Plan, turns: readonly Turn[], axes: readonly Axis[], slotAxes: readonly Axis[]): readonly Way[] {
  const cellPlaces = Array.from({ length: sizeOf(axes) }, (_, cell) => placesOf(cell, axes));
  const belowPlaces = Array.from({ length: sizeOf(slotAxes) }, (_, cell) => placesOf(cell, slotAxes));
  return slotAxes.flatMap((axis, at): readonly Way[] => {
    const turn = turns.find((one) => one.axis === axis.id);
    const index = turn?.index ?? null;
    if (index !== null) {
      const places = placesGiven(plan, index, axes);
      return places === null
        ? []
        : [(cell, below) => Number.isNaN(places[cell]!) || places[cell] === belowPlaces[below]![at]];
    }
    const own = axes.findIndex((one) => one.id === (turn?.twin ?? axis.id));
    return own < 0 ? [] : [(cell, below) => cellPlaces[cell]![own] === belowPlaces[below]![at]];
  });
}

/** What an index gives for each cell: NaN where that is missing; null where it does not lie along these axes alone. */
function placesGiven(plan: Plan, index: Expr, axes: readonly Axis[]): Float64Array | null {
  if (readsLocals(index)) return null;
  const tensor = plan.aside(index);
  if (tensor === null || !tensor.axes.every((axis) => axes.includes(axis))) return null;
  return Float64Array.from(cellsFrom(tensor.axes, axes), (cell) => figureAt(tensor, cell));
}

function figureAt(tensor: Tensor, cell: number): number {
  return markAt(tensor.mark, cell) >= Mark.missing ? NaN : tensor.data[cell]!;
}
