/** What the parts of the plan share: the build as given, its axes and masks, and what has been worked out. */
import type { Axis, Value } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import type { Schema, Slot } from '../schema/schema.ts';
import type { AxisTable } from './axes.ts';
import type { Shape } from './cells.ts';
import type { Figure, Given } from './figures.ts';
import type { Mask } from './masks.ts';
import type { Node } from './memo.ts';
import type { Clock, Moment } from './moments.ts';

/** Who speaks in a cell: a place among the slot's figures (specified ones, then its history), or one of these. */
export const Speaker = { none: -1, formula: -2, made: -10 } as const;

export interface Workings {
  readonly schema: Schema;
  readonly given: Given;
  readonly clock: Clock;
  readonly axes: AxisTable;
  /** True in a plan some of whose inputs were put in the place of the given ones. */
  readonly overridden: boolean;
  /** True where those are changes to the thing itself: a reading of a derive is then carried over. */
  readonly carriesReadings: boolean;

  maskOf(figure: Figure): Mask;
  node(slot: SlotId, moment: Moment): Node;
  /** As `node`, without resting on it. */
  glance(slot: SlotId, moment: Moment): Node;
  /** False where the slot's formula was given up because it goes round in too many circles. */
  formulaCounts(slot: Slot, moment: Moment): boolean;
  run(expr: Expr, moment: Moment, slot: Slot, figure: Figure | null): Value;
  /** The formula of a derive as it was in the build that took the reading, before anything was put in its place. */
  formulaThen(slot: SlotId, depth: number, upTo: number): Value;
  /** The key's value in each view where all that it was made of is as specified. */
  sharedWithSpecified(slot: SlotId, moment: Moment): Node | null;
}

export function shapeOf(slot: Slot): Shape {
  if (slot.type.is === 'limits') return 'limits';
  return slot.type.is === 'curve' ? 'curves' : 'numbers';
}

/** Null where an axis has no size yet. */
export function settledAxes(workings: Workings, slot: Slot): readonly Axis[] | null {
  const axes = slot.axes.map((id) => workings.axes.known(id));
  return axes.includes(null) ? null : (axes as readonly Axis[]);
}

export function axesOf(workings: Workings, slot: Slot): readonly Axis[] {
  return slot.axes.map((id) => workings.axes.axis(id));
}
