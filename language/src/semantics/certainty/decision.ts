/**
 * How sure a figure must be before it holds or is out: so many standard uncertainties on the far side of the limit. How many is a figure
 * of the build itself, `guard` at its root, so that a shop or a build can replace it. Knows no checks.
 * Source: ISO 14253-1, JCGM 106:2012 (guard bands); the editions stand beside the figure in the trade library.
 */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
import { slotsIn } from '../reads.ts';
import type { Interval } from './interval.ts';

const guardName = 'guard';
/** One in twenty beyond, one-sided; for libraries that say nothing. */
const usualFactor = 1.65;

/** Null where the library has no such figure. */
export function guardSlot(plan: Plan): SlotId | null {
  return plan.schema.slotAt.get(guardName) ?? null;
}

/** In standard uncertainties. What is missing or below nought is not heeded. */
export function guardFactor(plan: Plan): number {
  const factor = figureAtRoot(plan, guardName);
  return factor !== null && factor >= 0 ? factor : usualFactor;
}

/** One figure of the build itself; null where it is missing, or where the library has none of that name. */
export function figureAtRoot(plan: Plan, name: string): number | null {
  const slot = plan.schema.slotAt.get(name);
  const value = slot === undefined ? null : plan.valueOf(slot, 'measured').value;
  if (value?.is !== 'numbers' || value.tensor.data.length !== 1) return null;
  return markAt(value.tensor.mark, 0) < Mark.missing ? value.tensor.data[0]! : null;
}

export interface GuardBands {
  /** A value in here surely holds; null where what is unsure leaves no such room. */
  readonly accept: Interval | null;
  /** A value outside of here is surely out; between both nothing can be said. */
  readonly reject: Interval;
}

/** What says which factor counts: the choice that the figure hangs on. Null where there is none. */
export function guardRule(plan: Plan): SlotId | null {
  const slot = guardSlot(plan);
  const formula = slot === null ? null : plan.schema.slots[slot]!.formula;
  const found =
    formula === null ? [] : [...slotsIn(formula)].filter((id) => plan.schema.slots[id]!.type.is === 'choice');
  return found[0] ?? null;
}

/** `guard`: how wide the band is at each limit. Open sides are infinite. */
export function guardBands(
  limits: Interval,
  guard: { readonly low: number | null; readonly high: number | null },
): GuardBands {
  const [below, above] = [guard.low ?? 0, guard.high ?? 0];
  const accept = { low: limits.low + below, high: limits.high - above };
  return {
    accept: accept.low <= accept.high ? accept : null,
    reject: { low: limits.low - below, high: limits.high + above },
  };
}
