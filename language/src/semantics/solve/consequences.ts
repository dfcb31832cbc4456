/** What follows of a change: two outcomes of one build laid beside each other. */
import { Mark } from '../evaluate/value.ts';
import { markAt } from '../plan/cells.ts';
import type { CheckOutcome, CheckState, Outcome, SlotOutcome } from '../plan/outcome.ts';
import type { Changed, Consequences, Moved } from './records.ts';

/** `digit`: the last digit, in SI, with which a slot is shown; null where it is shown with none. */
export function consequencesOf(
  before: Outcome,
  after: Outcome,
  digit: (one: SlotOutcome) => number | null,
): Consequences {
  const known = new Map(before.checks.map((check) => [check.id, check]));
  const now = new Map(after.checks.map((check) => [check.id, check]));
  const changed = [...new Set([...known.keys(), ...now.keys()])].map((id): Changed => {
    return { id, before: known.get(id) ?? null, after: now.get(id) ?? null };
  });
  const worse = changed.filter((one) => isWorse(one));
  const better = changed.filter((one) => !isWorse(one) && isWorse({ ...one, before: one.after, after: one.before }));
  return { worse, better, moved: movedBetween(before, after, digit) };
}

const bad: readonly CheckState[] = ['at-risk', 'out-of-limits'];

function badness(state: CheckState | undefined): number {
  return state === undefined ? -1 : bad.indexOf(state);
}

function isWorse({ before, after }: Changed): boolean {
  if (after === null) return false;
  return after.cells.some(({ places, state }) => badness(state) > badness(stateAt(before, places)));
}

function stateAt(check: CheckOutcome | null, places: readonly number[]): CheckState | undefined {
  return check?.cells.find((cell) => cell.places.every((place, at) => place === places[at]))?.state;
}

function movedBetween(before: Outcome, after: Outcome, digit: (one: SlotOutcome) => number | null): Moved[] {
  const now = new Map(after.slots.map((one) => [one.slot.path, one]));
  return before.slots.flatMap((one) => {
    const other = now.get(one.slot.path);
    const last = digit(one);
    return other === undefined || last === null ? [] : movedFurthest(one, other, last);
  });
}

function movedFurthest(before: SlotOutcome, after: SlotOutcome, last: number): Moved[] {
  const [was, is] = [before.views.measured, after.views.measured];
  if (was.is !== 'numbers' || is.is !== 'numbers' || was.tensor.data.length !== is.tensor.data.length) return [];
  let found: Moved | null = null;
  was.tensor.data.forEach((from, cell) => {
    if (markAt(was.tensor.mark, cell) >= Mark.missing || markAt(is.tensor.mark, cell) >= Mark.missing) return;
    const to = is.tensor.data[cell]!;
    const by = Math.abs(to - from);
    if (by > last * 0.999 && (found === null || by > Math.abs(found.to - found.from)))
      found = { before, after, cell, from, to };
  });
  return found === null ? [] : [found];
}
