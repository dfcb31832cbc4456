/**
 * What is to be said where a reading stands that a later cut has overtaken: once for each figure that was written and each cut. Of a
 * reading in another file it is said at the cut.
 */
import type { HistoryBlock } from '../bind/binding.ts';
import { labelOf } from '../plan/labels.ts';
import type { Overtaken, PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Origin } from '../schema/schema.ts';
import { axesOf } from '../plan/workings.ts';

export function toBeReadAgain(plan: Plan, overtaken: readonly Overtaken[]): readonly PlanProblem[] {
  const { slots } = plan.schema;
  return byReading(overtaken).map((cells): PlanProblem => {
    const [{ slot: id, cell, reading, cut, what }] = cells as [Overtaken];
    const slot = slots[id]!;
    const path = cells.length === 1 ? labelOf(plan.schema, slot, cell, axesOf(plan, slot)) : slot.path;
    const args = { path, cut: cutInWords(cut), what: what.map((other) => slots[other]!.path).join(', ') };
    const figure: Origin = { uri: reading.origin.uri, at: reading.value.at ?? reading.origin.at };
    const isHere = figure.uri === plan.binding.origin.uri;
    const [origin, related] = isHere ? [figure, cut.origin] : [cut.origin, figure];
    return { code: 'reading.overtaken', severity: 'hint', args, origin, related: [related] };
  });
}

/** By the figure that was written, and by the cut that overtook it. */
export function byReading(overtaken: readonly Overtaken[]): readonly (readonly Overtaken[])[] {
  const groups = new Map<Overtaken['reading'], Map<HistoryBlock, Overtaken[]>>();
  for (const one of overtaken) {
    const byCut = groups.get(one.reading) ?? new Map<HistoryBlock, Overtaken[]>();
    groups.set(one.reading, byCut);
    byCut.set(one.cut, [...(byCut.get(one.cut) ?? []), one]);
  }
  return [...groups.values()].flatMap((byCut) => [...byCut.values()]);
}

/** `"Order 1" on 2026-02-20`. */
function cutInWords({ label, date }: HistoryBlock): string {
  const named = label === '' ? 'a machining' : `"${label}"`;
  return date === null ? named : `${named} on ${date}`;
}
