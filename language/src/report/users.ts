// What uses a figure: other figures by the formulas that speak for them, and the checks that rest on it.
import type { Axis } from '../semantics/evaluate/value.ts';
import type { Expr, SlotId } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { slotsIn } from '../semantics/reads.ts';
import { cellCount, placesOf } from './cells.ts';
import { speakingFormula } from './inputs.ts';

export interface User {
  readonly one: SlotOutcome;
  /** `null`: all along this axis. */
  readonly places: readonly (number | null)[];
  /** False where none of the cells that are meant has a figure. */
  readonly isKnown: boolean;
}

/** At the places of the figure's own axes, so far as the user has these. */
export function usersOf(outcome: Outcome, one: SlotOutcome, places: readonly (number | null)[]): User[] {
  const { id } = one.slot;
  return (readersIn(outcome).get(id) ?? [])
    .filter((user) => user.slot.id !== id && spokenBy(user).some((formula) => slotsIn(formula).includes(id)))
    .map((user) => {
      const at = user.axes.map((axis) => places[placeOf(one, axis)] ?? null);
      return { one: user, places: at, isKnown: hasFigure(user, at) };
    });
}

export function checksOn({ checks }: Outcome, { slot }: SlotOutcome): CheckOutcome[] {
  return checks.filter(
    (check) => check.state !== 'not-applicable' && comparedIn(check).some((each) => slotsIn(each).includes(slot.id)),
  );
}

const readers = new WeakMap<Outcome, ReadonlyMap<SlotId, readonly SlotOutcome[]>>();

/** Figures by what any of their formulas reads, in whichever cell; looked through once. */
function readersIn(outcome: Outcome): ReadonlyMap<SlotId, readonly SlotOutcome[]> {
  const known = readers.get(outcome);
  if (known) return known;
  const found = new Map<SlotId, SlotOutcome[]>();
  for (const user of outcome.slots)
    for (const id of new Set(formulasOf(outcome, user).flatMap(slotsIn))) {
      const before = found.get(id);
      if (before) before.push(user);
      else found.set(id, [user]);
    }
  readers.set(outcome, found);
  return found;
}

/** All that could speak for it, in whichever cell. */
function formulasOf({ binding }: Outcome, { slot }: SlotOutcome): readonly Expr[] {
  const given = binding.assignments.filter((one) => one.slot === slot.id).map(({ value }) => value);
  return [slot.formula, slot.measuredBy, ...given].filter((one) => one !== null);
}

function placeOf(one: SlotOutcome, { id }: Axis): number {
  return one.axes.findIndex((own) => own.id === id);
}

/** In one of the cells that are meant. */
function hasFigure({ axes, states }: SlotOutcome, at: readonly (number | null)[]): boolean {
  return states.some(
    (state, cell) =>
      state !== 'missing' &&
      state !== 'not-applicable' &&
      placesOf(axes, cell).every((place, axis) => at[axis] === null || at[axis] === place),
  );
}

const mostCells = 64;

/** What does speak, in the first cells at least. */
function spokenBy(one: SlotOutcome): readonly Expr[] {
  const cells = Array.from({ length: Math.min(mostCells, cellCount(one.axes)) }, (_, cell) => cell);
  const spoken = cells.map((cell) => one.sourceOf(cell, 'measured')?.value ?? speakingFormula(one, cell, 'measured'));
  return [...new Set(spoken)].filter((formula) => formula !== null);
}

function comparedIn({ rule, expect }: CheckOutcome): readonly Expr[] {
  const demand = (rule ?? expect)?.demand;
  const sides = (demand?.comparisons ?? []).flatMap(({ value, low, high, limits }) => [value, low, high, limits]);
  return [rule?.when ?? null, ...sides, demand?.flag ?? null].filter((one) => one !== null);
}
