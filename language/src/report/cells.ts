// Cells of figures along axes: their order, their places, their names. Row-major, first axis outermost.
import type { Nested } from '@thou/shared/result/contract';
import { placeName as nameInUnit } from '../semantics/plan/axes.ts';
import type { Axis, Curve, Tensor, Value } from '../semantics/evaluate/value.ts';
import { Mark } from '../semantics/evaluate/value.ts';
import type { AxisId } from '../semantics/types/type.ts';
import type { Mount, Schema, Slot } from '../semantics/schema/schema.ts';

export function cellCount(axes: readonly Pick<Axis, 'size'>[]): number {
  return axes.reduce((count, axis) => count * axis.size, 1);
}

/** Place on each axis of a cell. */
export function placesOf(axes: readonly Axis[], cell: number): number[] {
  const places: number[] = [];
  let rest = cell;
  for (const axis of [...axes].reverse()) {
    places.unshift(rest % axis.size);
    rest = Math.floor(rest / axis.size);
  }
  return places;
}

export function cellAt(axes: readonly Axis[], places: readonly number[]): number {
  return axes.reduce((cell, axis, at) => cell * axis.size + (places[at] ?? 0), 0);
}

/** The cell along some axes at places that are given for others: fewer, more, or in another order. */
export function cellOfPlaces(own: readonly Axis[], axes: readonly Axis[], places: readonly number[]): number {
  return cellAt(
    own,
    own.map((axis) => places[axes.findIndex((one) => one.id === axis.id)] ?? 0),
  );
}

function within(tensor: Tensor, axes: readonly Axis[], places: readonly number[]): number {
  return cellOfPlaces(tensor.axes, axes, places);
}

/** What one cell of a value holds. Figures in SI; open limits are ±Infinity. */
export type Held =
  | { readonly is: 'number'; readonly value: number; readonly low: number | null; readonly high: number | null }
  | { readonly is: 'limits'; readonly low: number; readonly high: number }
  | { readonly is: 'curve'; readonly curve: Curve }
  | { readonly is: 'missing' }
  | { readonly is: 'absent' };

export function held(value: Value, axes: readonly Axis[], cell: number): Held {
  const places = placesOf(axes, cell);
  if (value.is === 'curves') return heldCurve(value.axes, value.curves, value.mark, axes, places);
  if (value.is === 'limits') {
    const [low, high] = [read(value.low, axes, places), read(value.high, axes, places)];
    if (isAbsent(value.low, axes, places) || isAbsent(value.high, axes, places)) return { is: 'absent' };
    if (Number.isNaN(low) || Number.isNaN(high)) return { is: 'missing' };
    return { is: 'limits', low, high };
  }
  if (isAbsent(value.tensor, axes, places)) return { is: 'absent' };
  const nominal = read(value.tensor, axes, places);
  if (Number.isNaN(nominal)) return { is: 'missing' };
  const low = value.band ? read(value.band.low, axes, places) : NaN;
  const high = value.band ? read(value.band.high, axes, places) : NaN;
  const banded = !Number.isNaN(low) && !Number.isNaN(high);
  return { is: 'number', value: nominal, low: banded ? low : null, high: banded ? high : null };
}

function heldCurve(
  own: readonly Axis[],
  curves: readonly (Curve | null)[],
  mark: Uint8Array | null,
  axes: readonly Axis[],
  places: readonly number[],
): Held {
  const at = cellOfPlaces(own, axes, places);
  const curve = curves[at];
  if (curve) return { is: 'curve', curve };
  return { is: mark?.[at] === Mark.absent ? 'absent' : 'missing' };
}

function read(tensor: Tensor, axes: readonly Axis[], places: readonly number[]): number {
  return tensor.data[within(tensor, axes, places)] ?? NaN;
}

function isAbsent(tensor: Tensor, axes: readonly Axis[], places: readonly number[]): boolean {
  return tensor.mark?.[within(tensor, axes, places)] === Mark.absent;
}

/** Cells as rows along the axes; a single cell is no row. */
export function nested<T>(axes: readonly Pick<Axis, 'size'>[], of: (cell: number) => T): Nested<T> {
  const rows = (depth: number, first: number): Nested<T> => {
    const axis = axes[depth];
    if (!axis) return of(first);
    const stride = cellCount(axes.slice(depth + 1));
    return Array.from({ length: axis.size }, (_, place) => rows(depth + 1, first + place * stride));
  };
  return rows(0, 0);
}

/** As `nested`, but one figure where all cells are alike. */
export function nestedUnlessAlike<T extends string | null>(axes: readonly Axis[], of: (cell: number) => T): Nested<T> {
  const count = cellCount(axes);
  const first = of(0);
  for (let cell = 1; cell < count; cell++) if (of(cell) !== first) return nested(axes, of);
  return first;
}

/** What a place is called: its label, or its number; along steps with the unit of the step. */
export function placeName(axis: Axis, place: number): string | number {
  return axis.unit === undefined ? placeKey(axis, place) : nameInUnit(axis, place);
}

/** The same for programs: figures along steps are in SI. */
export function placeKey(axis: Axis, place: number): string | number {
  return axis.labels?.[place] ?? axis.coordinates[place] ?? place + 1;
}

/** `station 3`, `top`, `spot a`: a place in words. A letter says nothing without its axis. */
export function placeWords(axis: Axis, place: number): string {
  const name = String(placeName(axis, place)).replaceAll('-', ' ');
  return axis.labels && name.length > 1 ? name : `${axis.name.replaceAll('-', ' ')} ${name}`;
}

/** `plate[3].width[upper]`: each index stands behind the mount or the figure that varies along it. `null` as a place: all of it. */
export function address(schema: Schema, slot: Slot, axes: readonly Axis[], places: readonly (number | null)[]): string {
  const keys = new Map<AxisId, string>();
  axes.forEach((axis, at) => {
    const place = places[at];
    if (place !== null && place !== undefined) keys.set(axis.id, String(placeName(axis, place)));
  });
  const indices = (axes: readonly AxisId[]): string => {
    const own = axes.filter((axis) => keys.has(axis));
    const text = own.map((axis) => keys.get(axis)).join(', ');
    for (const axis of own) keys.delete(axis);
    return own.length > 0 ? `[${text}]` : '';
  };
  const mounts: Mount[] = [];
  for (let mount = schema.mounts[slot.mount]; mount && mount.parent !== null; mount = schema.mounts[mount.parent]) {
    mounts.unshift(mount);
  }
  return [...mounts, slot].map((step) => step.name + indices(step.axes)).join('.');
}

/** Cells that differ on no more than one axis: `station 1, 3 and 5`; else each in words. An axis of one place goes without saying. */
export function cellsInWords(all: readonly Axis[], cells: readonly (readonly number[])[]): string {
  const wide = all.flatMap((axis, at) => (axis.size > 1 ? [{ axis, at }] : []));
  const [only] = wide;
  if (!only) return '';
  if (cells.length > 1 && cells.length === cellCount(all)) return everyPlace(all);
  if (wide.length > 1 || only.axis.labels) {
    const each = cells.map((places) => wide.map(({ axis, at }) => placeWords(axis, places[at] ?? 0)).join(' '));
    return each.length > 4 ? `${each.slice(0, 3).join('; ')}; and ${each.length - 3} more` : joined(each, '; ');
  }
  const names = cells.map((places) => String(placeName(only.axis, places[only.at] ?? 0)));
  return `${only.axis.name.replaceAll('-', ' ')} ${joined(names, ', ')}`;
}

/** `each station`, `each station and end`; empty where there is one place. */
export function everyPlace(axes: readonly Axis[]): string {
  const names = axes.filter(({ size }) => size > 1).map(({ name }) => name.replaceAll('-', ' '));
  return names.length === 0 ? '' : `each ${joined(names, ', ')}`;
}

function joined(items: readonly string[], between: string): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(between)} and ${items[items.length - 1]}`;
}
