// Exact numbers for unit factors: a fraction of whole numbers times a power of π, folded to a double once, at the end.

/** `above / below × π^pi`, in lowest terms, `below` positive. */
export interface Rational {
  readonly above: bigint;
  readonly below: bigint;
  readonly pi: number;
}

function commonDivisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a < 0n ? -a : a, b < 0n ? -b : b];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

function reduced(above: bigint, below: bigint, pi: number): Rational {
  if (below === 0n) throw new RangeError('An exact number has no zero below the line.');
  const shared = commonDivisor(above, below) || 1n;
  const sign = below < 0n ? -1n : 1n;
  return { above: (sign * above) / shared, below: (sign * below) / shared, pi: above === 0n ? 0 : pi };
}

const form = /^(-?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d{1,3}))?(?:\/(\d+))?( pi)?$/;

/** Reads `254/10000`, `0.45359237`, `1e-6`, `2 pi` exactly. Throws for any other text: it is written by us, not by a user. */
export function rational(text: string): Rational {
  const parts = form.exec(text);
  if (!parts) throw new RangeError(`No exact number: ${text}`);
  const [, sign, whole = '', decimals = '', exponent = '0', under = '1', pi] = parts;
  const scale = Number(exponent) - decimals.length;
  const digits = BigInt(whole + decimals) * (sign === '-' ? -1n : 1n);
  const ten = 10n ** BigInt(Math.abs(scale));
  const over = scale < 0 ? [digits, ten * BigInt(under)] : [digits * ten, BigInt(under)];
  return reduced(over[0]!, over[1]!, pi === undefined ? 0 : 1);
}

/** The shortest decimal that stands for a double, exactly. Finite values only. */
export function rationalOf(value: number): Rational {
  if (!Number.isFinite(value)) throw new RangeError('An exact number must be finite.');
  return rational(String(value).replace('e+', 'e'));
}

export const one: Rational = rational('1');

export function multiplied(a: Rational, b: Rational): Rational {
  return reduced(a.above * b.above, a.below * b.below, a.pi + b.pi);
}

/** `a ^ n` for a whole n. */
export function raisedTo(a: Rational, n: number): Rational {
  const [above, below] = n < 0 ? [a.below, a.above] : [a.above, a.below];
  const times = BigInt(Math.abs(n));
  return reduced(above ** times, below ** times, a.pi * n);
}

/** How many bits the larger of the two whole numbers takes: keeps powers of powers in bounds. */
export function bitsOf(a: Rational): number {
  return Math.max(a.above.toString(16).length, a.below.toString(16).length) * 4;
}

/** π to 50 decimals; a test finds the same figures again by a series in whole numbers. */
export const piExact: Rational = rational('3.14159265358979323846264338327950288419716939937510');

/** The nearest double. */
export function toNumber(a: Rational): number {
  const exact = a.pi === 0 ? a : multiplied({ ...a, pi: 0 }, raisedTo(piExact, a.pi));
  return nearestDouble(exact.above, exact.below);
}

/** Divides whole numbers to at least 64 bits with the rest kept as a last bit, so that rounding happens once. */
function nearestDouble(above: bigint, below: bigint): number {
  if (above < 0n) return -nearestDouble(-above, below);
  const shift = 66 + below.toString(2).length - above.toString(2).length;
  const [top, bottom] = shift >= 0 ? [above << BigInt(shift), below] : [above, below << BigInt(-shift)];
  const quotient = top / bottom;
  const sticky = quotient * bottom === top ? quotient : quotient | 1n;
  // Two steps keep each power of two inside the range of a double.
  const half = Math.trunc(shift / 2);
  return Number(sticky) / 2 ** half / 2 ** (shift - half);
}
