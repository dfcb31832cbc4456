// The JSON contract of a build (see shared/src/result/contract.ts): every figure in its declared unit, unrounded, never NaN.
// Records keyed by names of the file have no prototype.
import { resultFormat } from '@thou/shared/result/contract';
import type {
  At,
  BuildResult,
  Cell,
  CheckResult,
  LimitsCell,
  Nested,
  SheetResult,
  TaskResult,
  ToMeasureResult,
  ToOrderResult,
  ValueResult,
} from '@thou/shared/result/contract';
import type { Axis, Curve } from '../semantics/evaluate/value.ts';
import type { View } from '../semantics/ir.ts';
import type { CheckCell, CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { settlingFirst } from '../semantics/due/settling.ts';
import type { Due } from '../semantics/due/settling.ts';
import { toDo } from '../semantics/due/to-do.ts';
import type { TaskList } from '../semantics/due/to-do.ts';
import { toOrder } from '../semantics/due/to-order.ts';
import type { Order } from '../semantics/due/to-order.ts';
import { address, held, nested, nestedUnlessAlike, placeName, placesOf } from './cells.ts';
import { curveShowings, wordOf } from './figures.ts';
import { declaredShowing, worstOf } from './check-words.ts';
import { message } from './findings.ts';
import { madeOf } from './orders.ts';
import { fittedParts } from './parts.ts';
import type { Fitted } from './parts.ts';
import type { Files } from './place.ts';
import { inUnit, measureOf, showingsOf } from './units.ts';
import type { Showing } from './units.ts';

export interface SheetOptions {
  readonly version: string;
  readonly edition: number | null;
  readonly files: Files;
}

export function sheetJson(outcomes: readonly Outcome[], options: SheetOptions): SheetResult {
  return {
    format: resultFormat,
    thou: options.version,
    prelude: options.edition,
    builds: outcomes.map((outcome) => buildJson(outcome, options.files)),
  };
}

/** A record keyed by names of a file: `__proto__` is a name like any other. */
function record<T>(entries: Iterable<readonly [string, T]>): Readonly<Record<string, T>> {
  const made = Object.create(null) as Record<string, T>;
  for (const [key, value] of entries) {
    Object.defineProperty(made, key, { value, enumerable: true, configurable: true, writable: true });
  }
  return made;
}

function buildJson(outcome: Outcome, files: Files): BuildResult {
  const { binding } = outcome;
  const names = axisNames(outcome);
  const values: [string, ValueResult][] = [
    ...fittedParts(outcome).map((fitted): [string, ValueResult] => [fitted.mount.path, partJson(fitted, names)]),
    ...outcome.slots.map((one): [string, ValueResult] => [one.slot.path, valueJson(outcome, one, names)]),
  ];
  return {
    name: binding.name,
    variantOf: binding.base?.name ?? null,
    axisLabels: axisLabels(outcome, names),
    values: record(values),
    checks: outcome.checks.map((check) => checkJson(outcome, check, names, files)),
    toMeasure: settlingFirst(outcome).map((due) => toMeasureJson(outcome, due, names)),
    toOrder: toOrder(outcome).map((order) => toOrderJson(outcome, order, names)),
    tasks: toDo(outcome).flatMap((list) => tasksJson(outcome, list, names)),
  };
}

/** An axis that every mount has one of its own is named through its mount where sizes or labels differ. */
function axisNames(outcome: Outcome): ReadonlyMap<number, string> {
  const { schema } = outcome.binding;
  const labelsByName = new Map<string, Set<string>>();
  for (const axis of outcome.axes.values()) {
    const labels = labelsByName.get(axis.name) ?? new Set();
    labelsByName.set(axis.name, labels.add(JSON.stringify(labelsOf(axis))));
  }
  return new Map(
    [...outcome.axes].map(([id, axis]) => {
      const mount = schema.mounts[schema.axes[id]?.mount ?? -1];
      const unlike = (labelsByName.get(axis.name)?.size ?? 1) > 1;
      return [id, unlike && mount && mount.path !== '' ? `${mount.path}.${axis.name}` : axis.name];
    }),
  );
}

function labelsOf(axis: Axis): (string | number)[] {
  return Array.from({ length: axis.size }, (_, place) => placeName(axis, place));
}

function axisLabels(outcome: Outcome, names: ReadonlyMap<number, string>): BuildResult['axisLabels'] {
  return record([...outcome.axes].map(([id, axis]) => [names.get(id) ?? axis.name, labelsOf(axis)] as const));
}

function nameOfAxis(axis: Axis, names: ReadonlyMap<number, string>): string {
  return names.get(axis.id) ?? axis.name;
}

function valueJson(outcome: Outcome, one: SlotOutcome, names: ReadonlyMap<number, string>): ValueResult {
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
  return axis ? placeName(axis, place) : place + 1;
}

function finite(value: number): number | null {
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

function partJson({ axes, parts }: Fitted, names: ReadonlyMap<number, string>): ValueResult {
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

function atJson(axes: readonly Axis[], places: readonly number[], names: ReadonlyMap<number, string>): At {
  return record(axes.map((axis, at) => [nameOfAxis(axis, names), placeName(axis, places[at] ?? 0)] as const));
}

function checkJson(
  outcome: Outcome,
  check: CheckOutcome,
  names: ReadonlyMap<number, string>,
  files: Files,
): CheckResult {
  const showing = declaredShowing(outcome, check);
  const worst = worstOf(check.cells.filter(({ state }) => state === check.state));
  const figure = (si: number | null): number | null => (si === null ? null : finite(inUnit(si, showing)));
  const limits = (cell: CheckCell | null): LimitsCell | null =>
    !cell || (cell.low === null && cell.high === null) ? null : { min: figure(cell.low), max: figure(cell.high) };
  return {
    id: check.id,
    state: check.state,
    severity: check.severity,
    message: message(outcome, check, files),
    value: figure(worst?.value ?? null),
    unit: showing.unit?.symbol ?? null,
    limits: limits(worst),
    source: check.limitFrom && { words: check.limitFrom.words, place: files.placeOf(check.limitFrom.origin) },
    because: check.because,
    path: check.slot?.path ?? null,
    axes: check.axes.map((axis) => nameOfAxis(axis, names)),
    cells: check.cells.map((cell) => ({
      at: atJson(check.axes, cell.places, names),
      state: cell.state,
      value: figure(cell.value),
      limits: limits(cell),
    })),
  };
}

function toMeasureJson(
  outcome: Outcome,
  { input, settles, weight }: Due,
  names: ReadonlyMap<number, string>,
): ToMeasureResult {
  const axes = outcome.slots.find(({ slot }) => slot.id === input.slot)?.axes ?? [];
  const at = atJson(axes, placesOf(axes, input.cell), names);
  return { path: input.path, at, label: input.label, why: input.why, stale: input.stale, settles, weight };
}

function toOrderJson(outcome: Outcome, order: Order, names: ReadonlyMap<number, string>): ToOrderResult {
  const { one, cell, size } = order;
  const [showing] = showingsOf(one.slot);
  const places = placesOf(one.axes, cell);
  return {
    path: one.slot.path,
    part: '',
    at: atJson(one.axes, places, names),
    label: address(outcome.binding.schema, one.slot, one.axes, places),
    size: inUnit(size, showing!),
    unit: showing!.unit?.symbol ?? null,
    ...madeOf(outcome, order),
  };
}

function tasksJson(outcome: Outcome, { one, tasks }: TaskList, names: ReadonlyMap<number, string>): TaskResult[] {
  return tasks.map(({ cell, done, said }) => {
    const places = placesOf(one.axes, cell);
    return {
      path: one.slot.path,
      at: atJson(one.axes, places, names),
      label: address(outcome.binding.schema, one.slot, one.axes, places),
      done,
      on: said?.date ?? null,
      by: said?.hand ?? null,
    };
  });
}
