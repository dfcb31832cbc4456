// Courses of figures: one for each step along an axis, such as for each degree of a turn. What is read off them is told beside others, not their every place.
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Slot } from '../semantics/schema/schema.ts';

export function runsAlong({ binding }: Pick<Outcome, 'binding'>, slot: Slot): boolean {
  return slot.axes.some((id) => (binding.schema.axes[id]?.range?.step ?? null) !== null);
}
