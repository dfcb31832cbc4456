/**
 * Machining and readings of one slot in the order of their blocks: which came last in each cell, and which readings a
 * later cut has overtaken. Knows no formulas.
 */
import { Mark } from '../evaluate/value.ts';
import type { Value } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import { agedBy, propertiesUnder } from './ageing.ts';
import { marksOf, sizeOf } from './cells.ts';
import type { Figure } from './figures.ts';
import { both, projectGreatest } from './masks.ts';
import type { Mask } from './masks.ts';
import { slotsIn } from '../reads.ts';
import { axesOf, Speaker } from './workings.ts';
import type { Workings } from './workings.ts';

/** One machining or reading, ready to be laid. */
export interface Entry {
  readonly block: number;
  readonly mask: Mask;
  readonly value: Value;
  readonly speaker: number;
}

function valueOf(workings: Workings, slot: SlotId, index: number): Value {
  return workings.node(slot, workings.clock.at('figure', undefined, false, index)).value;
}

function entriesOf(
  workings: Workings,
  slot: Slot,
  layer: 'machining' | 'measured',
  from: number,
  upTo: number,
): Entry[] {
  const before = workings.given.specified(slot.id).length;
  const entries: Entry[] = [];
  workings.given.history(slot.id).forEach((figure: Figure, index) => {
    const block = figure.block!;
    if (figure.source.layer !== layer || block < from || block >= upTo) return;
    entries.push({
      block,
      mask: workings.maskOf(figure),
      value: valueOf(workings, slot.id, index),
      speaker: before + index,
    });
  });
  return entries.reverse();
}

/** Newest first. */
export function cutsOf(workings: Workings, slot: Slot, upTo: number): readonly Entry[] {
  return entriesOf(workings, slot, 'machining', 0, upTo);
}

/** Newest first: its own readings, and those made of readings of other slots. */
export function readingsOf(workings: Workings, slot: Slot, from: number, upTo: number): readonly Entry[] {
  const own = entriesOf(workings, slot, 'measured', from, upTo);
  if (slot.measuredBy === null) return own;
  const made: Entry[] = [];
  for (const block of blocksRead(workings, slot)) {
    if (block < from || block >= upTo) continue;
    const moment = workings.clock.at('made', upTo, false, block);
    made.push({ block, mask: null, value: workings.node(slot.id, moment).value, speaker: Speaker.made - block });
  }
  return [...own, ...made].sort((a, b) => b.block - a.block);
}

/** Blocks in which something was read that the slot's readings are made of. */
function blocksRead(workings: Workings, slot: Slot): readonly number[] {
  const blocks = new Set<number>();
  const inputs = [...propertiesUnder(workings.schema, slotsIn(slot.measuredBy!))];
  for (const input of inputs) {
    const { measuredBy } = workings.schema.slots[input]!;
    if (measuredBy !== null) for (const below of slotsIn(measuredBy)) if (!inputs.includes(below)) inputs.push(below);
    for (const { source, block } of workings.given.history(input)) if (source.layer === 'measured') blocks.add(block!);
  }
  return [...blocks];
}

/** Blocks before `upTo` that cut the slot, or what ages it; latest first. */
export function cutBlocks(workings: Workings, slot: Slot, upTo: number): readonly number[] {
  const blocks = new Set<number>();
  for (const id of agedBy(workings.schema, slot.id))
    for (const { source, block } of workings.given.history(id))
      if (source.layer === 'machining' && block! < upTo) blocks.add(block!);
  return [...blocks].sort((a, b) => b - a);
}

/** The last block before `upTo` that cut each cell; -1 where none did. */
export function lastCut(workings: Workings, slot: Slot, upTo: number): Int32Array {
  const axes = axesOf(workings, slot);
  const last = new Int32Array(sizeOf(axes)).fill(-1);
  for (const { block, mask, value } of cutsOf(workings, slot, upTo)) {
    const marks = marksOf(value, axes);
    last.forEach((known, cell) => {
      if (known < block && (mask === null || mask[cell] === 1) && marks[cell]! < Mark.missing) last[cell] = block;
    });
  }
  return last;
}

/** The last block before `upTo` after which older readings of a cell no longer hold. */
export function lastAged(workings: Workings, slot: Slot, upTo: number): Int32Array {
  return lastCutAmong(workings, slot, agedBy(workings.schema, slot.id), upTo);
}

/** Whether something else than the slot itself changed a cell after it was last cut: the size that was asked for is no longer due. */
export function isChangedSince(workings: Workings, slot: Slot, upTo: number): (cell: number) => boolean {
  const others = agedBy(workings.schema, slot.id).filter((id) => id !== slot.id);
  const changed = lastCutAmong(workings, slot, others, upTo);
  const cut = lastCut(workings, slot, upTo);
  return (cell) => changed[cell]! > cut[cell]!;
}

function lastCutAmong(workings: Workings, slot: Slot, ids: readonly SlotId[], upTo: number): Int32Array {
  const axes = axesOf(workings, slot);
  let last: Int32Array | null = null;
  for (const id of ids) {
    if (!workings.given.history(id).some((figure) => figure.source.layer === 'machining')) continue;
    const other = workings.schema.slots[id]!;
    const cut = lastCut(workings, other, upTo);
    const here = other === slot ? cut : projectGreatest(cut, axesOf(workings, other), axes);
    last = last === null ? here : last.map((block, cell) => Math.max(block, here[cell]!));
  }
  return last ?? new Int32Array(sizeOf(axes)).fill(-1);
}

/** Cells of `mask` where `test` holds. */
export function where(mask: Mask, size: number, test: (cell: number) => boolean): Mask {
  return both(
    mask,
    Uint8Array.from({ length: size }, (_, cell) => (test(cell) ? 1 : 0)),
  );
}
