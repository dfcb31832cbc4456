// The JSON contract of a build (see shared/src/result/contract.ts): every figure in its declared unit, unrounded, never NaN.
// Records keyed by names of the file have no prototype.
import { resultFormat } from '@thou/shared/result/contract';
import type {
  At,
  BuildResult,
  CheckResult,
  LimitsCell,
  ReadAgainResult,
  SheetResult,
  TaskResult,
  ToMeasureResult,
  ToOrderResult,
  ValueResult,
} from '@thou/shared/result/contract';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { CheckCell, CheckOutcome, Outcome, Overtaken } from '../semantics/plan/outcome.ts';
import { settlingFirst } from '../semantics/due/settling.ts';
import type { Due } from '../semantics/due/settling.ts';
import { toDo } from '../semantics/due/to-do.ts';
import type { TaskList } from '../semantics/due/to-do.ts';
import { toOrder } from '../semantics/due/to-order.ts';
import type { Order } from '../semantics/due/to-order.ts';
import { address, placeKey, placesOf } from './cells.ts';
import { declaredShowing, worstOf } from './check-words.ts';
import { message } from './findings.ts';
import { madeOf } from './orders.ts';
import { fittedParts } from './parts.ts';
import { finite, nameOfAxis, partJson, valueJson } from './json-values.ts';
import type { Files } from './place.ts';
import { inUnit, showingsOf } from './units.ts';

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
    readAgain: outcome.readAgain.map((one) => overtakenJson(outcome, one, names)),
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
  return Array.from({ length: axis.size }, (_, place) => placeKey(axis, place));
}

function axisLabels(outcome: Outcome, names: ReadonlyMap<number, string>): BuildResult['axisLabels'] {
  return record([...outcome.axes].map(([id, axis]) => [names.get(id) ?? axis.name, labelsOf(axis)] as const));
}

function atJson(axes: readonly Axis[], places: readonly number[], names: ReadonlyMap<number, string>): At {
  return record(axes.map((axis, at) => [nameOfAxis(axis, names), placeKey(axis, places[at] ?? 0)] as const));
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
  const distance = (si: number | null): number | null =>
    si === null ? null : finite(inUnit(si, showing, 'difference'));
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
      guard: cell.guard && { min: distance(cell.guard.low), max: distance(cell.guard.high) },
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

function overtakenJson(outcome: Outcome, one: Overtaken, names: ReadonlyMap<number, string>): ReadAgainResult {
  const found = outcome.slots.find(({ slot }) => slot.id === one.slot)!;
  const places = placesOf(found.axes, one.cell);
  return {
    path: found.slot.path,
    at: atJson(found.axes, places, names),
    label: address(outcome.binding.schema, found.slot, found.axes, places),
    readOn: one.reading.date,
    cut: { label: one.cut.label, date: one.cut.date },
    changed: one.what.map((id) => outcome.binding.schema.slots[id]!.path),
    carriedOver: one.carried,
  };
}
