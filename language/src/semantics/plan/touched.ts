/**
 * How far into the history each slot can feel it: so that a slot that no block reaches is worked out once for all
 * moments. Read off what may be read, not off what was.
 */
import type { SlotId } from '../ir.ts';
import type { Schema } from '../schema/schema.ts';
import { agedBy } from './ageing.ts';
import type { Given } from './figures.ts';
import { slotsIn } from '../reads.ts';

/** By slot: the last block that it or anything under it may feel, -1 for none. */
export function lastTouch(schema: Schema, given: Given): Int32Array {
  const declared = declaredReaders(schema);
  const readers = new Map<SlotId, SlotId[]>();
  const last = new Int32Array(schema.slots.length).fill(-1);
  for (const { id } of schema.slots) {
    for (const figures of [given.specified(id), given.history(id)])
      for (const { source, block } of figures) {
        for (const other of slotsIn(source.value)) readers.set(other, [...(readers.get(other) ?? []), id]);
        if (block !== null) last[id] = Math.max(last[id]!, block);
      }
  }
  const order = [...last.keys()].filter((id) => last[id]! >= 0).sort((a, b) => last[b]! - last[a]!);
  const done = new Uint8Array(last.length);
  for (const start of order) {
    const left = [start];
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      if (done[next] === 1) continue;
      done[next] = 1;
      last[next] = last[start]!;
      left.push(...declared[next]!, ...(readers.get(next) ?? []));
    }
  }
  return last;
}

const bySchema = new WeakMap<Schema, readonly (readonly SlotId[])[]>();

/** By slot: what reads it, or is aged with it, whatever is given. */
function declaredReaders(schema: Schema): readonly (readonly SlotId[])[] {
  const known = bySchema.get(schema);
  if (known !== undefined) return known;
  const readers: SlotId[][] = schema.slots.map(() => []);
  for (const { id, formula, measuredBy } of schema.slots) {
    for (const expr of [formula, measuredBy])
      if (expr !== null) for (const other of slotsIn(expr)) readers[other]!.push(id);
    for (const other of agedBy(schema, id)) if (other !== id) readers[other]!.push(id);
  }
  bySchema.set(schema, readers);
  return readers;
}
