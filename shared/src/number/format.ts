// Figures as the trade reads them: correct decimal rounding, no exponents, no minus zero, units with raised figures.
import { fromSI, fromSIDifference } from '../unit/unit.ts';
import type { Unit } from '../unit/unit.ts';

/** `digits × 10^exponent`, the shortest decimal that stands for a positive double. */
interface Decimal {
  readonly digits: bigint;
  readonly exponent: number;
}

function decimalOf(positive: number): Decimal {
  const [mantissa = '', exponent = '0'] = String(positive).split('e');
  const [whole = '', decimals = ''] = mantissa.split('.');
  return { digits: BigInt(whole + decimals), exponent: Number(exponent) - decimals.length };
}

/**
 * The whole number nearest to `d × 10^places`; halves go up, and so does what is within 1e-9 of a half, because a
 * converted 0.0025 comes back as 0.00249999999999999. (Never more than a thousandth of the last place, for long figures.)
 */
function roundedAt({ digits, exponent }: Decimal, places: number): bigint {
  const shift = exponent + places;
  if (shift >= 0) return digits * 10n ** BigInt(shift);
  const unit = 10n ** BigInt(-shift);
  const [relative, absolute] = [digits / 1_000_000_000n, unit / 1000n];
  const slack = relative < absolute ? relative : absolute;
  const rest = digits % unit;
  return digits / unit + (2n * (rest + slack) >= unit ? 1n : 0n);
}

/** What stands for a figure that is no number or has no end; values that are missing never come this far. */
const noFigure = '—';

function written(negative: boolean, rounded: bigint, places: number): string {
  const sign = negative && rounded !== 0n ? '-' : '';
  if (places <= 0) return sign + String(rounded * 10n ** BigInt(-places));
  const text = String(rounded).padStart(places + 1, '0');
  return `${sign}${text.slice(0, -places)}.${text.slice(-places)}`;
}

/** A figure with so many decimals, halves away from zero. */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return noFigure;
  return written(value < 0, roundedAt(decimalOf(Math.abs(value)), decimals), decimals);
}

/** A figure with so many significant digits: 12345 with two is 12000, 9.996 with three is 10.0. */
export function significant(value: number, digits: number): string {
  if (!Number.isFinite(value)) return noFigure;
  if (value === 0) return written(false, 0n, digits - 1);
  const decimal = decimalOf(Math.abs(value));
  const places = digits - (String(decimal.digits).length + decimal.exponent);
  const rounded = roundedAt(decimal, places);
  const grown = String(rounded).length > digits;
  return grown ? written(value < 0, rounded / 10n, places - 1) : written(value < 0, rounded, places);
}

/** How many decimals a pattern such as `0.0000` asks for. */
export function decimalsOf(pattern: string): number {
  const point = pattern.indexOf('.');
  return point < 0 ? 0 : pattern.length - point - 1;
}

const raised = new Map([...'-0123456789'].map((plain, at) => [plain, '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'[at]!]));

/** A unit for the eye: `in³`, `N·m`, `µm`, `°C`. What is shown can be typed back. */
export function displayUnit(symbol: string): string {
  return symbol
    .replace(/\^([+-]?\d+)/g, (_, digits: string) => [...digits].map((digit) => raised.get(digit) ?? '').join(''))
    .replace(/\*/g, '·')
    .replace(/(?<!\p{L})u(?=m\b|in\b)/gu, 'µ')
    .replace(/(?<!\p{L})deg(?=[CF]\b)/gu, '°');
}

/** An SI value in a unit, as its pattern says: `formatSI(0.0254, '0.000', inch)` is `1.000 in`. No unit: a plain number. */
export function formatSI(si: number, pattern: string, unit: Unit | null, as: 'value' | 'difference' = 'value'): string {
  if (unit === null) return fixed(si, decimalsOf(pattern));
  const value = as === 'value' ? fromSI(si, unit) : fromSIDifference(si, unit);
  return `${fixed(value, decimalsOf(pattern))} ${displayUnit(unit.symbol)}`;
}
