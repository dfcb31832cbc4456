/**
 * Readings that a later cut has overtaken, with the cut that did it: what was cut is found through the graph, as the
 * plan itself finds it when it lays readings over cuts. What was read anew since is not among them.
 */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import { agedBy } from './ageing.ts';
import { lastCutBelow, madeOf } from './anchors.ts';
import { marksOf, sizeOf } from './cells.ts';
import type { Figure } from './figures.ts';
import { lastAged, readingsOf } from './history.ts';
import type { Overtaken } from './outcome.ts';
import { axesOf, settledAxes } from './workings.ts';
import type { Workings } from './workings.ts';

export function overtakenReadings(workings: Workings): readonly Overtaken[] {
  const { schema, given } = workings;
  return given.slotsWithHistory
    .map((id) => schema.slots[id]!)
    .filter((slot) => !given.absent.has(slot.mount) && given.history(slot.id).some(isReading))
    .flatMap((slot) => (settledAxes(workings, slot) === null ? [] : overtakenIn(workings, slot)));
}

const isReading = ({ source }: Figure): boolean => source.layer === 'measured';

function overtakenIn(workings: Workings, slot: Slot): readonly Overtaken[] {
  const { blocks } = workings.given;
  const under = slot.sort === 'derive' ? madeOf(workings, slot) : agedBy(workings.schema, slot.id);
  if (!under.some((id) => isCutIn(workings, id, null))) return [];
  const last = lastReadings(workings, slot);
  const cut =
    slot.sort === 'derive' ? lastCutBelow(workings, slot.id, blocks.length) : lastAged(workings, slot, blocks.length);
  return last.flatMap((figure, cell): Overtaken[] => {
    const block = cut[cell]!;
    if (figure === null || figure.block! >= block) return [];
    const what = under.filter((id) => isCutIn(workings, id, block));
    return [
      { slot: slot.id, cell, reading: figure.source, cut: blocks[block]!, what, carried: slot.sort === 'derive' },
    ];
  });
}

/** The newest reading of each cell; null where there is none. What is made of readings is not read itself. */
function lastReadings(workings: Workings, slot: Slot): readonly (Figure | null)[] {
  const axes = axesOf(workings, slot);
  const history = workings.given.history(slot.id);
  const before = workings.given.specified(slot.id).length;
  const last: (Figure | null)[] = Array.from({ length: sizeOf(axes) }, () => null);
  for (const { mask, value, speaker } of readingsOf(workings, slot, 0, workings.given.blocks.length)) {
    const figure = history[speaker - before];
    if (figure === undefined) continue;
    const marks = marksOf(value, axes);
    last.forEach((known, cell) => {
      if (known === null && (mask === null || mask[cell] === 1) && marks[cell]! < Mark.missing) last[cell] = figure;
    });
  }
  return last;
}

function isCutIn(workings: Workings, id: SlotId, block: number | null): boolean {
  return workings.given
    .history(id)
    .some((figure) => figure.source.layer === 'machining' && (block === null || figure.block === block));
}
