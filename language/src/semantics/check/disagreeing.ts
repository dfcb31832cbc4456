/** Readings of derived values that lie further from what is computed than both are unsure of. */
import { Mark } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import { labelOf } from '../plan/labels.ts';
import type { PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';
import type { Slot } from '../schema/schema.ts';
import { figureInWords } from './in-words.ts';
import { difference, movementOf, sideOf, tensorOf, uncertaintyOf } from './question.ts';

/** Two standard deviations, as calibrations are stated. Where nothing is known of either there is nothing to say. */
const coverage = 2;

export function disagreeing(plan: Plan): readonly PlanProblem[] {
  return plan.given.slotsWithHistory.flatMap((id) => {
    const slot = plan.schema.slots[id]!;
    return slot.sort === 'derive' ? disagreeingCells(plan, slot) : [];
  });
}

function disagreeingCells(plan: Plan, slot: Slot): readonly PlanProblem[] {
  const node = plan.valueOf(slot.id, 'measured');
  if (node.value.is !== 'numbers') return [];
  const axes = axesWithoutLanes(node.value);
  const computed = computedOf(slot);
  const formula = tensorOf(plan.watch(computed, slot.origin).value);
  const reading = sideOf(node.value.tensor, axes, false, plan.sensitivities().ofSlot(slot.id));
  const worked = sideOf(formula, axes, false, plan.sensitivities().ofExpr(computed));
  return Array.from(reading.data, (read, cell): PlanProblem | null => {
    const figure = plan.sourceAt(slot.id, node.sources?.[cell] ?? Speaker.none);
    if (figure === null || reading.mark[cell] !== Mark.measured || worked.mark[cell]! >= Mark.missing) return null;
    const own = movementOf(reading, axes, cell);
    const apart = difference(own, movementOf(worked, axes, cell));
    // of a reading that nobody said anything about it cannot be told
    if (own.moves.size === 0 || Math.abs(apart.middle) <= coverage * uncertaintyOf(apart)) return null;
    const args = {
      path: labelOf(plan.schema, slot, cell, axes),
      reading: figureInWords(slot, read),
      computed: figureInWords(slot, worked.data[cell]!),
      difference: figureInWords(slot, Math.abs(apart.middle), 'difference'),
    };
    return {
      code: 'reading.disagrees',
      severity: 'advice',
      args,
      origin: figure.source.origin,
      related: [slot.origin],
    };
  }).filter((problem) => problem !== null);
}

const known = new WeakMap<Slot, Expr>();

/** `computed(x)`: one expression a slot, so that it is remembered from edit to edit. */
function computedOf(slot: Slot): Expr {
  const done = known.get(slot);
  if (done !== undefined) return done;
  const type = { value: slot.type, axes: slot.axes };
  const of: Expr = { op: 'slot', slot: slot.id, type, at: null };
  const expr: Expr = { op: 'view', view: 'computed', of, type, at: null };
  known.set(slot, expr);
  return expr;
}
