/**
 * Which slots' machining makes a reading of which slot stale: its own, what is named behind `changed-by`, and whatever
 * is read by way of it. Depends on the schema alone.
 */
import type { SlotId } from '../ir.ts';
import type { Schema } from '../schema/schema.ts';
import { slotsIn } from '../reads.ts';

const known = new WeakMap<Schema, ReadonlyMap<SlotId, readonly SlotId[]>>();

/** Slots whose machining ages readings of `slot`, itself among them. */
export function agedBy(schema: Schema, slot: SlotId): readonly SlotId[] {
  let table = known.get(schema);
  if (table === undefined) known.set(schema, (table = tableOf(schema)));
  return table.get(slot) ?? [slot];
}

/** What a formula is made of, through derived values down to properties. */
export function propertiesUnder(schema: Schema, start: readonly SlotId[]): ReadonlySet<SlotId> {
  const seen = new Set<SlotId>();
  const left = [...start];
  for (let next = left.pop(); next !== undefined; next = left.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    const { sort, formula } = schema.slots[next]!;
    if (sort === 'derive' && formula !== null) left.push(...slotsIn(formula));
  }
  return seen;
}

function tableOf(schema: Schema): ReadonlyMap<SlotId, readonly SlotId[]> {
  const readInto = new Map<SlotId, SlotId[]>();
  for (const { id, measuredBy } of schema.slots) {
    if (measuredBy === null) continue;
    for (const input of propertiesUnder(schema, slotsIn(measuredBy))) {
      const into = readInto.get(input) ?? [];
      into.push(id);
      readInto.set(input, into);
    }
  }
  const table = new Map<SlotId, readonly SlotId[]>();
  for (const { id, changedBy } of schema.slots) {
    if (changedBy.length === 0 && !readInto.has(id)) continue;
    const all = new Set<SlotId>();
    const left = [id];
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      if (all.has(next)) continue;
      all.add(next);
      for (const other of schema.slots[next]!.changedBy) all.add(other);
      left.push(...(readInto.get(next) ?? []));
    }
    table.set(id, [...all]);
  }
  return table;
}
