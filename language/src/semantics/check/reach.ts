/**
 * From cells of a check down to the cells that they rest on. Places are followed along common axes; where a formula
 * gathers along another axis all of it counts.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { marksOf, sizeOf } from '../plan/cells.ts';
import { project } from '../plan/masks.ts';
import type { Node } from '../plan/memo.ts';
import type { Moment } from '../plan/moments.ts';
import { slotsIn } from '../plan/reads.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';

export interface Reached {
  readonly slot: SlotId;
  readonly moment: Moment;
  readonly node: Node;
  readonly axes: readonly Axis[];
  readonly marks: Uint8Array;
  /** Cells that are rested on, and that `follow` let through. */
  readonly mask: Uint8Array;
}

/** Which cells to look at: by mark. Cells with a figure are ends; where a formula speaks its inputs are visited in turn. */
export type Follow = (mark: number) => boolean;

export function reach(
  plan: Plan,
  trace: readonly number[],
  from: { readonly axes: readonly Axis[]; readonly mask: Uint8Array },
  follow: Follow,
): readonly Reached[] {
  const reached = new Map<number, { mask: Uint8Array; readonly info: Omit<Reached, 'mask'> }>();
  const left: { readonly key: number; readonly mask: Uint8Array; readonly axes: readonly Axis[] }[] = [];
  const visit = (keys: readonly number[], axes: readonly Axis[], mask: Uint8Array): void => {
    for (const key of keys) if (key >= 0) left.push({ key, axes, mask });
  };
  visit(trace, from.axes, from.mask);
  for (let next = left.pop(); next !== undefined; next = left.pop()) {
    const known = reached.get(next.key) ?? start(plan, next.key);
    if (known === null) continue;
    reached.set(next.key, known);
    const { axes, marks, node } = known.info;
    const wanted = project(next.mask, next.axes, axes)!;
    const fresh = wanted.map((one, cell) => (one === 1 && known.mask[cell] === 0 && follow(marks[cell]!) ? 1 : 0));
    if (!fresh.includes(1)) continue;
    known.mask = known.mask.map((one, cell) => one | fresh[cell]!);
    const deeper = fresh.map((one, cell) => (one === 1 && restsOnOthers(node, marks, cell) ? 1 : 0));
    if (deeper.includes(1)) {
      visit(node.trace, axes, deeper);
      visit(sizesOf(plan, known.info.slot), axes, deeper);
    }
  }
  return [...reached.values()].map(({ mask, info }) => ({ ...info, mask }));
}

function start(plan: Plan, key: number): { mask: Uint8Array; readonly info: Omit<Reached, 'mask'> } | null {
  const moment = plan.clock.momentOf(key);
  if (moment.view === 'figure' || moment.view === 'made' || moment.view === 'readings') return null;
  const node = plan.nodeAt(key);
  const axes = axesWithoutLanes(node.value);
  const slot = plan.clock.slotOf(key);
  return { mask: new Uint8Array(sizeOf(axes)), info: { slot, moment, node, axes, marks: marksOf(node.value, axes) } };
}

function restsOnOthers(node: Node, marks: Uint8Array, cell: number): boolean {
  const speaker = node.sources?.[cell] ?? Speaker.none;
  return speaker === Speaker.none || speaker === Speaker.formula || marks[cell] === Mark.carriedOver;
}

/** What sizes axes that are not known yet: while it is missing, all along them is. */
function sizesOf(plan: Plan, slot: SlotId): readonly number[] {
  const specified = plan.clock.at('specified');
  return plan.schema.slots[slot]!.axes.flatMap((id) => {
    const axis = plan.schema.axes[plan.schema.axes[id]!.twinOf ?? id]!;
    if (axis.range === null || plan.axes.known(axis.id) !== null) return [];
    const exprs = [axis.range.from, axis.range.to, axis.range.step].filter((expr) => expr !== null);
    return exprs.flatMap(slotsIn).map((size) => plan.keyOf(size, specified));
  });
}
