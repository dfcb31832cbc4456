/**
 * A slot in one view: its specification overlaid by its machining and its readings, cell by cell. The rules for which
 * reading still holds are here; those for readings of derived values are in anchors.ts.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { Slot } from '../schema/schema.ts';
import { anchored } from './anchors.ts';
import { marksOf, withoutStanding } from './cells.ts';
import { cutBlocks, cutsOf, lastAged, readingsOf } from './history.ts';
import type { Entry } from './history.ts';
import { asItCame, laidAlong, nothing, sized, specification } from './layers.ts';
import type { Laid } from './layers.ts';
import { asRead, Layout, overBare } from './layout.ts';
import type { Moment } from './moments.ts';
import { atReference } from './warmth.ts';
import { settledAxes, Speaker } from './workings.ts';
import type { Workings } from './workings.ts';

const asOrdered = (mark: number): number => (mark === Mark.absent || mark === Mark.missing ? mark : Mark.ordered);

/** Works out one slot at one moment. What is chosen and what is allowed is not measured, whatever it was worked out from. */
export function inView(workings: Workings, slot: Slot, moment: Moment): Laid {
  const laid = laidOut(workings, slot, moment);
  return isMeasuredThing(slot) ? laid : { ...laid, value: withoutStanding(laid.value) };
}

function isMeasuredThing({ type }: Slot): boolean {
  return type.is === 'measure' || type.is === 'curve' || type.is === 'any';
}

function laidOut(workings: Workings, slot: Slot, moment: Moment): Laid {
  if (workings.given.absent.has(slot.mount)) return nothing(workings, slot, Mark.absent);
  if (moment.view === 'figure') return figureAlone(workings, slot, moment.from);
  if (moment.view === 'made') return madeReading(workings, slot, moment);
  const axes = settledAxes(workings, slot);
  const plain = axes === null || (slot.measuredBy === null && workings.given.history(slot.id).length === 0);
  if (moment.view === 'readings')
    return axes === null ? nothing(workings, slot) : onlyReadings(workings, slot, moment, axes);
  if (plain || moment.bare || moment.view === 'specified')
    return workings.sharedWithSpecified(slot.id, moment) ?? specification(workings, slot, moment);
  return slot.sort === 'derive' ? anchored(workings, slot, moment, axes) : overlaid(workings, slot, moment, axes);
}

function figureAlone(workings: Workings, slot: Slot, index: number): Laid {
  const figure = workings.given.history(slot.id)[index];
  // asked for on behalf of a plan before an edit that took the figure away
  if (figure === undefined) return nothing(workings, slot);
  const moment = workings.clock.at('measured', figure.block!);
  const value = workings.run(figure.source.value, moment, slot, figure);
  return { value: atReference(workings, figure, value), sources: null };
}

/** What `measured by` says, from readings alone. */
function madeReading(workings: Workings, slot: Slot, moment: Moment): Laid {
  if (!sized(workings, slot.measuredBy!)) return nothing(workings, slot);
  const readings = workings.clock.at('readings', moment.upTo, false, moment.from);
  const value = workings.run(slot.measuredBy!, readings, slot, null);
  const axes = settledAxes(workings, slot)!;
  return laidAlong(value, slot, axes, Speaker.none, wellKnown(value, axes));
}

/** Cells that are measured, or that need no measuring. */
function wellKnown(value: Value, axes: readonly Axis[]): Uint8Array {
  return marksOf(value, axes).map((mark) => (mark <= Mark.measured ? 1 : 0));
}

/** The slot with nothing but readings in it: what is only specified or ordered is missing. */
function onlyReadings(workings: Workings, slot: Slot, moment: Moment, axes: readonly Axis[]): Laid {
  const { from, upTo } = moment;
  const layout = new Layout(slot, axes);
  if (slot.sort === 'property') {
    const aged = lastAged(workings, slot, upTo);
    for (const entry of readingsOf(workings, slot, from, upTo))
      layout.lay(entry, (cell) => entry.block > aged[cell]!, asRead);
  }
  if (!layout.cells.complete) {
    const { value } = specification(workings, slot, moment);
    layout.cells.lay(value, wellKnown(value, axes), asItCame, () => {});
  }
  return layout.done();
}

/**
 * ordered: cut over specified. measured: readings that no later cut has overtaken over that. before: readings that a
 * later cut has overtaken over specified; cells that were never cut as measured.
 */
function overlaid(workings: Workings, slot: Slot, moment: Moment, axes: readonly Axis[]): Laid {
  const { view, upTo } = moment;
  const layout = new Layout(slot, axes);
  if (view === 'ordered') layCuts(workings, slot, upTo, layout);
  else {
    const aged = lastAged(workings, slot, upTo);
    if (view === 'before') layStale(workings, slot, upTo, aged, layout);
    const fresh = (entry: Entry) => (cell: number) =>
      entry.block > aged[cell]! && (view === 'measured' || aged[cell]! < 0);
    for (const entry of readingsOf(workings, slot, 0, upTo)) layout.lay(entry, fresh(entry), asRead);
    if (view === 'measured') layCuts(workings, slot, upTo, layout);
  }
  return overBare(workings, slot, moment, layout);
}

function layCuts(workings: Workings, slot: Slot, upTo: number, layout: Layout): void {
  for (const entry of cutsOf(workings, slot, upTo)) layout.lay(entry, null, asOrdered);
}

/** Readings made of others are made anew for each cut, from what had been read by then. */
function layStale(workings: Workings, slot: Slot, upTo: number, aged: Int32Array, layout: Layout): void {
  for (const cut of cutBlocks(workings, slot, upTo))
    for (const entry of readingsOf(workings, slot, 0, cut)) layout.lay(entry, (cell) => aged[cell]! >= cut, asRead);
}
