// How a deviation is accepted in writing: the check, its cell, and limits that just hold the figure.
import { fixed } from '@thou/shared/number/format';
import { placeName } from '../semantics/plan/axes.ts';
import type { CheckCell, CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import { showingOfCheck } from './check-words.ts';
import { inUnit, type Showing } from './units.ts';

/** `gap[3]`: the check at one of its cells. */
export function checkAt({ id, axes }: CheckOutcome, { places }: CheckCell): string {
  return axes.length === 0 ? id : `${id}[${places.map((place, at) => placeName(axes[at]!, place)).join(', ')}]`;
}

/** The figure with the side of the limits that it passes; the limits themselves where it is inside. Null where there is none. */
export function limitsToAccept(outcome: Outcome, check: CheckOutcome, cell: CheckCell): string | null {
  return limitsRound(cell, showingOfCheck(outcome, check));
}

/** Limits that reach to the figure: one side where only one is passed, both where it is inside and not sure. */
function limitsRound({ value, low, high }: CheckCell, showing: Showing): string | null {
  if (value === null) return null;
  const unit = showing.unit === null ? '' : ` ${showing.unit.symbol}`;
  const written = (si: number, way: -1 | 0 | 1): string => outwards(inUnit(si, showing), showing.decimals ?? 4, way);
  if (low !== null && value < low) return `>= ${written(value, -1)}${unit}`;
  if (high !== null && value > high) return `<= ${written(value, 1)}${unit}`;
  if (low !== null && high !== null) return `${written(low, -1)}..${written(high, 1)}${unit}`;
  if (low !== null) return `>= ${written(low, -1)}${unit}`;
  return high === null ? null : `<= ${written(high, 1)}${unit}`;
}

function outwards(value: number, decimals: number, way: -1 | 0 | 1): string {
  const marks = value * 10 ** decimals;
  const whole =
    Math.abs(marks - Math.round(marks)) < 1e-6 ? Math.round(marks) : way < 0 ? Math.floor(marks) : Math.ceil(marks);
  return fixed(whole / 10 ** decimals, decimals);
}
