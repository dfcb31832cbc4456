// What a figure is made of, cell by cell: which cells of which slots its formula reads for one cell of its own.
// Follows constant places, places given by another figure, and twin axes; leaves the rest open.
import type { AstNode } from 'langium';
import type { Expr, View } from '../semantics/ir.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { AxisId } from '../semantics/types/type.ts';
import { cellAt, held } from './cells.ts';
import { partsOf } from '../semantics/reads.ts';

export interface Input {
  readonly one: SlotOutcome;
  /** `null`: all along this axis. */
  readonly places: readonly (number | null)[];
  readonly view: View;
  readonly at: AstNode | null;
}

type Bound = ReadonlyMap<AxisId, number>;

/** The formula that speaks for a cell: of the figure itself, or the one that makes a reading of readings. */
export function speakingFormula(one: SlotOutcome, cell: number, view: View): Expr | null {
  if (one.sourceOf(cell, view)) return null;
  const { slot } = one;
  return one.layerOf(cell, view) === 'measured' && slot.measuredBy ? slot.measuredBy : slot.formula;
}

export function inputsOf(
  outcome: Outcome,
  formula: Expr,
  one: SlotOutcome,
  places: readonly number[],
  view: View,
): Input[] {
  const inputs: Input[] = [];
  const seen = new Set<string>();
  const bySlot = new Map(outcome.slots.map((each) => [each.slot.id, each]));

  const visit = (expr: Expr, bound: Bound, inView: View): void => {
    if (expr.op === 'slot') return add(expr.slot, bound, inView, expr.at);
    if (expr.op === 'view' && expr.view !== 'computed') return visit(expr.of, bound, expr.view);
    if (expr.op === 'gather') {
      visit(expr.of, rebound(bound, expr.axis, placeMeant(expr.index, bound, inView)), inView);
      return visit(expr.index, bound, inView);
    }
    if (expr.op === 'retitle') return visit(expr.of, rebound(bound, expr.from, bound.get(expr.to)), inView);
    const open = expr.op === 'reduce' ? expr.over : expr.op === 'along' ? [expr.axis] : [];
    const inside = open.reduce<Bound>((less, axis) => rebound(less, axis, undefined), bound);
    for (const operand of partsOf(expr)) visit(operand, inside, inView);
  };

  const add = (id: number, bound: Bound, inView: View, at: AstNode | null): void => {
    const read = bySlot.get(id);
    if (!read) return;
    const readPlaces = read.axes.map((axis) => bound.get(axis.id) ?? null);
    const key = `${id} ${readPlaces.join()} ${inView} ${at?.$cstNode?.offset ?? ''}`;
    if (seen.has(key)) return;
    seen.add(key);
    inputs.push({ one: read, places: readPlaces, view: inView, at });
  };

  const placeMeant = (index: Expr, bound: Bound, inView: View): number | undefined => {
    if (index.op === 'constant') return index.value;
    if (index.op === 'place') return bound.get(index.axis);
    if (index.op !== 'slot') return undefined;
    const read = bySlot.get(index.slot);
    const readPlaces = read?.axes.map((axis) => bound.get(axis.id));
    if (!read || !readPlaces || readPlaces.includes(undefined)) return undefined;
    const content = held(read.views[inView], read.axes, cellAt(read.axes, readPlaces as number[]));
    return content.is === 'number' ? content.value : undefined;
  };

  visit(formula, new Map(one.axes.map((axis, at) => [axis.id, places[at] ?? 0])), view);
  return inputs;
}

function rebound(bound: Bound, axis: AxisId, place: number | undefined): Bound {
  const changed = new Map(bound);
  if (place === undefined) changed.delete(axis);
  else changed.set(axis, place);
  return changed;
}

/** The one cell that is read; null where it is several. */
export function singleCell({ one, places }: Pick<Input, 'one' | 'places'>): number | null {
  return places.includes(null) ? null : cellAt(one.axes, places as readonly number[]);
}
