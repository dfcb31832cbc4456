// How a figure is written into the file: in the unit that it has there, with the decimals with which it is shown.
import { fixed } from '@thou/shared/number/format';
import { fromSI, standardUnits, toSI, type Unit } from '@thou/shared/unit/unit';
import type { SlotId } from '../semantics/ir.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { Grid } from '../semantics/solve/records.ts';
import { unitsWritten } from './typed.ts';
import { basicUnit, measureOf, showingsIn } from './units.ts';

export interface Style {
  readonly unit: Unit | null;
  readonly decimals: number;
}

export function styleOf(outcome: Outcome, id: SlotId, cell: number): Style {
  const one = outcome.slots[id]!;
  const showings = showingsIn(outcome, one.slot);
  const source = one.sourceOf(cell, 'measured');
  const symbol = source === null ? null : unitsWritten(source.value.at)?.unit;
  const written = symbol ? standardUnits.parse(symbol) : null;
  const measure = measureOf(one.slot.type);
  const unit =
    written && 'unit' in written ? written.unit : (showings[0]!.unit ?? (measure ? basicUnit(measure) : null));
  const same = showings.find((showing) => showing.unit?.factor === unit?.factor);
  return { unit, decimals: same?.decimals ?? asFine(showings[0]!, unit) };
}

/** As many decimals in another unit as show what the declared ones show. */
function asFine(
  { unit, decimals }: { readonly unit: Unit | null; readonly decimals: number | null },
  other: Unit | null,
): number {
  const step = (unit?.factor ?? 1) * 10 ** -(decimals ?? 3);
  return Math.max(0, Math.min(8, Math.round(-Math.log10(step / (other?.factor ?? 1)))));
}

export function gridOf({ unit, decimals }: Style): Grid {
  const step = 10 ** -decimals * (unit?.factor ?? 1);
  return { step, from: unit === null ? 0 : toSI(0, unit) };
}

/** As `gridOf`; what comes in steps, told beside it under its own name and `-step`, is written as so many of them. */
export function gridFor(outcome: Outcome, id: SlotId, cell: number): Grid {
  const { slot } = outcome.slots[id]!;
  const beside = outcome.slots.find((one) => one.slot.mount === slot.mount && one.slot.name === `${slot.name}-step`);
  const steps = beside === undefined ? null : outcome.tensorOf(beside.slot.id);
  const step = steps?.data.length === 1 ? steps.data[0]! : Number.NaN;
  return step > 0 ? { step, from: 0 } : gridOf(styleOf(outcome, id, cell));
}

export function numberIn(si: number, style: Style): string {
  return numberOf(style.unit === null ? si : fromSI(si, style.unit), style);
}

/** Of a figure that is in the unit already. */
export function numberOf(value: number, { decimals }: Style): string {
  return fixed(value, decimals);
}

/** `0.043 in`. */
export function quantityIn(si: number, style: Style): string {
  return style.unit === null ? numberIn(si, style) : `${numberIn(si, style)} ${style.unit.symbol}`;
}

/** The last digit, in SI, with which a figure is shown; null where it is shown with none. */
export function lastDigit(outcome: Outcome): (one: SlotOutcome) => number | null {
  return ({ slot }) => {
    const [showing] = showingsIn(outcome, slot);
    if (measureOf(slot.type) === null || showing!.decimals === null) return null;
    return 10 ** -showing!.decimals * (showing!.unit?.factor ?? 1);
  };
}
