// How one figure is shown: as typed where somebody gave it, else as its declaration says, with its uncertainty beside it.
// Knows no layout and no file.
import { displayUnit } from '@thou/shared/number/format';
import type { SheetFigure } from '@thou/shared/result/sheet';
import type { Measure } from '@thou/shared/dimension/types';
import { standardUnits } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';
import type { View } from '../semantics/ir.ts';
import type { Axis, Curve } from '../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { slotsIn } from '../semantics/reads.ts';
import { held, placeName, placesOf } from './cells.ts';
import type { Held } from './cells.ts';
import { typed, unitsWritten } from './typed.ts';
import { basicUnit, differenceText, inUnit, numberText, numberTextsUncut, showingsIn } from './units.ts';
import type { Showing } from './units.ts';

/** Of what is missing. */
export const noFigure: SheetFigure = { number: '—', unit: '', second: null, plusMinus: null };

/** `427.6 in³ / 7007 cc`, `10.49 ± 0.05`. */
export function figureText({ number, unit, second, plusMinus }: SheetFigure): string {
  const first = [number, plusMinus === null ? '' : `± ${plusMinus}`, unit].filter((part) => part !== '').join(' ');
  return second === null ? first : `${first} / ${second}`;
}

/** The same figure without what it is unsure of: two views are alike where this is. */
export function bareText(figure: SheetFigure): string {
  return figureText({ ...figure, plusMinus: null });
}

/** The figure of one cell in one view. */
export function figureOf(outcome: Outcome, one: SlotOutcome, cell: number, view: View): SheetFigure {
  const content = held(one.views[view], one.axes, cell);
  if (content.is === 'missing') return noFigure;
  if (content.is === 'absent') return { ...noFigure, number: 'none' };
  if (content.is === 'curve') return curveFigure(outcome, content.curve, one, cell, view);
  const [first, ...beside] = showingsIn(outcome, one.slot);
  if (content.is === 'limits') {
    const showing = asThought(first!, one, cell, view);
    return { ...noFigure, number: limitsText(content.low, content.high, showing), unit: unitText(showing) };
  }
  const word = wordOf(outcome, one, content.value);
  if (word !== null) return { ...noFigure, number: word };
  return asTyped(one, cell, view, content, [first!, ...beside]) ?? asDeclared(one, cell, view, content, first!, beside);
}

function asTyped(
  one: SlotOutcome,
  cell: number,
  view: View,
  content: Held & { is: 'number' },
  showings: readonly Showing[],
): SheetFigure | null {
  const source = one.sourceOf(cell, view);
  if (one.warmOf(cell, view)?.is === 'brought') return null;
  const text = source && typed(source.value, one.axes, placesOf(one.axes, cell));
  if (!text) return null;
  const sameUnit = (showing: Showing): boolean =>
    showing.unit?.symbol === text.unit || (text.unit !== null && showing.unit === parsed(text.unit));
  const beside = showings.find((showing) => showing.unit !== null && !sameUnit(showing));
  return {
    number: text.number,
    unit: text.unit === null ? '' : displayUnit(text.unit),
    second: beside && showings.length > 1 ? withUnit(content.value, beside) : null,
    plusMinus: null,
  };
}

function parsed(symbol: string) {
  return standardUnits.get(symbol) ?? null;
}

function asDeclared(
  one: SlotOutcome,
  cell: number,
  view: View,
  content: Held & { is: 'number' },
  first: Showing,
  [second]: readonly Showing[],
): SheetFigure {
  return {
    number: numberText(inUnit(content.value, first), first),
    unit: unitText(first),
    second: second ? withUnit(content.value, second) : null,
    plusMinus: view === 'measured' ? plusMinus(one, cell, first) : null,
  };
}

/** Of the last digit that is shown: less is what is left of rounding. */
const worthTelling = 1e-3;

/** Twice the standard uncertainty, as `±` is meant in the file too. */
function plusMinus(one: SlotOutcome, cell: number, showing: Showing): string | null {
  const uncertainty = uncertaintiesOf(one)[cell] ?? null;
  if (uncertainty === null || !(uncertainty > 0)) return null;
  const shown = inUnit(2 * uncertainty, showing, 'difference');
  return showing.decimals !== null && shown < worthTelling * 10 ** -showing.decimals
    ? null
    : differenceText(shown, showing);
}

const uncertainties = new WeakMap<SlotOutcome, readonly (number | null)[]>();

/** Asked for once a figure: all its cells come together. */
function uncertaintiesOf(one: SlotOutcome): readonly (number | null)[] {
  const known = uncertainties.get(one) ?? one.uncertainty();
  uncertainties.set(one, known);
  return known;
}

export function unitText({ unit }: Showing): string {
  return unit === null ? '' : displayUnit(unit.symbol);
}

/** `7007 cc`: an SI figure in a unit. */
export function withUnit(si: number, showing: Showing): string {
  return [numberText(inUnit(si, showing), showing), unitText(showing)].filter((part) => part !== '').join(' ');
}

/** `0.036..0.044`, `≥ 0.080`, `≤ 0.0005`; SI in, open ends infinite. Without the unit. */
export function limitsText(low: number, high: number, showing: Showing): string {
  const ends = [low, high].filter(Number.isFinite);
  const [first = '', last = ''] = numberTextsUncut(
    ends.map((si) => inUnit(si, showing)),
    showing,
  );
  if (ends.length === 0) return 'no limits';
  if (ends.length === 2) return `${first}..${last}`;
  return low === -Infinity ? `≤ ${first}` : `≥ ${first}`;
}

/** A cell that is no quantity, in words; null for quantities. */
export function wordOf(outcome: Outcome, { slot }: Pick<SlotOutcome, 'slot'>, value: number): string | null {
  const { type } = slot;
  if (type.is === 'flag') return value === 1 ? 'yes' : 'no';
  if (type.is === 'choice') return type.names[value] ?? null;
  if (type.is === 'text') return outcome.texts[value] ?? null;
  if (type.is === 'date') return isoDate(value);
  if (type.is === 'index') return indexWord(outcome.axes.get(type.axis), value);
  return null;
}

function indexWord(axis: Axis | undefined, place: number): string {
  return axis ? String(placeName(axis, place)) : String(place + 1);
}

/** Days since 1970-01-01 as a date. */
function isoDate(days: number): string {
  return new Date(days * 86_400_000).toISOString().slice(0, 10);
}

/** Limits and curves have no pattern of their own: they are shown in the unit in which somebody wrote them. */
function asThought(showing: Showing, one: SlotOutcome, cell: number, view: View): Showing {
  if (one.slot.shown.length > 0) return showing;
  const written = unitsWritten(one.sourceOf(cell, view)?.value.at ?? one.slot.formula?.at);
  const unit = written && standardUnits.parse(written.unit);
  return unit && 'unit' in unit ? { unit: unit.unit, decimals: null } : showing;
}

function curveFigure(outcome: Outcome, curve: Curve, one: SlotOutcome, cell: number, view: View): SheetFigure {
  const { key, value } = curveShowings(outcome, one, cell, view);
  const keys = curve.keys[0] ?? new Float64Array();
  const greatest = curve.values.reduce((most, each) => Math.max(most, each), -Infinity);
  const points = `curve of ${curve.values.length} points`;
  if (keys.length === 0) return { ...noFigure, number: points };
  const ends = `${withUnit(keys[0]!, key)} to ${withUnit(keys[keys.length - 1]!, key)}`;
  return { ...noFigure, number: `${points}, ${ends}; greatest ${withUnit(greatest, value)}` };
}

/** The units that a curve was written in, `in -> cfm`; else as declared. */
export function curveShowings(
  outcome: Outcome,
  one: SlotOutcome,
  cell: number,
  view: View,
): { readonly key: Showing; readonly value: Showing } {
  const written = unitsWritten(one.sourceOf(cell, view)?.value.at ?? one.slot.formula?.at);
  const [key, to] = [written?.to ? written.unit : null, written?.to ?? null].map((symbol) => {
    const read = symbol === null ? null : standardUnits.parse(symbol);
    return read && 'unit' in read ? read.unit : null;
  });
  const against = one.slot.type.is === 'curve' ? one.slot.type.against[0] : undefined;
  const [declared] = showingsIn(outcome, one.slot);
  return {
    key: { unit: key ?? (against ? (keyUnitOf(outcome, one, against) ?? basicUnit(against)) : null), decimals: null },
    value: one.slot.shown.length > 0 ? declared! : { unit: to ?? declared!.unit, decimals: null },
  };
}

/** Keys that a formula made are told in the unit of the first keys, or figures, of that sort that it is made of. */
function keyUnitOf(outcome: Outcome, { slot: { formula } }: SlotOutcome, against: Measure): Unit | null {
  if (formula === null) return null;
  for (const id of slotsIn(formula)) {
    const made = outcome.slots.find(({ slot }) => slot.id === id);
    if (made?.slot.type.is === 'curve' && made.slot.type.against[0]?.dimension === against.dimension)
      return curveShowings(outcome, made, 0, 'measured').key.unit;
    if (made?.slot.type.is === 'measure' && made.slot.type.measure.dimension === against.dimension)
      return showingsIn(outcome, made.slot)[0]!.unit;
  }
  return null;
}
