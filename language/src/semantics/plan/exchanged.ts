/** After an edit of single figures two bindings of a build differ in those alone: what was laid out for all others stands. */
import type { Assignment, BuildBinding } from '../bind/binding.ts';
import { slotsIn } from '../reads.ts';

/** Figures of before by what stands in their place now. */
export type Exchanged = ReadonlyMap<Assignment, Assignment>;

/** Null where more differs than what single figures say: where they lie, whose they are, anything else of the build. */
export function exchanged(before: BuildBinding, now: BuildBinding): Exchanged | null {
  if (before.base !== null || before.assignments.length !== now.assignments.length) return null;
  const fields = Object.keys(now) as (keyof BuildBinding)[];
  if (fields.some((field) => field !== 'assignments' && now[field] !== before[field])) return null;
  const found = new Map<Assignment, Assignment>();
  for (const [at, one] of before.assignments.entries()) {
    const other = now.assignments[at]!;
    if (other !== one) found.set(one, other);
  }
  return [...found].every(([one, other]) => isInPlaceOf(one, other)) ? found : null;
}

function isInPlaceOf(one: Assignment, other: Assignment): boolean {
  return (
    one.slot === other.slot &&
    one.selector === other.selector &&
    one.layer === other.layer &&
    one.order === other.order &&
    one.part === other.part &&
    one.block === other.block
  );
}

/** Whether the figures still read the same others. */
export function readAlike(figures: Exchanged): boolean {
  return [...figures].every(([one, other]) => {
    const [before, now] = [slotsIn(one.value), slotsIn(other.value)];
    return before.length === now.length && before.every((slot, at) => slot === now[at]);
  });
}
