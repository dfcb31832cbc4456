// The named types of quantity and their kinds: what may be added to, compared with and given to what.
// A measure is a dimension with a kind; the kind keeps apart what has equal dimensions (a torque is no energy).
import { baseOnly, describe, dimension, isMoney, isNone, moneyPrefix, none, over, power, times } from './dimension.ts';
import type { Dimension } from './dimension.ts';

/** `null`: no kind, fits either. `point` and `difference` are the two kinds of temperature. */
export type Kind = 'torque' | 'energy' | 'ratio' | 'count' | 'point' | 'difference' | null;

export interface Measure {
  readonly dimension: Dimension;
  readonly kind: Kind;
}

type Exponents = Readonly<Record<string, number>>;

const force: Exponents = { mass: 1, length: 1, time: -2 };
const forceTimesLength: Exponents = { mass: 1, length: 2, time: -2 };

const rows: readonly (readonly [name: string, exponents: Exponents, kind?: Kind])[] = [
  ['Length', { length: 1 }],
  ['Area', { length: 2 }],
  ['Volume', { length: 3 }],
  ['Angle', { angle: 1 }],
  ['Mass', { mass: 1 }],
  ['Force', force],
  ['Pressure', { mass: 1, length: -1, time: -2 }],
  ['Torque', forceTimesLength, 'torque'],
  ['Energy', forceTimesLength, 'energy'],
  ['Power', { mass: 1, length: 2, time: -3 }],
  ['Speed', { length: 1, time: -1 }],
  ['RotationalSpeed', { angle: 1, time: -1 }],
  ['Acceleration', { length: 1, time: -2 }],
  ['Frequency', { time: -1 }],
  ['SpringRate', { mass: 1, time: -2 }],
  ['Density', { mass: 1, length: -3 }],
  ['Viscosity', { mass: 1, length: -1, time: -1 }],
  ['FlowRate', { length: 3, time: -1 }],
  ['Temperature', { temperature: 1 }, 'point'],
  ['TemperatureDifference', { temperature: 1 }, 'difference'],
  ['Expansion', { temperature: -1 }],
  ['Unbalance', { mass: 1, length: 1 }],
  ['Ratio', {}, 'ratio'],
  ['Count', {}, 'count'],
  ['Money', { money: 1 }],
];

/** Every type that the kernel knows by name. `Money` is the dimension `money`, which stands for any one currency. */
export const namedMeasures: ReadonlyMap<string, Measure> = new Map(
  rows.map(([name, exponents, kind = null]) => [name, { dimension: dimension(exponents), kind }]),
);

/** A bare number whose kind nothing has settled yet: fits a Ratio and a Count. */
export const plainNumber: Measure = { dimension: none, kind: null };

const temperature = baseOnly('temperature');
const anyMoney = baseOnly('money');

/** The trade's name of a measure, such as `Torque`, else its dimension in words. */
export function nameOf(measure: Measure, more: ReadonlyMap<string, Measure> = new Map()): string {
  if (measure.kind === null) {
    if (isNone(measure.dimension)) return 'plain number';
    if (measure.dimension === temperature) return 'Temperature';
    if (isMoney(measure.dimension)) return moneyName(measure.dimension);
  }
  const same: string[] = [];
  for (const [name, named] of [...namedMeasures, ...more]) {
    if (named.dimension !== measure.dimension) continue;
    if (named.kind === measure.kind) return name;
    if (measure.kind === null) same.push(name);
  }
  return same.length > 0 ? same.join(' or ') : describe(measure.dimension);
}

function moneyName(d: Dimension): string {
  const currency = [...d.exponents.keys()].find((base) => base.startsWith(moneyPrefix));
  return currency === undefined ? 'Money' : `Money (${currency.slice(moneyPrefix.length)})`;
}

/** True for Ratio, Count and a plain number: what may stand beside a kind in a product without dropping it. */
function isNumber(measure: Measure): boolean {
  return isNone(measure.dimension);
}

/** The kind of two numbers multiplied or divided. Whole numbers stay whole when multiplied, not when divided. */
function kindOfNumbers(op: '*' | '/', a: Kind, b: Kind): Kind {
  if (a === null && b === null) return null;
  if (a === 'ratio' || b === 'ratio') return 'ratio';
  if (a === 'count' && b === 'count') return op === '*' ? 'count' : 'ratio';
  return null;
}

/**
 * The measure of `a * b` or `a / b`. The kind is dropped except by a number. A temperature point takes no part in a
 * product (see `isPoint`): what is returned for one has no kind, and the caller refuses it first.
 */
export function combine(op: '*' | '/', a: Measure, b: Measure): Measure {
  const product = op === '*' ? times(a.dimension, b.dimension) : over(a.dimension, b.dimension);
  if (isNumber(a) && isNumber(b)) return { dimension: product, kind: kindOfNumbers(op, a.kind, b.kind) };
  if (isNumber(b)) return { dimension: product, kind: withoutPoint(a.kind) };
  if (isNumber(a) && op === '*') return { dimension: product, kind: withoutPoint(b.kind) };
  return { dimension: product, kind: null };
}

function withoutPoint(kind: Kind): Kind {
  return kind === 'point' ? null : kind;
}

/** A temperature on a scale, such as `20 degC`: has no product, no power and no sum with another point. */
export function isPoint(measure: Measure): boolean {
  return measure.kind === 'point';
}

/** The measure of `a ^ n`: a Ratio stays one, a Count raised to a whole number stays one, every other kind is dropped. */
export function raise(a: Measure, n: number): Measure {
  const raised = power(a.dimension, n);
  if (n === 1) return a;
  if (!isNumber(a) || a.kind === null) return { dimension: raised, kind: null };
  return { dimension: raised, kind: a.kind === 'count' && !(Number.isInteger(n) && n >= 0) ? 'ratio' : a.kind };
}

/** The dimension both sides have, or null. Money not yet known takes the other side's currency. */
function sharedDimension(a: Measure, b: Measure): Dimension | null {
  if (a.dimension === b.dimension) return a.dimension;
  if (a.dimension === anyMoney && isMoney(b.dimension)) return b.dimension;
  if (b.dimension === anyMoney && isMoney(a.dimension)) return a.dimension;
  return null;
}

/** The kind of two sides taken together, or `undefined` where they are two kinds. A Count beside a Ratio is a Ratio. */
function sharedKind(a: Kind, b: Kind): Kind | undefined {
  if (a === b) return a;
  if (a === null || b === null) return a ?? b;
  const numbers = (a === 'ratio' || a === 'count') && (b === 'ratio' || b === 'count');
  return numbers ? 'ratio' : undefined;
}

/** The measure of `a + b`, or null where they do not add. Two temperature points do not. */
export function add(a: Measure, b: Measure): Measure | null {
  const d = sharedDimension(a, b);
  if (d === null || (isPoint(a) && isPoint(b))) return null;
  if (isPoint(a) || isPoint(b)) return { dimension: d, kind: 'point' };
  const kind = sharedKind(a.kind, b.kind);
  return kind === undefined ? null : { dimension: d, kind };
}

/**
 * The measure of `a - b`, or null. Point less point is a difference; a difference less a point is refused. A point less a
 * temperature without kind may be either, so the result has no kind; both readings give the same number of kelvins.
 */
export function subtract(a: Measure, b: Measure): Measure | null {
  const d = sharedDimension(a, b);
  if (d === null) return null;
  if (isPoint(b)) return a.kind === 'difference' ? null : { dimension: d, kind: 'difference' };
  if (isPoint(a)) return { dimension: d, kind: b.kind === null ? null : 'point' };
  const kind = sharedKind(a.kind, b.kind);
  return kind === undefined ? null : { dimension: d, kind };
}

export function canAdd(a: Measure, b: Measure): boolean {
  return add(a, b) !== null;
}

/** True where `a < b`, `min(a, b)` and the like mean something: as adding, except that two points do compare. */
export function canCompare(a: Measure, b: Measure): boolean {
  return sharedDimension(a, b) !== null && sharedKind(a.kind, b.kind) !== undefined;
}

/**
 * True where a value may be given to a place of the measure `due`. A Count is accepted as a Ratio, never the reverse;
 * `absoluteToo` is the flag of the value's unit: a figure in kelvins is a difference and also an absolute temperature.
 */
export function fits(value: Measure, due: Measure, absoluteToo = false): boolean {
  const dimensionFits = value.dimension === due.dimension || (due.dimension === anyMoney && isMoney(value.dimension));
  if (!dimensionFits) return false;
  if (value.kind === due.kind || value.kind === null || due.kind === null) return true;
  if (value.kind === 'count' && due.kind === 'ratio') return true;
  return absoluteToo && value.kind === 'difference' && due.kind === 'point';
}
