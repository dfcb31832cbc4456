/** How one cell is called: `plate[3].width`, and where it is on its axes. */
import type { Axis } from '../evaluate/value.ts';
import type { Mount, Schema, Slot } from '../schema/schema.ts';
import { placeName } from './axes.ts';

/** Places stand behind the mount, or the property, whose axes they are on. */
export function labelOf(schema: Schema, slot: Slot, cell: number, axes: readonly Axis[]): string {
  const places = placesOf(cell, axes);
  const names: string[] = [];
  let done = 0;
  const push = (name: string, upTo: number): void => {
    const own = axes.slice(done, upTo).map((axis, at) => placeName(axis, places[done + at]!));
    done = Math.max(done, upTo);
    names.push(own.length === 0 ? name : `${name}[${own.join(', ')}]`);
  };
  for (const mount of mountsTo(schema, slot)) if (mount.path !== '') push(mount.name, mount.axes.length);
  push(slot.name, axes.length);
  return names.join('.');
}

function mountsTo(schema: Schema, slot: Slot): readonly Mount[] {
  const chain: Mount[] = [];
  for (let at: number | null = slot.mount; at !== null; at = schema.mounts[at]!.parent)
    chain.unshift(schema.mounts[at]!);
  return chain;
}

/** Place on each axis, from 0. */
export function placesOf(cell: number, axes: readonly Axis[]): readonly number[] {
  const places: number[] = [];
  for (let at = axes.length - 1, left = cell; at >= 0; at--) {
    const { size } = axes[at]!;
    places.unshift(left % size);
    left = Math.floor(left / size);
  }
  return places;
}
