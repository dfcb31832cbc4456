/** Built in: a reading of a cell whose order, or specification, has a tolerance must lie inside it. */
import { guardFactor } from '../certainty/decision.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import { isChangedSince } from '../plan/history.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import type { Slot } from '../schema/schema.ts';
import type { Draft } from './draft.ts';
import type { Question } from './question.ts';

export interface ToSize {
  readonly draft: Draft;
  readonly question: Question;
  readonly axes: readonly Axis[];
  readonly trace: readonly number[];
}

export function toSizeChecks(plan: Plan): readonly ToSize[] {
  return plan.schema.slots.flatMap((slot) => {
    const read = plan.given.history(slot.id).length > 0 || slot.measuredBy !== null;
    const check = read && slot.sort === 'property' ? toSizeOf(plan, slot) : null;
    return check === null ? [] : [check];
  });
}

function toSizeOf(plan: Plan, slot: Slot): ToSize | null {
  const { value } = plan.valueOf(slot.id, 'measured');
  const ordered = plan.valueOf(slot.id, 'ordered').value;
  if (value.is !== 'numbers' || ordered.is !== 'numbers' || ordered.band === null) return null;
  const axes = axesWithoutLanes(value);
  const { low, high } = ordered.band;
  const changed = isChangedSince(plan, slot, plan.given.blocks.length);
  const applies = Uint8Array.from(low.data, (from, cell) =>
    !Number.isNaN(from) && markAt(value.tensor.mark, cell) === Mark.measured && !changed(cell) ? 1 : 0,
  );
  if (!applies.includes(1)) return null;
  // cells that are not read, have no tolerance, or were changed by something else since, are not applicable
  const mark = applies.map((one) => (one === 1 ? Mark.measured : Mark.absent));
  const exact = new Uint8Array(applies.length);
  return {
    draft: draftOf(slot),
    axes,
    trace: [plan.keyOf(slot.id, plan.clock.at('measured'))],
    question: {
      comparison: null,
      guard: guardFactor(plan),
      value: { data: value.tensor.data, mark, open: false, spread: spreadOf(plan, slot.id) },
      low: { data: low.data, mark: exact, open: false, spread: null },
      high: { data: high.data, mark: exact, open: false, spread: null },
    },
  };
}

function spreadOf(plan: Plan, slot: SlotId): Question['value']['spread'] {
  const spread = plan.sensitivities().ofSlot(slot);
  return spread.moves.length === 0 ? null : spread;
}

function draftOf(slot: Slot): Draft {
  return {
    id: `${slot.path}.to-size`,
    kind: 'to-size',
    severity: 'warning',
    rule: null,
    expect: null,
    slot: slot.id,
    when: null,
    comparisons: [],
    flag: null,
    because: null,
    origin: slot.origin,
    spent: new Map(),
  };
}
