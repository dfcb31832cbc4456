/**
 * How sure a figure must be before it holds or is out: so many standard uncertainties on the far side of the limit. How many is a figure
 * of the build itself, `guard` at its root, so that a shop or a build can replace it. Knows no checks.
 * Source: ISO 14253-1, JCGM 106:2012 (guard bands); the editions stand beside the figure in the trade library.
 */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
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
  const slot = guardSlot(plan);
  const value = slot === null ? null : plan.valueOf(slot, 'measured').value;
  if (value?.is !== 'numbers' || value.tensor.data.length !== 1) return usualFactor;
  const factor = value.tensor.data[0]!;
  return markAt(value.tensor.mark, 0) < Mark.missing && factor >= 0 ? factor : usualFactor;
}

export interface GuardBands {
  /** A value in here surely holds; null where what is unsure leaves no such room. */
  readonly accept: Interval | null;
  /** A value outside of here is surely out; between both nothing can be said. */
  readonly reject: Interval;
}

/** `u`: standard uncertainty. Open sides are infinite. */
export function guardBands(limits: Interval, u: number, factor: number): GuardBands {
  const guard = factor * u;
  const accept = { low: limits.low + guard, high: limits.high - guard };
  return {
    accept: accept.low <= accept.high ? accept : null,
    reject: { low: limits.low - guard, high: limits.high + guard },
  };
}
