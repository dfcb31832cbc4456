// In which unit, and with how many decimals, a figure is shown. Knows declarations and what was typed, not what a figure means.
import { fixed, significant } from '@thou/shared/number/format';
import { baseOnly, isNone } from '@thou/shared/dimension/dimension';
import type { Dimension } from '@thou/shared/dimension/dimension';
import type { Measure } from '@thou/shared/dimension/types';
import { fromSI, fromSIDifference, standardUnits } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';
import type { BuildBinding } from '../semantics/bind/binding.ts';
import type { Expr } from '../semantics/ir.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Schema, Slot } from '../semantics/schema/schema.ts';
import type { ValueType } from '../semantics/types/type.ts';
import { slotsIn } from '../semantics/reads.ts';
import { unitsWritten } from './typed.ts';

const lengthDimension = baseOnly('length');

/** `decimals` null: four significant figures. `unit` null: a plain number. */
export interface Showing {
  readonly unit: Unit | null;
  readonly decimals: number | null;
}

/** As declared, but the metric one first in a build whose own lengths are written in metric units. */
export function showingsIn({ binding }: Pick<Outcome, 'binding'>, slot: Slot): readonly Showing[] {
  const declared = showingsOf(slot);
  if (declared.length < 2 || isMetric(declared[0]!.unit) || !writesMetric(binding)) return declared;
  const metric = declared.find(({ unit }) => isMetric(unit));
  return metric ? [metric, ...declared.filter((one) => one !== metric)] : declared;
}

/** A power of ten of the SI unit, or a scale of degrees as large as a kelvin. */
function isMetric(unit: Unit | null): boolean {
  if (unit === null) return false;
  const power = Math.log10(unit.factor);
  return Math.abs(power - Math.round(power)) < 1e-9;
}

const metricBuilds = new WeakMap<BuildBinding, boolean>();

function writesMetric(binding: BuildBinding): boolean {
  const known = metricBuilds.get(binding);
  if (known !== undefined) return known;
  const written = [...binding.assignments, ...(binding.base?.assignments ?? [])]
    .filter(({ layer }) => layer !== 'practice' && layer !== 'mount-default')
    .flatMap(({ value }) => standardUnits.get(unitsWritten(value.at)?.unit ?? '') ?? [])
    .filter(({ measure }) => measure.dimension === lengthDimension);
  const metric = written.filter(isMetric).length > written.length / 2;
  metricBuilds.set(binding, metric);
  return metric;
}

/** As declared: the first is what a figure is shown in, those after it stand beside it. Never empty. */
export function showingsOf(slot: Slot): readonly Showing[] {
  const measure = measureOf(slot.type);
  if (slot.shown.length === 0) return [{ unit: measure ? basicUnit(measure) : null, decimals: null }];
  return slot.shown.map(({ decimals, unit }) => ({ decimals, unit: unit ?? (measure ? basicUnit(measure) : null) }));
}

export function measureOf(type: ValueType): Measure | null {
  if (type.is === 'measure' || type.is === 'limits') return type.measure;
  return type.is === 'curve' ? type.result : null;
}

/** How a formula's result is shown: as the first figure of the same sort that it is made of. */
export function showingOfFormula(expr: Expr, schema: Schema): Showing {
  const measure = measureOf(expr.type.value);
  if (!measure) return { unit: null, decimals: null };
  for (const id of slotsIn(expr)) {
    const slot = schema.slots[id];
    const same = slot && measureOf(slot.type)?.dimension === measure.dimension;
    if (same && slot.shown.length > 0) return showingsOf(slot)[0]!;
  }
  return { unit: basicUnit(measure), decimals: null };
}

const bases: ReadonlyMap<string, string> = new Map([
  ['length', 'm'],
  ['mass', 'kg'],
  ['time', 's'],
  ['angle', 'rad'],
  ['temperature', 'K'],
]);

/** The SI unit of a sort of quantity; null for plain numbers and for money of no named currency. */
export function basicUnit({ dimension }: Measure): Unit | null {
  if (isNone(dimension)) return null;
  const single = standardUnits.offered(dimension).find((unit) => unit.factor === 1 && unit.offset === 0);
  if (single) return single;
  const read = standardUnits.parse(basicSymbol(dimension));
  return 'unit' in read ? read.unit : null;
}

function basicSymbol(dimension: Dimension): string {
  const factors = [...dimension.exponents].map(([base, exponent]) => ({ symbol: bases.get(base) ?? base, exponent }));
  const raised = (symbol: string, power: number): string => (power === 1 ? symbol : `${symbol}^${power}`);
  const above = factors.filter(({ exponent }) => exponent > 0).map((one) => raised(one.symbol, one.exponent));
  const below = factors.filter(({ exponent }) => exponent < 0).map((one) => `/${raised(one.symbol, -one.exponent)}`);
  return `${above.length > 0 ? above.join('*') : '1'}${below.join('')}`;
}

/** SI to the unit shown; `difference` for margins and uncertainties, where the zero of a scale plays no part. */
export function inUnit(si: number, { unit }: Showing, as: 'value' | 'difference' = 'value'): number {
  if (unit === null) return si;
  return as === 'value' ? fromSI(si, unit) : fromSIDifference(si, unit);
}

export function numberText(value: number, { decimals }: Showing): string {
  return decimals === null ? shortest(value) : fixed(value, decimals);
}

const mostDecimals = 6;

/** Four significant figures, without noughts at the end. */
function shortest(value: number): string {
  const text = significant(value, 4);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Figures somebody set, such as limits: the decimals of the declaration, up to two more where they would cut one. */
export function numberTextsUncut(values: readonly number[], showing: Showing): string[] {
  const least = showing.decimals ?? 0;
  const isWhole = (decimals: number): boolean =>
    values.every((value) => Math.abs(Number(fixed(value, decimals)) - value) <= 1e-9 * Math.max(Math.abs(value), 1e-3));
  const enough = Array.from({ length: showing.decimals === null ? mostDecimals : 3 }, (_, more) => least + more).find(
    isWhole,
  );
  if (enough !== undefined) return values.map((value) => fixed(value, enough));
  return values.map((value) => numberText(value, showing));
}

/** A margin or a difference: the decimals of the declaration, more until a first figure that is not zero. */
export function differenceText(value: number, showing: Showing): string {
  if (showing.decimals === null) return significant(value, 2);
  for (let decimals = showing.decimals; decimals < mostDecimals + 2; decimals++) {
    const text = fixed(value, decimals);
    if (Number(text) !== 0 || value === 0) return text;
  }
  return significant(value, 1);
}
