/** A value that is the same in another view is the same object: found by what it was made of, not by comparing figures. */
import type { SlotId, View } from '../ir.ts';
import type { Memo, Node } from './memo.ts';
import type { Moment } from './moments.ts';
import type { Plan } from './run.ts';

/** The specified value where all that it was made of is the same object in this view; else null. */
export function sharedWithSpecified(plan: Plan, memo: Memo, slot: SlotId, moment: Moment): Node | null {
  const { view } = moment;
  if (view !== 'ordered' && view !== 'before' && view !== 'measured') return null;
  const specified = plan.glance(slot, plan.clock.at('specified', moment.upTo));
  if (!specified.settled) return null;
  return specified.trace.every((key) => sameInView(plan, memo, key, view)) ? specified : null;
}

function sameInView(plan: Plan, memo: Memo, key: number, view: View): boolean {
  if (key < 0) {
    const there = plan.bases.inView(key, view);
    memo.note(there);
    return plan.bases.value(there) === plan.bases.value(key);
  }
  const moment = plan.clock.momentOf(key);
  // what was asked for in a view of its own is the same whoever asks; it is still rested on
  if (moment.view !== 'specified') return memo.fetch(key) !== null;
  const there = plan.keyOf(plan.clock.slotOf(key), plan.clock.at(view, moment.upTo));
  return memo.fetch(there).value === memo.fetchQuietly(key).value;
}
