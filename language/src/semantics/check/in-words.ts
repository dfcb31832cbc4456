/** Figures of a slot as its declaration shows them, for the messages of problems. */
import { displayUnit, fixed, formatSI, significant } from '@thou/shared/number/format';
import { fromSIDifference } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';
import type { Slot } from '../schema/schema.ts';

const enough = 6;

/** A figure in SI in the slot's first unit; without a declaration, plainly. */
export function figureInWords(slot: Slot, si: number, as: 'value' | 'difference' = 'value'): string {
  const shown = slot.shown[0];
  if (shown === undefined) return String(Number(si.toPrecision(enough)));
  if (shown.unit === null) return fixed(si, shown.decimals);
  return formatSI(si, `0.${'0'.repeat(shown.decimals)}`, shown.unit, as);
}

/** Small sizes of one slot with two digits each, in whichever of its units says the first of them shortest. */
export function sizesInWords(slot: Slot, sizes: readonly number[]): readonly string[] {
  const units = slot.shown.length === 0 ? [null] : slot.shown.map(({ unit }) => unit);
  const texts = units.map((unit) => sizes.map((si) => sizeInWords(si, unit)));
  return texts.reduce((best, one) => (one[0]!.length < best[0]!.length ? one : best));
}

function sizeInWords(si: number, unit: Unit | null): string {
  const size = Number(significant(unit === null ? si : fromSIDifference(si, unit), 2));
  return `${fixed(size, 12).replace(/\.?0+$/, '')} ${unit === null ? '' : displayUnit(unit.symbol)}`.trimEnd();
}

/** `0.036 in to 0.044 in`, `at least 0.036 in`, `at most 0.044 in`. Infinite ends are open. */
export function limitsInWords(slot: Slot, low: number, high: number): string {
  const [from, to] = [figureInWords(slot, low), figureInWords(slot, high)];
  if (!Number.isFinite(low)) return `at most ${to}`;
  return Number.isFinite(high) ? `${from} to ${to}` : `at least ${from}`;
}
