/** Which slots are worked out although nothing asks: those of which somebody outside of the trade library says something. */
import type { Origin, Slot } from '../schema/schema.ts';
import type { Figure, Given } from './figures.ts';

/** So that whatever there is to object to in it is met. */
export function isDue(given: Given, slot: Slot): boolean {
  return !given.absent.has(slot.mount) && (!slot.onDemand || isGivenOutsideLibrary(given, slot));
}

/** A figure, machining or reading of it stands in a file that is not of the trade library. */
export function isGivenOutsideLibrary(given: Given, { id, onDemand, origin }: Slot): boolean {
  const isOwn = ({ source }: Figure): boolean => !onDemand || !liesBeside(source.origin, origin);
  return given.history(id).length > 0 || given.specified(id).some(isOwn);
}

/** In one folder: the trade library has one of its own. */
function liesBeside(a: Origin, b: Origin): boolean {
  const end = b.uri.lastIndexOf('/') + 1;
  return a.uri.lastIndexOf('/') + 1 === end && a.uri.startsWith(b.uri.slice(0, end));
}
