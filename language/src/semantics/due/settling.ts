/**
 * What each reading that is due would settle, and how much of it: of a check at risk the share of its uncertainty that the figure brings
 * in, of one that cannot be told its part of what is missing, of one that holds on paper how near what is unsure comes to the limit.
 */
import type { CheckCell, CheckOutcome, MissingInput, Outcome } from '../plan/outcome.ts';
import { difference, movementOf, questionOf, readComparison } from '../check/question.ts';
import type { Movement, Question } from '../check/question.ts';
import { planBuild } from '../plan/run.ts';
import type { Plan } from '../plan/run.ts';
import { countsNow } from '../plan/unsure.ts';

export interface Due {
  readonly input: MissingInput;
  readonly settles: readonly string[];
  /** In checks: 1 is one that hangs on this reading alone. */
  readonly weight: number;
}

const known = new WeakMap<Outcome, readonly Due[]>();

/** What settles most comes first; of equal ones, what more checks rest on. */
export function settlingFirst(outcome: Outcome): readonly Due[] {
  const done = known.get(outcome) ?? ordered(outcome);
  known.set(outcome, done);
  return done;
}

type Shares = ReadonlyMap<string, number>;
const byCheck = new WeakMap<CheckOutcome, Shares>();

/** How much of one check a reading of these cells would settle, 0 to 1: that of the cell which weighs most. */
export function shareOf(outcome: Outcome, check: CheckOutcome, slot: number, cells: readonly number[]): number {
  return Math.max(0, ...cells.map((cell) => sharesIn(outcome, check).get(keyOf({ slot, cell })) ?? 0));
}

function sharesIn(outcome: Outcome, check: CheckOutcome): Shares {
  const done = byCheck.get(check) ?? sharesOf(planBuild(outcome.binding, undefined, outcome.texts), check);
  byCheck.set(check, done);
  return done;
}

function ordered(outcome: Outcome): readonly Due[] {
  const shares = new Map(outcome.checks.map((check) => [check.id, sharesIn(outcome, check)]));
  const dues = outcome.toMeasure.map(({ input, settles }): Due => {
    const key = keyOf(input);
    const weight = settles.reduce((sum, id) => sum + (shares.get(id)?.get(key) ?? 0), 0);
    return { input, settles, weight };
  });
  // the order of the list that is given stands where nothing tells two readings apart
  return dues
    .map((due, at) => ({ due, at }))
    .sort((a, b) => gap(b.due.weight, a.due.weight) || b.due.settles.length - a.due.settles.length || a.at - b.at)
    .map(({ due }) => due);
}

function gap(a: number, b: number): number {
  return Math.abs(a - b) <= 1e-9 * Math.max(a, b) ? 0 : a - b;
}

function keyOf({ slot, cell }: { readonly slot: number; readonly cell: number }): string {
  return `${slot} ${cell}`;
}

/** By figure and cell, of the place where it weighs most. */
function sharesOf(plan: Plan, check: CheckOutcome): Shares {
  const shares = new Map<string, number>();
  const add = (key: string, share: number): void => void shares.set(key, Math.max(share, shares.get(key) ?? 0));
  const questions = questionsOf(plan, check);
  check.cells.forEach((cell, at) => {
    for (const input of cell.state === 'cannot-tell' ? cell.missing : []) add(keyOf(input), 1 / cell.missing.length);
    for (const question of isOpen(cell) ? questions : []) addShares(question, check, at, add);
  });
  return shares;
}

/** What a reading may still turn over; what is out of limits on paper may prove to hold. */
function isOpen({ state }: CheckCell): boolean {
  return state === 'at-risk' || state === 'holds-on-paper' || state === 'out-of-limits';
}

function questionsOf(plan: Plan, { rule, expect, kind, origin, axes }: CheckOutcome): readonly Question[] {
  const comparisons = (kind === 'rule' ? rule : expect)?.demand.comparisons ?? [];
  return comparisons.map((one) => questionOf(plan, one, readComparison(plan, one, origin), axes));
}

function addShares(
  question: Question,
  check: CheckOutcome,
  cell: number,
  add: (key: string, share: number) => void,
): void {
  for (const room of roomsOf(question, check, cell)) {
    const whole = variance(room);
    if (whole === 0) continue;
    const taken = Math.min(1, (question.guard * Math.sqrt(whole)) / Math.max(Math.abs(room.middle), Number.MIN_VALUE));
    for (const { source, by } of room.moves.values())
      // what was read before is not read again
      for (const one of source.cells.filter(countsNow)) add(keyOf(one), (taken * (by * source.deviation) ** 2) / whole);
  }
}

/** How far the value is from each limit, and what moves that. */
function roomsOf({ value, low, high }: Question, { axes, cells }: CheckOutcome, cell: number): readonly Movement[] {
  const at = movementOf(value, axes, cell);
  const sides = [
    [low, cells[cell]!.low],
    [high, cells[cell]!.high],
  ] as const;
  return sides.flatMap(([side, own]) => {
    if (own === null) return [];
    // where the build's own limits speak, those of the rule do not move
    return [difference(at, own === side.data[cell] ? movementOf(side, axes, cell) : still(own))];
  });
}

/** True where a figure of before makes a place too close to call by itself: nothing that can be read now would settle it. */
export function isOpenByEarlier(outcome: Outcome, check: CheckOutcome): boolean {
  const questions = questionsOf(planBuild(outcome.binding, undefined, outcome.texts), check);
  const isTooClose = (room: Movement, guard: number): boolean =>
    Math.abs(room.middle) < guard * Math.sqrt(variance(ofBefore(room)));
  return check.cells.some(
    ({ state }, at) =>
      state === 'at-risk' &&
      questions.some((one) => roomsOf(one, check, at).some((room) => isTooClose(room, one.guard))),
  );
}

function ofBefore({ middle, moves }: Movement): Movement {
  return { middle, moves: new Map([...moves].filter(([, { source }]) => !source.cells.some(countsNow))) };
}

function still(figure: number): Movement {
  return { middle: figure, moves: new Map() };
}

function variance({ moves }: Movement): number {
  let sum = 0;
  for (const { source, by } of moves.values()) sum += (by * source.deviation) ** 2;
  return sum;
}
