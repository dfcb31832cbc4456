// What a quantity is made of: exponents of base dimensions, interned so that equal dimensions are the same object.
// Knows no unit, no kind and no name of the trade.

/** Equal dimensions are the same object: compare with `===`. `exponents` holds no zero. */
export interface Dimension {
  readonly key: string;
  readonly exponents: ReadonlyMap<string, number>;
}

/** The base dimension of a currency is `money:NAME`; plain `money` stands for "some currency, not known yet". */
export const moneyPrefix = 'money:';

const interned = new Map<string, Dimension>();
const greatestDenominator = 120;
const tolerance = 1e-9;

interface Fraction {
  readonly over: number;
  readonly under: number;
}

/** The plain fraction within 1e-9 of an exponent, so that three times 1/3 is 1 again; else the exponent cut to 1e-9. */
function asFraction(exponent: number): Fraction {
  if (!Number.isFinite(exponent)) throw new RangeError('An exponent must be a finite number.');
  for (let under = 1; under <= greatestDenominator; under++) {
    const over = Math.round(exponent * under);
    if (Math.abs(exponent - over / under) <= tolerance) return { over, under };
  }
  return { over: Math.round(exponent / tolerance), under: Math.round(1 / tolerance) };
}

/** The dimension with these exponents of base names. A base name holds no blank. */
export function dimension(exponents: ReadonlyMap<string, number> | Readonly<Record<string, number>>): Dimension {
  const entries = exponents instanceof Map ? [...exponents] : Object.entries(exponents);
  const kept = new Map<string, number>();
  const keys: string[] = [];
  for (const [base, exponent] of entries.sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (base === '' || /\s/.test(base)) throw new RangeError('The name of a base dimension holds no blank.');
    const { over, under } = asFraction(exponent);
    if (over === 0) continue;
    kept.set(base, over / under);
    keys.push(`${base}^${over}/${under}`);
  }
  const key = keys.join(' ');
  const known = interned.get(key);
  if (known) return known;
  const made: Dimension = { key, exponents: kept };
  interned.set(key, made);
  return made;
}

/** The dimension of a plain number. */
export const none: Dimension = dimension(new Map());

export function isNone(d: Dimension): boolean {
  return d === none;
}

/** The dimension that is one base alone, such as `length` or `money:EUR`. */
export function baseOnly(name: string): Dimension {
  return dimension(new Map([[name, 1]]));
}

export function times(a: Dimension, b: Dimension): Dimension {
  return sumOf(a, b, 1);
}

export function over(a: Dimension, b: Dimension): Dimension {
  return sumOf(a, b, -1);
}

function sumOf(a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  const sum = new Map(a.exponents);
  for (const [base, exponent] of b.exponents) sum.set(base, (sum.get(base) ?? 0) + sign * exponent);
  return dimension(sum);
}

/** `a ^ n`; n may be a fraction. */
export function power(a: Dimension, n: number): Dimension {
  return dimension(new Map([...a.exponents].map(([base, exponent]) => [base, exponent * n])));
}

/** True when a and b are unlike and only a power of Angle stands between them: a turn or a radian is left over. */
export function differsOnlyByAngle(a: Dimension, b: Dimension): boolean {
  const between = over(a, b).exponents;
  return between.size === 1 && between.has('angle');
}

/** True for a dimension that is one currency, and for `money`, which stands for any. */
export function isMoney(d: Dimension): boolean {
  const [only, more] = [...d.exponents];
  return !more && only !== undefined && only[1] === 1 && (only[0] === 'money' || only[0].startsWith(moneyPrefix));
}

const order = ['money', 'mass', 'length', 'angle', 'temperature', 'time'];

function place(base: string): number {
  const found = order.indexOf(base);
  return found < 0 ? 0 : found;
}

const raised = new Map([...'-0123456789'].map((plain, at) => [plain, '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'[at]!]));

function factorInWords(base: string, exponent: number): string {
  const name = base.startsWith(moneyPrefix) ? base.slice(moneyPrefix.length) : base;
  if (exponent === 1) return name;
  const { over: up, under } = asFraction(exponent);
  if (under > 1) return `${name}^(${up}/${under})`;
  return name + [...String(up)].map((digit) => raised.get(digit) ?? digit).join('');
}

/** A dimension in words, such as `mass × length / time²`; a plain number says so. */
export function describe(d: Dimension): string {
  if (isNone(d)) return 'a plain number';
  const sorted = [...d.exponents].sort(([a], [b]) => place(a) - place(b) || (a < b ? -1 : 1));
  const above = sorted.filter(([, exponent]) => exponent > 0).map(([base, exponent]) => factorInWords(base, exponent));
  const below = sorted.filter(([, exponent]) => exponent < 0).map(([base, exponent]) => factorInWords(base, -exponent));
  const head = above.length > 0 ? above.join(' × ') : '1';
  if (below.length === 0) return head;
  return `${head} / ${below.length > 1 ? `(${below.join(' × ')})` : below[0]}`;
}
