/**
 * What the interpreter asks of the plan while it runs one expression. The interpreter knows no layers and no slots' formulas;
 * the plan knows no arithmetic. All tensors here follow value.ts: marks, NaN where there is no figure, lanes (id -1) anywhere.
 */
import type { AstNode } from 'langium';
import type { SlotId, View } from '../ir.ts';
import type { AxisId } from '../types/type.ts';
import type { Axis, Tensor, Value } from './value.ts';

export interface EvalContext {
  /** The view that a plain read of a slot is taken in. */
  readonly view: View;

  /** The axis as it is here: settled, or the one that `withAxis` put in its place. */
  axis(id: AxisId): Axis;
  /** Coordinates in SI, along [axis(id)]; where `withAxis` replaced it, those that it was given. */
  coordinates(id: AxisId): Tensor;
  /** True where the axis was declared with a step: its places are samples of something continuous. */
  stepped(id: AxisId): boolean;
  /** The axis made by a value that brings its own size (pooled, offered, keys, values): one object for the same size and labels. */
  openAxis(id: AxisId, size: number, labels: readonly string[] | null): Axis;

  slot(id: SlotId, view: View): Value;
  /** The formula of a derive without its readings. */
  computed(id: SlotId, view: View): Value;
  /** The value just before the block that is being laid. */
  was(id: SlotId): Value;

  /** Flags along the slot's axes: has the cell a figure of its own, above its default? */
  given(id: SlotId, view: View): Tensor;
  machined(id: SlotId, view: View): Tensor;
  /** False where the mount is absent; asks nothing of the slot's value. */
  present(id: SlotId, view: View): Tensor;
  /** Days since 1970-01-01; missing where the cell is not read. */
  readOn(id: SlotId, view: View): Tensor;
  /** Kelvin. */
  readAt(id: SlotId, view: View): Tensor;
  /** Standard uncertainty, SI. */
  uncertainty(id: SlotId, view: View): Tensor;

  /**
   * The same, but with another axis (other size, other coordinates) in the place of one that is settled. `coordinates` has `axis` among
   * its axes and may vary along others too. What depends on the axis through formulas is evaluated anew; figures that were *given* along
   * the axis stay as they are, along the settled axis object (the interpreter sees that by its identity and falls back to a parabola).
   */
  withAxis(id: AxisId, axis: Axis, coordinates: Tensor): EvalContext;
  /** The same with the settled axis back in its place; the context itself where nothing was put there. */
  withSettled(id: AxisId): EvalContext;
  withView(view: View): EvalContext;

  /** Why a cell came out missing, in words: "no angle between 0 and 90", "the root of a negative figure". Several may come for one formula. */
  missing(reason: string, at: AstNode | null): void;
  /** A slip in the text that only shows with sizes known. */
  problem(code: EvaluationProblem, args: Readonly<Record<string, string>>, at: AstNode | null): void;
}

export type EvaluationProblem =
  /** args due, here, axis */
  | 'list.too-short'
  | 'list.too-long'
  /** args key, axis */
  | 'list.no-such-place'
  /** args key, axis */
  | 'axes.duplicate-key'
  /** args axis */
  | 'list.others-covers-nothing'
  /** args key, axis, file, line */
  | 'table.no-such-place';
