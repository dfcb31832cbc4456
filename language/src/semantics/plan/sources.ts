/** Whose figure a cell is: from the number that a node keeps to the assignment. */
import type { Layer } from '../bind/binding.ts';
import type { SlotId } from '../ir.ts';
import { propertiesUnder } from './ageing.ts';
import type { Figure } from './figures.ts';
import { slotsIn } from '../reads.ts';
import { Speaker } from './workings.ts';
import type { Workings } from './workings.ts';

/** For a reading made of readings: the first of those in its block. Null where a formula or nobody speaks. */
export function sourceOf(workings: Pick<Workings, 'given' | 'schema'>, slot: SlotId, speaker: number): Figure | null {
  const { given, schema } = workings;
  if (speaker <= Speaker.made) return firstRead(workings, slot, Speaker.made - speaker);
  if (speaker < 0) return null;
  const specified = given.specified(schema.slots[slot]!.id);
  return specified[speaker] ?? given.history(slot)[speaker - specified.length] ?? null;
}

function firstRead(workings: Pick<Workings, 'given' | 'schema'>, slot: SlotId, block: number): Figure | null {
  const { measuredBy } = workings.schema.slots[slot]!;
  if (measuredBy === null) return null;
  for (const input of propertiesUnder(workings.schema, slotsIn(measuredBy))) {
    const found = workings.given.history(input).find((one) => one.block === block && one.source.layer === 'measured');
    if (found !== undefined) return found;
    const below = workings.schema.slots[input]!.measuredBy === null ? null : firstRead(workings, input, block);
    if (below !== null) return below;
  }
  return null;
}

export function layerOf(
  workings: Pick<Workings, 'given' | 'schema'>,
  slot: SlotId,
  speaker: number,
): Layer | 'formula' | null {
  if (speaker === Speaker.none) return null;
  if (speaker !== Speaker.formula) return sourceOf(workings, slot, speaker)?.source.layer ?? 'measured';
  return workings.schema.slots[slot]!.exactDefault ? 'default' : 'formula';
}
