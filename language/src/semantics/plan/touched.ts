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
  const readers: SlotId[][] = schema.slots.map(() => []);
  const last = new Int32Array(schema.slots.length).fill(-1);
  for (const { id, formula, measuredBy } of schema.slots) {
    const figures = [...given.specified(id), ...given.history(id)];
    const below = [formula, measuredBy, ...figures.map((figure) => figure.source.value)];
    for (const expr of below) if (expr !== null) for (const other of slotsIn(expr)) readers[other]!.push(id);
    for (const other of agedBy(schema, id)) if (other !== id) readers[other]!.push(id);
    for (const { block } of given.history(id)) last[id] = Math.max(last[id]!, block!);
  }
  const order = [...last.keys()].filter((id) => last[id]! >= 0).sort((a, b) => last[b]! - last[a]!);
  const done = new Uint8Array(last.length);
  for (const start of order) {
    const left = [start];
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      if (done[next] === 1) continue;
      done[next] = 1;
      last[next] = last[start]!;
      left.push(...readers[next]!);
    }
  }
  return last;
}
