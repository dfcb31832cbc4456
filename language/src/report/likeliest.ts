// Which of the figures that a finding rests on is looked at first, and which cells of it.
import type { Expr, SlotId } from '../semantics/ir.ts';
import type { CheckCell, CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import { slotsIn } from '../semantics/reads.ts';
import type { Schema } from '../semantics/schema/schema.ts';
import { adjustsFor } from '../semantics/solve/targets.ts';
import { cellAt, held, placesOf } from './cells.ts';
import { worstOf } from './check-words.ts';

export type Blamed = CheckOutcome['blame'][number];

/**
 * What the checked value is made of goes before what only its limits hang on, such as what sort of thing it is; a reading
 * that is off its size before what nothing is known of, that before a reading that is to size. Then in the order of the
 * layers; of one layer first the one figure that may be turned, or, where a set is to be alike, the one out of line.
 */
export function likeliestFirst(
  outcome: Outcome,
  check: CheckOutcome,
  blame: readonly Blamed[] = check.blame,
): readonly Blamed[] {
  if (blame.length < 2) return blame;
  const { schema } = outcome.binding;
  const made = valuesMadeOf(schema, check);
  const turned = adjustsFor(schema, check);
  const isSet = turned.some(({ even }) => even);
  const layers = blame.map(({ slot, cell }) => outcome.slots[slot]!.layerOf(cell, 'measured'));
  const ranks = blame.map((one, at) => [
    made === null || made.has(one.slot) ? 0 : 1,
    check.kind === 'to-size' ? 0 : sizeRank(outcome, check, one),
    layers.indexOf(layers[at]!),
    turned.length === 1 && turned[0]!.slot === one.slot ? 0 : 1,
    isSet ? -(outOfLine(outcome, one)?.byFar ?? 0) : 0,
    at,
  ]);
  return ranks
    .toSorted((a, b) => a.map((rank, at) => compared(rank, b[at]!)).find((apart) => apart !== 0) ?? 0)
    .map((rank) => blame[rank.at(-1)!]!);
}

function compared(a: number, b: number): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Of the cells that the worst cell rests on, its own, where the figure runs along the same axes. */
export function ownCells(outcome: Outcome, check: CheckOutcome, blamed: Blamed): readonly number[] {
  if (check.axes.length === 0 && adjustsFor(outcome.binding.schema, check).some(({ even }) => even)) {
    const oddOne = outOfLine(outcome, blamed);
    if (oddOne !== null) return [oddOne.cell];
  }
  const worst = worstOf(cellsOut(check));
  const own = worst === null ? [] : beside(outcome, check, blamed.slot, blamed.cells, [worst]);
  return own.length === 0 ? blamed.cells : own;
}

function cellsOut({ cells, state }: CheckOutcome): readonly CheckCell[] {
  return cells.filter((cell) => cell.state === state);
}

/** Of these cells of a figure those that have the places of cells of the check, as far as both run along the same axes. */
function beside(
  { slots }: Outcome,
  check: CheckOutcome,
  slot: SlotId,
  cells: readonly number[],
  out: readonly CheckCell[],
): readonly number[] {
  const { axes } = slots[slot]!;
  const shared = check.axes.map(({ id }) => axes.findIndex((axis) => axis.id === id));
  return cells.filter((cell) => {
    const places = placesOf(axes, cell);
    return out.some((one) => shared.every((axis, at) => axis < 0 || places[axis] === one.places[at]));
  });
}

/** Of a set the cell that stands farthest from the middle, and how many times as far as is usual in it. */
function outOfLine(
  outcome: Outcome,
  { slot, cells }: Blamed,
): { readonly cell: number; readonly byFar: number } | null {
  const { axes, views } = outcome.slots[slot]!;
  const figures = cells.flatMap((cell) => {
    const one = held(views.measured, axes, cell);
    return one.is === 'number' ? [{ cell, value: one.value }] : [];
  });
  if (figures.length < 3) return null;
  const middle = middleOf(figures.map(({ value }) => value));
  const offs = figures.map(({ cell, value }) => ({ cell, off: Math.abs(value - middle) }));
  const farthest = offs.reduce((far, one) => (one.off > far.off ? one : far));
  if (farthest.off === 0) return null;
  return { cell: farthest.cell, byFar: farthest.off / middleOf(offs.map(({ off }) => off)) };
}

function middleOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** 0: readings that are out of the size asked for, or may be, wherever the check is out; 2: some of them are to size; 1: nobody can say. */
function sizeRank(outcome: Outcome, check: CheckOutcome, { slot, cells }: Blamed): 0 | 1 | 2 {
  const judged = sizesOf(outcome).get(slot);
  if (judged === undefined) return 1;
  const { axes } = outcome.slots[slot]!;
  const isAlong = check.axes.some(({ id }) => axes.some((axis) => axis.id === id));
  const all = isAlong ? beside(outcome, check, slot, [...judged.keys()], cellsOut(check)) : cells;
  const states = all.map((cell) => judged.get(cell)?.state);
  if (states.includes('holds-measured')) return 2;
  return states.some((state) => state === 'out-of-limits' || state === 'at-risk') ? 0 : 1;
}

const sizes = new WeakMap<Outcome, ReadonlyMap<SlotId, ReadonlyMap<number, CheckCell>>>();

function sizesOf(outcome: Outcome): ReadonlyMap<SlotId, ReadonlyMap<number, CheckCell>> {
  const known = sizes.get(outcome);
  if (known) return known;
  const found = new Map(
    outcome.checks.flatMap((check) => {
      if (check.kind !== 'to-size' || check.slot === null) return [];
      return [[check.slot.id, new Map(check.cells.map((cell) => [cellAt(check.axes, cell.places), cell]))] as const];
    }),
  );
  sizes.set(outcome, found);
  return found;
}

/** Null where it is not known apart from the limits. */
function valuesMadeOf(schema: Schema, { kind, rule, expect }: CheckOutcome): ReadonlySet<SlotId> | null {
  const comparisons = kind === 'to-size' ? [] : ((rule ?? expect)?.demand.comparisons ?? []);
  const values = comparisons.map(({ value }) => value);
  return values.length === 0 ? null : madeOf(schema, values);
}

const madeByFormula = new WeakMap<Expr, ReadonlySet<SlotId>>();

/** What figures go into these formulas; a choice only picks among them. */
function madeOf({ slots }: Schema, exprs: readonly Expr[]): ReadonlySet<SlotId> {
  const known = madeByFormula.get(exprs[0]!);
  if (known) return known;
  const found = new Set(exprs.flatMap(slotsIn));
  for (const id of found) {
    const { formula, measuredBy, type } = slots[id]!;
    if (type.is !== 'measure') continue;
    for (const expr of [formula, measuredBy]) for (const read of expr ? slotsIn(expr) : []) found.add(read);
  }
  madeByFormula.set(exprs[0]!, found);
  return found;
}
