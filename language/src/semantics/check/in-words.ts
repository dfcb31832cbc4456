/** Figures of a slot as its declaration shows them, for the messages of problems. */
import { fixed, formatSI } from '@thou/shared/number/format';
import type { Slot } from '../schema/schema.ts';

const enough = 6;

/** A figure in SI in the slot's first unit; without a declaration, plainly. */
export function figureInWords(slot: Slot, si: number, as: 'value' | 'difference' = 'value'): string {
  const shown = slot.shown[0];
  if (shown === undefined) return String(Number(si.toPrecision(enough)));
  if (shown.unit === null) return fixed(si, shown.decimals);
  return formatSI(si, `0.${'0'.repeat(shown.decimals)}`, shown.unit, as);
}

/** `0.036 in to 0.044 in`, `at least 0.036 in`, `at most 0.044 in`. Infinite ends are open. */
export function limitsInWords(slot: Slot, low: number, high: number): string {
  const [from, to] = [figureInWords(slot, low), figureInWords(slot, high)];
  if (!Number.isFinite(low)) return `at most ${to}`;
  return Number.isFinite(high) ? `${from} to ${to}` : `at least ${from}`;
}
