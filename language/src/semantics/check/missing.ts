/** What is missing for checks, and what they would gain from being measured. */
import { Mark } from '../evaluate/value.ts';
import { marksOf } from '../plan/cells.ts';
import { labelOf } from '../plan/labels.ts';
import type { MissingInput } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { reach } from './reach.ts';
import type { Reached, Start } from './reach.ts';

/** For each start: cells without a figure, down to those that nothing computes. */
export function missingUnder(plan: Plan, starts: readonly Start[]): readonly (readonly MissingInput[])[] {
  const reached = reach(plan, starts, (mark) => mark === Mark.missing);
  return inputsByStart(plan, starts, reached, (one, cell) => one.isEnd(cell));
}

/** For each start: measurable cells that it rests on and that are only specified, only ordered, or missing. */
export function unmeasuredUnder(plan: Plan, starts: readonly Start[]): readonly (readonly MissingInput[])[] {
  const reached = reach(plan, starts, (mark) => mark > Mark.measured && mark < Mark.absent);
  const measurable = reached.filter(({ slot }) => plan.schema.slots[slot]!.measurable);
  return inputsByStart(plan, starts, measurable, (one, cell) => {
    const mark = one.marks[cell]!;
    if (mark === Mark.missing) return one.isEnd(cell);
    return (one.node.sources?.[cell] ?? -1) >= 0 && (mark === Mark.specified || mark === Mark.ordered);
  });
}

type Counts = (one: Reached, cell: number) => boolean;

function inputsByStart(
  plan: Plan,
  starts: readonly Start[],
  reached: readonly Reached[],
  counts: Counts,
): readonly (readonly MissingInput[])[] {
  const byStart = starts.map(() => new Map<string, MissingInput>());
  for (const one of reached) {
    const stale = staleCells(plan, one);
    one.marks.forEach((_, cell) => {
      const here = one.startsAt(cell);
      if (here.length === 0 || !counts(one, cell)) return;
      const input = inputAt(plan, one, cell, stale?.[cell] === 1);
      for (const start of here) byStart[start]!.set(`${input.slot} ${cell}`, input);
    });
  }
  return byStart.map((inputs) => [...inputs.values()].sort((a, b) => a.slot - b.slot || a.cell - b.cell));
}

function inputAt(plan: Plan, { slot: id, axes, marks, node }: Reached, cell: number, stale: boolean): MissingInput {
  const slot = plan.schema.slots[id]!;
  const why = marks[cell] === Mark.missing ? (node.why[0] ?? null) : null;
  return { path: slot.path, slot: id, cell, label: labelOf(plan.schema, slot, cell, axes), why, stale };
}

/** Cells with a reading that a later cut has overtaken; null where there is no history. */
function staleCells(plan: Plan, { slot, axes }: Reached): Uint8Array | null {
  if (plan.schema.slots[slot]!.measuredBy === null && plan.given.history(slot).length === 0) return null;
  const before = marksOf(plan.valueOf(slot, 'before').value, axes);
  const now = marksOf(plan.valueOf(slot, 'measured').value, axes);
  return before.map((mark, cell) => (mark === Mark.measured && now[cell] !== Mark.measured ? 1 : 0));
}
