// A computed fix in one sentence: what is changed to what, what that brings, what else moves, and what gets worse.
import { cellsInWords } from '../../report/cells.ts';
import { pathWords, showingOfCheck, subject } from '../../report/check-words.ts';
import { numberText, inUnit, showingsIn } from '../../report/units.ts';
import { unitText, withUnit } from '../../report/figures.ts';
import { listed } from '../../report/place.ts';
import { placesOf } from '../../semantics/plan/labels.ts';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import type { Changed, Consequences, Move, Moved } from '../../semantics/solve/records.ts';
import { quantityIn, styleOf } from '../../report/writing.ts';

export interface Effect {
  readonly outcome: Outcome;
  readonly consequences: Consequences;
}

const mostMoved = 3;

/** `shim.thickness 0.043 in brings gap to 0.040 in; play 0.12 → 0.11 in, all else holds`. */
export function titleOf(
  before: Outcome,
  check: CheckOutcome,
  moves: readonly Move[],
  own: Effect,
  others: readonly Effect[],
  part: string | null,
): string {
  const after = own.outcome.checks.find(({ id }) => id === check.id);
  const changes =
    moves.map((move) => moveText(before, move)).join(', then ') + (part === null ? '' : `, as of ${part},`);
  const brings = `brings ${subject(check)} ${after === undefined ? 'to size' : reached(own.outcome, check, after)}`;
  const moved = movedTexts(before, own, moves, check);
  const worse = [
    ...own.consequences.worse.map((one) => worseText(one)),
    ...others.flatMap(({ outcome, consequences }) =>
      consequences.worse.map((one) => `in ${outcome.binding.name} ${worseText(one)}`),
    ),
  ];
  const rest =
    worse.length > 0 ? `but ${listed(worse)}` : allHolds(own.outcome) ? 'all else holds' : 'nothing else gets worse';
  return `${changes} ${brings}; ${[...moved, rest].join(', ')}`;
}

function allHolds({ checks }: Outcome): boolean {
  return checks.every(({ state }) => state !== 'out-of-limits' && state !== 'at-risk');
}

function moveText(outcome: Outcome, move: Move): string {
  const one = outcome.slots[move.slot]!;
  const cells = [...move.to.keys()];
  const style = styleOf(outcome, move.slot, cells[0]!);
  const figures = [...new Set([...move.to.values()].map((figure) => quantityIn(figure, style)))];
  if (move.even) return `${one.slot.path} evened out to ${figures[0]}`;
  const where =
    move.whole || one.axes.length === 0
      ? ''
      : ` at ${cellsInWords(
          one.axes,
          cells.map((cell) => placesOf(cell, one.axes)),
        )}`;
  return `${one.slot.path}${where} ${figures.length > 3 ? `${figures[0]} to ${figures.at(-1)}` : listed(figures)}`;
}

function reached(outcome: Outcome, check: CheckOutcome, after: CheckOutcome): string {
  const showing = showingOfCheck(outcome, check);
  const bad = check.cells.flatMap(({ state }, at) => (state === 'out-of-limits' || state === 'at-risk' ? [at] : []));
  const values = bad.flatMap((at) => after.cells[at]?.value ?? []);
  if (values.length === 0) return 'inside its limits';
  const texts = [
    ...new Set([...values].sort((a, b) => a - b).map((value) => numberText(inUnit(value, showing), showing))),
  ];
  const figure = texts.length === 1 ? texts[0]! : `${texts[0]}..${texts.at(-1)}`;
  return `to ${[figure, unitText(showing)].filter((part) => part !== '').join(' ')}`;
}

/** Checked figures that move as well; of each the cell that moves furthest. */
function movedTexts(before: Outcome, { consequences }: Effect, moves: readonly Move[], check: CheckOutcome): string[] {
  const changed = new Set<number>(moves.map(({ slot }) => slot));
  const checked = new Set(
    before.checks.flatMap(({ slot, state }) => (slot === null || state === 'not-applicable' ? [] : [slot.id])),
  );
  const shown = consequences.moved.filter(
    ({ before: { slot } }) => checked.has(slot.id) && !changed.has(slot.id) && slot.id !== check.slot?.id,
  );
  return shown.slice(0, mostMoved).map((one) => movedText(before, one));
}

function movedText(outcome: Outcome, { before: { slot }, from, to }: Moved): string {
  const [showing] = showingsIn(outcome, slot);
  return `${pathWords(slot.path)} ${numberText(inUnit(from, showing!), showing!)} → ${withUnit(to, showing!)}`;
}

function worseText({ after }: Changed): string {
  return `${subject(after!)} ${after!.state === 'out-of-limits' ? 'goes out of limits' : 'comes to be at risk'}`;
}
