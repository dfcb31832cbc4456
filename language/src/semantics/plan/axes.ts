/**
 * The axes of one build: how many places each has and where they stand. Sizes are settled before anything else,
 * from figures as specified; an axis whose size is not known has one place, and all along it is missing.
 */
import { displayUnit } from '@thou/shared/number/format';
import { fromSI, standardUnits } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';
import { caps } from '@thou/shared/limits';
import type { Axis } from '../evaluate/value.ts';
import type { AxisKey, Expr } from '../ir.ts';
import type { Schema, SchemaAxis } from '../schema/schema.ts';
import type { AxisId } from '../types/type.ts';

const tolerance = 1e-9;

/** A figure that sizes an axis: null where it is missing. */
export type ScalarOf = (expr: Expr) => number | null;
type TooLarge = (axis: SchemaAxis, size: number) => void;

export class AxisTable {
  private readonly schema: Schema;
  private readonly settled = new Map<AxisId, Axis | null>();
  private readonly placeholders = new Map<AxisId, Axis>();
  private readonly opened = new Map<string, Axis>();
  private readonly scalarOf: ScalarOf;
  private readonly tooLarge: TooLarge;
  private previous: AxisTable | null;

  constructor(schema: Schema, scalarOf: ScalarOf, tooLarge: TooLarge, previous: AxisTable | null) {
    this.schema = schema;
    this.scalarOf = scalarOf;
    this.tooLarge = tooLarge;
    this.previous = previous;
  }

  /** Null while its size is not known; open axes come with their values. */
  known(id: AxisId): Axis | null {
    const done = this.settled.get(id);
    if (done !== undefined) return done;
    this.settled.set(id, null); // whatever sizes it cannot lie along it
    const made = this.make(this.schema.axes[id]!);
    const before = this.previous?.settled.get(id) ?? null;
    const axis = made !== null && before !== null && sameAxis(made, before) ? before : made;
    this.settled.set(id, axis);
    return axis;
  }

  /** As `known`, but one place where nothing is known. */
  axis(id: AxisId): Axis {
    return this.known(id) ?? this.placeholder(id);
  }

  /** One place, for an axis whose size no one has given yet. */
  placeholder(id: AxisId): Axis {
    const shared = this.previous?.placeholders.get(id) ?? this.placeholders.get(id);
    const axis = shared ?? {
      id,
      name: this.schema.axes[id]!.name,
      size: 1,
      labels: null,
      coordinates: Float64Array.of(1),
    };
    this.placeholders.set(id, axis);
    return axis;
  }

  /** The axis that pooled(…) or offered(…) makes: the same object for the same places. */
  open(id: AxisId, size: number, labels: readonly string[] | null): Axis {
    const key = `${id} ${size} ${labels === null ? '' : JSON.stringify(labels)}`;
    const axis = this.opened.get(key) ??
      this.previous?.opened.get(key) ?? {
        id,
        name: this.schema.axes[id]!.name,
        size,
        labels,
        coordinates: counted(1, size),
      };
    this.opened.set(key, axis);
    return axis;
  }

  settleAll(): ReadonlyMap<AxisId, Axis> {
    const all = new Map<AxisId, Axis>();
    for (const { id, open } of this.schema.axes) {
      const axis = open ? null : this.known(id);
      if (axis !== null) all.set(id, axis);
    }
    return all;
  }

  /** Lets go of the table whose axes this one took over. */
  forget(): void {
    this.previous = null;
  }

  private make(axis: SchemaAxis): Axis | null {
    const { id, name } = axis;
    if (axis.open) return null;
    if (axis.labels !== null)
      return { id, name, size: axis.labels.length, labels: axis.labels, coordinates: counted(1, axis.labels.length) };
    if (axis.listed !== null)
      return { id, name, size: axis.listed.length, labels: null, coordinates: Float64Array.from(axis.listed) };
    if (axis.twinOf !== null) {
      const twin = this.known(axis.twinOf);
      return twin === null ? null : { ...twin, id, name };
    }
    return axis.range === null ? null : this.fromRange(axis, axis.range);
  }

  private fromRange(axis: SchemaAxis, range: NonNullable<SchemaAxis['range']>): Axis | null {
    const from = this.scalarOf(range.from);
    const to = this.scalarOf(range.to);
    const step = range.step === null ? 1 : this.scalarOf(range.step);
    if (from === null || to === null || step === null || !(step > 0)) return null;
    const size = Math.floor((to - from) / step + tolerance) + 1;
    if (!(size >= 1)) return null;
    if (size > caps.axisSize) {
      this.tooLarge(axis, size);
      return null;
    }
    const coordinates = new Float64Array(size);
    for (let place = 0; place < size; place++) coordinates[place] = from + place * step;
    const unit = unitOf(range.step);
    return { id: axis.id, name: axis.name, size, labels: null, coordinates, ...(unit === null ? {} : { unit }) };
  }
}

function counted(from: number, size: number): Float64Array {
  return Float64Array.from({ length: size }, (_, place) => from + place);
}

function sameAxis(a: Axis, b: Axis): boolean {
  return (
    a.size === b.size &&
    a.name === b.name &&
    a.coordinates.every((at, place) => Object.is(at, b.coordinates[place])) &&
    (a.labels === null
      ? b.labels === null
      : b.labels !== null && a.labels.every((label, place) => label === b.labels![place]))
  );
}

/** The place of a key on an axis, from 0; null where there is none. */
export function placeOf(axis: Axis, key: Pick<AxisKey, 'label' | 'number'>): number | null {
  if (key.label !== null) {
    const place = axis.labels?.indexOf(key.label) ?? -1;
    return place < 0 ? null : place;
  }
  const wanted = key.number ?? NaN;
  const place = axis.coordinates.findIndex((at) => Math.abs(at - wanted) <= tolerance * Math.max(1, Math.abs(wanted)));
  return place < 0 ? null : place;
}

/** As the step is written. */
function unitOf(step: Expr | null): Unit | null {
  const { unit } = (step?.at ?? {}) as { readonly unit?: unknown };
  return typeof unit === 'string' ? (standardUnits.get(unit) ?? null) : null;
}

/** More digits than these are what is left of rounding. */
const digitsTold = 10;

/** How a place is written: its label, else its number, with its unit where it has one. */
export function placeName({ labels, coordinates, unit }: Axis, place: number): string {
  const at = coordinates[place] ?? place + 1;
  if (unit === undefined) return labels?.[place] ?? String(at);
  return `${Number(fromSI(at, unit).toPrecision(digitsTold))} ${displayUnit(unit.symbol)}`;
}
