// A unit, and the table that knows them: reads a written unit, makes new ones, suggests the right one for a wrong one.
// Knows the dimensions and kinds, not the files in which units are used.
import { baseOnly, moneyPrefix, none } from '../dimension/dimension.ts';
import type { Dimension } from '../dimension/dimension.ts';
import { combine, namedMeasures, raise } from '../dimension/types.ts';
import type { Measure } from '../dimension/types.ts';
import { nearest } from '../number/nearest.ts';
import { readFactors } from './parse.ts';
import type { Factor, Malformed } from './parse.ts';
import { bitsOf, multiplied, one, raisedTo, rational, rationalOf, toNumber } from './rational.ts';
import type { Rational } from './rational.ts';
import { bases, customaryProducts, otherNames, rows, scales } from './standard.ts';

export interface Unit {
  /** As written, in one spelling: `degC`, `um`, `lbf/in`. */
  readonly symbol: string;
  readonly measure: Measure;
  /** SI per unit: one double, folded once from the exact. */
  readonly factor: number;
  /** The zero of the scale, in K: degC and degF only, else 0. */
  readonly offset: number;
  readonly exact: Rational;
  /** True for K: a figure is a difference, and an absolute temperature where a Temperature is due. */
  readonly absoluteToo: boolean;
}

export type UnitProblem =
  | { readonly problem: 'unknown'; readonly name: string; readonly start: number; readonly near: string[] }
  | { readonly problem: 'offset-in-product'; readonly name: string; readonly start: number }
  | Malformed;

const greatestBits = 4096;

/** Units by symbol. A table made over another one sees all its units; its own go first. */
export class Units {
  readonly #parent: Units | null;
  readonly #own = new Map<string, Unit>();

  constructor(parent?: Units) {
    this.#parent = parent ?? null;
  }

  /** The unit of a single symbol. */
  get(symbol: string): Unit | undefined {
    return this.#own.get(symbol) ?? this.#parent?.get(symbol);
  }

  /** Every single symbol, the table's own first. */
  symbols(): string[] {
    return [...new Set([...this.#own.keys(), ...(this.#parent?.symbols() ?? [])])];
  }

  /** Adds a unit of `factor` SI units; throws where the factor is not a positive finite number. */
  define(symbol: string, factor: Rational | number, measure: Measure): Unit {
    const exact = typeof factor === 'number' ? rationalOf(factor) : factor;
    return this.#keep({ symbol, measure, exact, factor: toNumber(exact), offset: 0, absoluteToo: false });
  }

  /** Adds a temperature scale: the size of its degree and its zero, in K. */
  defineScale(symbol: string, degree: Rational, zero: Rational): Unit {
    const measure = namedMeasures.get('Temperature')!;
    const [factor, offset] = [toNumber(degree), toNumber(zero)];
    return this.#keep({ symbol, measure, exact: degree, factor, offset, absoluteToo: false });
  }

  /** Adds a currency: each has a dimension of its own, so two do not add. */
  currency(symbol: string): Unit {
    return this.define(symbol, one, { dimension: baseOnly(moneyPrefix + symbol), kind: null });
  }

  #keep(unit: Unit): Unit {
    if (!(unit.factor > 0 && Number.isFinite(unit.factor))) throw new RangeError(`${unit.symbol} has no usable size.`);
    const kept = unit.symbol === 'K' ? { ...unit, absoluteToo: true } : unit;
    this.#own.set(unit.symbol, kept);
    return kept;
  }

  /** Reads a unit as written: a symbol, or products, quotients and powers of symbols. */
  parse(text: string): { readonly unit: Unit } | UnitProblem {
    const factors = readFactors(text);
    if ('problem' in factors) return factors;
    const [first] = factors;
    if (factors.length === 1 && first!.power === 1 && first!.start === 0) {
      const single = this.get(first!.name);
      return single ? { unit: single } : this.#unknown(first!);
    }
    return this.#product(text, factors);
  }

  #product(text: string, factors: readonly Factor[]): { readonly unit: Unit } | UnitProblem {
    let measure: Measure = { dimension: none, kind: null };
    let exact = one;
    for (const { name, power, start } of factors) {
      const unit = this.get(name);
      if (!unit) return this.#unknown({ name, power, start });
      if (unit.offset !== 0) return { problem: 'offset-in-product', name, start };
      measure = combine('*', measure, raise(unit.measure, power));
      exact = multiplied(exact, raisedTo(unit.exact, power));
      if (bitsOf(exact) > greatestBits) return { problem: 'malformed', reason: 'too-large', start };
    }
    const factor = toNumber(exact);
    if (!(factor > 0 && Number.isFinite(factor))) return { problem: 'malformed', reason: 'too-large', start: 0 };
    return { unit: { symbol: plainSpelling(text), measure, exact, factor, offset: 0, absoluteToo: false } };
  }

  #unknown({ name, start }: Factor): UnitProblem {
    return { problem: 'unknown', name, start, near: this.nearest(name) };
  }

  /**
   * The right units nearest to a wrong one, best first: only those of the dimension that is due, where one is given. A
   * right unit of the wrong sort (`lb` where a force is due) finds its look-alike (`lbf`) the same way.
   */
  nearest(name: string, due?: Dimension, most = 3): string[] {
    const candidates = this.#offered(due);
    const known = (otherNames.get(name) ?? otherNames.get(name.toLowerCase()) ?? []).filter((symbol) =>
      this.#isOffered(symbol, due),
    );
    const withPower = /^(\p{L}+)([2-9])$/u.exec(name);
    const powers = withPower ? [`${withPower[1]}^${withPower[2]}`].filter((text) => this.#isOffered(text, due)) : [];
    return [...new Set([...known, ...powers, ...nearest(name, candidates, most)])].slice(0, most);
  }

  /** Every unit that could be meant where this dimension is due: symbols and the products that the trade writes. */
  offered(due: Dimension): Unit[] {
    return this.#offered(due).map((text) => (this.parse(text) as { unit: Unit }).unit);
  }

  #offered(due?: Dimension): string[] {
    const all = [...this.symbols(), ...customaryProducts];
    return due === undefined ? all : all.filter((text) => this.#isOffered(text, due));
  }

  #isOffered(text: string, due?: Dimension): boolean {
    const read = this.get(text) ?? this.#read(text);
    return read !== undefined && (due === undefined || read.measure.dimension === due);
  }

  #read(text: string): Unit | undefined {
    const factors = readFactors(text);
    if ('problem' in factors || factors.some(({ name }) => this.get(name) === undefined)) return undefined;
    const read = this.#product(text, factors);
    return 'unit' in read ? read.unit : undefined;
  }
}

/** One spelling for a product: `·` is `*`, raised figures are `^`, `°` is deg, the micro sign is u. */
function plainSpelling(text: string): string {
  return text
    .replace(/[·⋅]/gu, '*')
    .replace(
      /[⁻⁰¹²³⁴-⁹]+/gu,
      (digits) => `^${[...digits].map((d) => (d === '⁻' ? '-' : '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(d))).join('')}`,
    )
    .replace(/[µμ]/gu, 'u')
    .replace(/°/gu, 'deg');
}

function measureNamed(name: string, read: Measure): Measure {
  const named = namedMeasures.get(name) ?? { dimension: read.dimension, kind: null };
  if (named.dimension !== read.dimension) throw new Error(`The table of units is wrong at a ${name}.`);
  return named;
}

function madeStandard(): Units {
  const units = new Units();
  for (const [symbol, measure] of bases) {
    units.define(symbol, one, namedMeasures.get(measure) ?? { dimension: baseOnly('time'), kind: null });
  }
  for (const [symbol, amount, of, measure] of rows) {
    const read = units.parse(of);
    if (!('unit' in read)) throw new Error(`The table of units is wrong at ${symbol}.`);
    units.define(symbol, multiplied(rational(amount), read.unit.exact), measureNamed(measure, read.unit.measure));
  }
  for (const [symbol, degree, zero] of scales) units.defineScale(symbol, rational(degree), rational(zero));
  return units;
}

/** The units of every file. Extend it by `new Units(standardUnits)`; it is not changed itself. */
export const standardUnits: Units = madeStandard();

/** A figure in a unit as SI; a temperature on a scale becomes absolute. */
export function toSI(value: number, unit: Unit): number {
  return value * unit.factor + unit.offset;
}

export function fromSI(si: number, unit: Unit): number {
  return (si - unit.offset) / unit.factor;
}

/** As `toSI` for a difference, a margin or an uncertainty: the zero of the scale plays no part. */
export function toSIDifference(value: number, unit: Unit): number {
  return value * unit.factor;
}

export function fromSIDifference(si: number, unit: Unit): number {
  return si / unit.factor;
}
