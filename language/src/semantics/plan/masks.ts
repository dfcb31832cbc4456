/**
 * Which cells a figure counts in: its keys, the part that is fitted there, what a variant replaces. A mask has one byte
 * a cell; null is all cells. Depends on axes and on what is given, on no figure's value.
 */
import type { Selector } from '../bind/binding.ts';
import type { Axis } from '../evaluate/value.ts';
import type { AxisKey } from '../ir.ts';
import type { MountId, Schema } from '../schema/schema.ts';
import type { AxisTable } from './axes.ts';
import { placeOf } from './axes.ts';
import { cellsFrom, sizeOf } from './cells.ts';
import type { Exchanged } from './exchanged.ts';
import type { Figure, Fitted, Given } from './figures.ts';

export type Mask = Uint8Array | null;
type KeyOffAxis = (key: AxisKey, axis: Axis) => void;

export class Masks {
  private readonly schema: Schema;
  private readonly given: Given;
  private readonly axes: AxisTable;
  private readonly known = new Map<Figure, Mask>();
  private readonly fitted = new Map<Fitted, Map<string, Mask>>();

  constructor(schema: Schema, given: Given, axes: AxisTable) {
    this.schema = schema;
    this.given = given;
    this.axes = axes;
  }

  /** Cells along the slot's axes in which the figure may speak. */
  of(figure: Figure, offAxis: KeyOffAxis): Mask {
    const done = this.known.get(figure);
    if (done !== undefined) return done;
    const slot = this.schema.slots[figure.source.slot]!;
    const axes = slot.axes.map((id) => this.axes.axis(id));
    let mask = selected(figure.source.selector, axes, offAxis);
    if (figure.part !== null) mask = both(mask, this.whereFitted(figure.part, axes));
    mask = both(mask, this.leftByReplacements(figure, slot.mount, axes));
    mask = both(mask, this.leftByVariants(figure, axes));
    this.known.set(figure, mask);
    return mask;
  }

  /** Of all figures but those that were exchanged, along the same axes. */
  takeOver(earlier: Masks, figures: Exchanged): void {
    for (const [figure, mask] of earlier.known) if (!figures.has(figure.source)) this.known.set(figure, mask);
  }

  private whereFitted(part: Fitted, axes: readonly Axis[]): Mask {
    const known = this.fitted.get(part) ?? new Map<string, Mask>();
    this.fitted.set(part, known);
    const along = axes.map(({ id }) => id).join();
    if (!known.has(along)) known.set(along, this.fittedAlong(part, axes));
    return known.get(along)!;
  }

  private fittedAlong(part: Fitted, axes: readonly Axis[]): Mask {
    const mount = this.schema.mounts[part.mount]!.axes.map((id) => this.axes.axis(id));
    const winner = Array.from({ length: sizeOf(mount) }, (): Fitted | null => null);
    for (const one of this.given.parts) {
      if (one.mount !== part.mount) continue;
      const mask = selected(one.selector, mount, nowhere);
      winner.forEach((_, cell) => {
        if (mask === null || mask[cell] === 1) winner[cell] = one;
      });
    }
    return project(
      Uint8Array.from(winner, (one) => (one === part ? 1 : 0)),
      mount,
      axes,
    );
  }

  /** A part that a variant puts on a mount drops the base's figures at and below it; practice and defaults stay. */
  private leftByReplacements(figure: Figure, mount: MountId, axes: readonly Axis[]): Mask {
    const { layer } = figure.source;
    if (layer === 'mount-default' || layer === 'practice') return null;
    let mask: Mask = null;
    for (let at: MountId | null = mount; at !== null; at = this.schema.mounts[at]!.parent) {
      if (this.given.dropsWhole(at, figure.depth)) return new Uint8Array(sizeOf(axes));
      const own = this.schema.mounts[at]!.axes.map((id) => this.axes.axis(id));
      for (const part of this.given.replacements(at, figure.depth)) {
        const replaced = project(selected(part.selector, own, nowhere), own, axes);
        mask = both(mask, opposite(replaced, sizeOf(axes)));
      }
    }
    return mask;
  }

  /** What a variant sets drops the machining and the readings of its base in those cells. */
  private leftByVariants(figure: Figure, axes: readonly Axis[]): Mask {
    if (figure.block === null) return null;
    let mask: Mask = null;
    for (const later of this.given.specified(figure.source.slot)) {
      if (later.source.layer !== 'variant' || later.depth <= figure.depth) continue;
      mask = both(mask, opposite(this.of(later, nowhere), sizeOf(axes)));
    }
    return mask;
  }
}

const nowhere: KeyOffAxis = () => {};

/** Cells that a selector names; a key that is not on its axis names none. */
function selected(selector: Selector, axes: readonly Axis[], offAxis: KeyOffAxis): Mask {
  let mask: Mask = null;
  for (const { axis: id, key } of selector) {
    const at = axes.findIndex((axis) => axis.id === id);
    if (at < 0) continue;
    const place = placeOf(axes[at]!, key);
    if (place === null) offAxis(key, axes[at]!);
    const inner = sizeOf(axes.slice(at + 1));
    const { size } = axes[at]!;
    mask = both(
      mask,
      Uint8Array.from({ length: sizeOf(axes) }, (_, cell) => (Math.floor(cell / inner) % size === place ? 1 : 0)),
    );
  }
  return mask;
}

export function both(a: Mask, b: Mask): Mask {
  if (a === null) return b;
  return b === null ? a : a.map((one, cell) => one & b[cell]!);
}

function opposite(mask: Mask, size: number): Uint8Array {
  return mask === null ? new Uint8Array(size) : mask.map((one) => 1 - one);
}

/** Cells along `to` that share their places on common axes with a cell of `mask`. */
export function project(mask: Mask, from: readonly Axis[], to: readonly Axis[]): Mask {
  if (mask === null) return null;
  const shared = from.filter((axis) => to.some((other) => other.id === axis.id));
  const outOf = cellsFrom(shared, from);
  const seen = new Uint8Array(sizeOf(shared));
  mask.forEach((one, cell) => {
    if (one === 1) seen[outOf[cell]!] = 1;
  });
  return Uint8Array.from(cellsFrom(shared, to), (cell) => seen[cell]!);
}

/** As `project`, but with a number a cell: the greatest of those that share the places. */
export function projectGreatest(cells: Int32Array, from: readonly Axis[], to: readonly Axis[]): Int32Array {
  const shared = from.filter((axis) => to.some((other) => other.id === axis.id));
  const outOf = cellsFrom(shared, from);
  const greatest = new Int32Array(sizeOf(shared)).fill(-1);
  cells.forEach((one, cell) => {
    greatest[outOf[cell]!] = Math.max(greatest[outOf[cell]!]!, one);
  });
  return Int32Array.from(cellsFrom(shared, to), (cell) => greatest[cell]!);
}

/** Readings and cuts of one slot are cells of the slot: their masks are as long as it is. */
export function allCells(mask: Mask, size: number): Uint8Array {
  return mask ?? new Uint8Array(size).fill(1);
}
