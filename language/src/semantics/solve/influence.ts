/** How much one cell of a figure moves when each figure that somebody gave, or took as usual, moves by one step; all beside each other. */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { along, lanesId, markAt } from '../plan/cells.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { tensorOf } from '../check/question.ts';
import { viewOf } from './stepping.ts';

export interface Influence {
  readonly slot: SlotId;
  readonly cell: number;
  /** What it is now, and by how much it was moved either way; SI. */
  readonly at: number;
  readonly step: number;
  /** What the figure does when it grows by `step`; SI. */
  readonly by: number;
  /** By how many parts of itself the figure moves for each part of this one; null where either is nought. */
  readonly relative: number | null;
}

const lanesAtOnce = 48;

/** Those that move it most for their size come first. `stepOf`: how finely a figure is written, in SI. */
export function influencesOn(
  plan: Plan,
  slot: SlotId,
  cell: number,
  stepOf: (slot: SlotId, cell: number) => number,
): readonly Influence[] {
  const inputs = inputsUnder(plan, slot);
  const figure = figureAt(plan, slot, cell, 1)[0]!;
  const found: Influence[] = [];
  for (let start = 0; start < inputs.length; start += lanesAtOnce / 2) {
    const some = inputs.slice(start, start + lanesAtOnce / 2);
    const steps = some.map((one) => stepOf(one.slot, one.cell));
    const moved = plan.withInputs(lanesOf(plan, some, steps), some.length * 2);
    const figures = figureAt(moved, slot, cell, some.length * 2);
    some.forEach((one, at) => {
      const by = (figures[at * 2]! - figures[at * 2 + 1]!) / 2;
      if (!Number.isFinite(by) || by === 0) return;
      const relative = one.at === 0 || figure === 0 ? null : ((by / steps[at]!) * one.at) / figure;
      found.push({ ...one, step: steps[at]!, by, relative });
    });
  }
  return found.sort((a, b) => Math.abs(b.relative ?? 0) - Math.abs(a.relative ?? 0) || Math.abs(b.by) - Math.abs(a.by));
}

type Input = Pick<Influence, 'slot' | 'cell' | 'at'>;

/** Cells of properties under the figure that are not worked out from others. */
function inputsUnder(plan: Plan, slot: SlotId): readonly Input[] {
  const { clock, schema } = plan;
  const keys = [...plan.under([plan.keyOf(slot, clock.at('measured'))])].filter((key) => key >= 0);
  const slots = [...new Set(keys.map((key) => clock.slotOf(key)))].filter((id) => id !== slot).sort((a, b) => a - b);
  return slots.flatMap((id) => {
    const own = schema.slots[id]!;
    const { value, sources } = plan.valueOf(id, 'measured');
    if (own.sort !== 'property' || own.type.is !== 'measure' || value.is !== 'numbers') return [];
    return [...value.tensor.data].flatMap((at, cell): Input[] => {
      const isGiven = (sources?.[cell] ?? -1) >= 0 || own.exactDefault;
      const isKnown = markAt(value.tensor.mark, cell) < Mark.missing && Number.isFinite(at);
      return isGiven && isKnown ? [{ slot: id, cell, at }] : [];
    });
  });
}

/** Two lanes a figure, one up and one down. */
function lanesOf(plan: Plan, inputs: readonly Input[], steps: readonly number[]): readonly Override[] {
  const bySlot = new Map<SlotId, Map<number, Float64Array>>();
  inputs.forEach(({ slot, cell, at }, place) => {
    const cells = bySlot.get(slot) ?? new Map<number, Float64Array>();
    const lanes = new Float64Array(inputs.length * 2).fill(at);
    lanes[place * 2] = at + steps[place]!;
    lanes[place * 2 + 1] = at - steps[place]!;
    bySlot.set(slot, cells.set(cell, lanes));
  });
  return [...bySlot].map(([slot, cells]) => ({ slot, view: viewOf(plan, slot), cells }));
}

function figureAt(plan: Plan, slot: SlotId, cell: number, lanes: number): number[] {
  const { value } = plan.valueOf(slot, 'measured');
  const axes = axesWithoutLanes(value);
  const tensor = tensorOf(value);
  const across = tensor.axes.find(({ id }) => id === lanesId);
  const { data } = along(tensor, across === undefined ? axes : [across, ...axes]);
  const size = across === undefined ? 0 : data.length / lanes;
  return Array.from({ length: lanes }, (_, lane) => data[lane * size + cell]!);
}
