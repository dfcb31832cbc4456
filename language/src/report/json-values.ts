// One figure in the JSON contract (see shared/src/result/contract.ts): in its declared unit and in SI, in every view, never NaN.
import type { Cell, LimitsCell, Nested, ValueResult } from '@thou/shared/result/contract';
import type { Axis, Curve, Value } from '../semantics/evaluate/value.ts';
import type { View } from '../semantics/ir.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellCount, held, nested, nestedUnlessAlike, placeKey } from './cells.ts';
import { curveShowings, wordOf } from './figures.ts';
import type { Fitted } from './parts.ts';
import { inUnit, measureOf, showingsOf } from './units.ts';
import type { Showing } from './units.ts';

export function nameOfAxis(axis: Axis, names: ReadonlyMap<number, string>): string {
  return names.get(axis.id) ?? axis.name;
}

export function valueJson(outcome: Outcome, one: SlotOutcome, names: ReadonlyMap<number, string>): ValueResult {
  const along = stepped(outcome, one);
  if (along) return curveAlong(outcome, one, along, names);
  const showings = jsonShowings(outcome, one);
  const showing = showings.value;
  const cells = (view: View, as: Showings): Nested<Cell> =>
    nested(one.axes, (cell) => cellJson(outcome, one, cell, view, as));
  const [band, uncertainty] = [one.band(), one.uncertainty()];
  return {
    value: cells('measured', showings),
    unit: showing.unit?.symbol ?? null,
    si: cells('measured', { value: plain, key: plain }),
    axes: one.axes.map((axis) => nameOfAxis(axis, names)),
    layer: nestedUnlessAlike(one.axes, (cell) => one.layerOf(cell, 'measured')),
    state: nestedUnlessAlike(one.axes, (cell) => one.states[cell] ?? 'missing'),
    views: {
      specified: cells('specified', showings),
      ordered: cells('ordered', showings),
      before: cells('before', showings),
      measured: cells('measured', showings),
    },
    band: nested(one.axes, (cell) => bandJson(band[cell] ?? null, showing)),
    uncertainty: nested(one.axes, (cell) => {
      const si = uncertainty[cell] ?? null;
      return si === null ? null : finite(inUnit(si, showing, 'difference'));
    }),
  };
}

/** The axis of steps that a figure runs along, many points close together; none where its places are counted or labelled. */
function stepped({ binding: { schema } }: Outcome, { axes }: SlotOutcome): Axis | undefined {
  return axes.find(({ id }) => (schema.axes[id]?.range?.step ?? null) !== null);
}

/** A figure along steps: as many digits as can be worth anything, other views only where they differ, and no point is asked what it may be off. */
function curveAlong(outcome: Outcome, one: SlotOutcome, along: Axis, names: ReadonlyMap<number, string>): ValueResult {
  const { axes, views } = one;
  const { value: showing } = jsonShowings(outcome, one);
  const figures = (view: View): Float64Array => Float64Array.from(heldFigures(views[view], axes));
  const now = figures('measured');
  const rows = (si: Float64Array, as: Showing): Nested<Cell> =>
    nested(axes, (cell) => shortened(inUnit(si[cell]!, as)));
  const unlessAlike = (view: View): Nested<Cell> => {
    const then = views[view] === views.measured ? now : figures(view);
    return then.every((si, cell) => Object.is(si, now[cell])) ? null : rows(then, showing);
  };
  return {
    value: rows(now, showing),
    unit: showing.unit?.symbol ?? null,
    si: rows(now, plain),
    axes: axes.map((axis) => nameOfAxis(axis, names)),
    along: nameOfAxis(along, names),
    layer: nestedUnlessAlike(axes, (cell) => one.layerOf(cell, 'measured')),
    state: nestedUnlessAlike(axes, (cell) => one.states[cell] ?? 'missing'),
    views: {
      specified: unlessAlike('specified'),
      ordered: unlessAlike('ordered'),
      before: unlessAlike('before'),
      measured: null,
    },
    band: null,
    uncertainty: null,
  };
}

const digits = 7;

function shortened(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(digits)) : null;
}

function heldFigures(value: Value, axes: readonly Axis[]): readonly number[] {
  return Array.from({ length: cellCount(axes) }, (_, cell) => {
    const content = held(value, axes, cell);
    return content.is === 'number' ? content.value : NaN;
  });
}

interface Showings {
  readonly value: Showing;
  /** Of the keys of a curve. */
  readonly key: Showing;
}
const plain: Showing = { unit: null, decimals: null };

function jsonShowings(outcome: Outcome, one: SlotOutcome): Showings {
  if (one.slot.type.is === 'curve') return curveShowings(outcome, one, 0, 'measured');
  return { value: measureOf(one.slot.type) ? showingsOf(one.slot)[0]! : plain, key: plain };
}

function cellJson(
  outcome: Outcome,
  one: SlotOutcome,
  cell: number,
  view: View,
  { value: showing, key: keyShowing }: Showings,
): Cell {
  const content = held(one.views[view], one.axes, cell);
  if (content.is === 'missing' || content.is === 'absent') return null;
  if (content.is === 'limits') return limitsJson(content.low, content.high, showing);
  if (content.is === 'curve') return curveJson(content.curve, showing, keyShowing);
  if (one.slot.type.is === 'flag') return content.value === 1;
  return (
    indexJson(outcome, one, content.value) ??
    wordOf(outcome, one, content.value) ??
    finite(inUnit(content.value, showing))
  );
}

/** A place on an axis: its label, or its number. */
function indexJson(outcome: Outcome, { slot }: SlotOutcome, place: number): string | number | null {
  if (slot.type.is !== 'index') return null;
  const axis = outcome.axes.get(slot.type.axis);
  return axis ? placeKey(axis, place) : place + 1;
}

export function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function limitsJson(low: number, high: number, showing: Showing): LimitsCell {
  return { min: finite(inUnit(low, showing)), max: finite(inUnit(high, showing)) };
}

function curveJson(curve: Curve, showing: Showing, keyShowing: Showing): Cell {
  const rows = curve.keys.map((row) => [...row].map((si) => inUnit(si, keyShowing)));
  const keyUnit = keyShowing.unit?.symbol ?? null;
  const values = [...curve.values].map((si) => inUnit(si, showing));
  return rows.length === 1
    ? { keys: rows[0]!, keyUnit, values }
    : { keys: rows, keyUnit: rows.map(() => keyUnit), values };
}

function bandJson(
  band: { readonly low: number; readonly high: number } | null,
  showing: Showing,
): readonly [number, number] | null {
  if (!band) return null;
  const [low, high] = [inUnit(band.low, showing), inUnit(band.high, showing)];
  return Number.isFinite(low) && Number.isFinite(high) ? [low, high] : null;
}

export function partJson({ axes, parts }: Fitted, names: ReadonlyMap<number, string>): ValueResult {
  const part = nested<Cell>(axes, (cell) => parts[cell]?.part ?? null);
  return {
    value: part,
    unit: null,
    si: part,
    axes: axes.map((axis) => nameOfAxis(axis, names)),
    layer: nestedUnlessAlike(axes, (cell) => parts[cell]?.layer ?? null),
    state: nestedUnlessAlike(axes, (cell) => (parts[cell] ? 'specified' : 'missing')),
    views: { specified: part, ordered: part, before: part, measured: part },
    band: nested(axes, () => null),
    uncertainty: nested(axes, () => null),
  };
}
