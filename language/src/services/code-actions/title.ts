// A computed fix in words: what is changed to what, what that brings, what else moves, and what gets worse.
import { cellsInWords } from '../../report/cells.ts';
import { pathWords, showingOfCheck, subject } from '../../report/check-words.ts';
import { numberText, inUnit, showingsIn } from '../../report/units.ts';
import { unitText, withUnit } from '../../report/figures.ts';
import { capitalised, listed } from '../../report/place.ts';
import { placesOf } from '../../semantics/plan/labels.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { Changed, Consequences, Move, Moved, Remedy } from '../../semantics/solve/records.ts';
import { numberIn, quantityIn, styleOf } from '../../report/writing.ts';

export interface Effect {
  readonly outcome: Outcome;
  readonly consequences: Consequences;
}

/** A computed fix in words: short, and all of it. */
export interface Words {
  readonly title: string;
  /** Everything that moves or gets worse, a line each. */
  readonly follows: readonly string[];
}

/** What else moves is told up to here. */
const longest = 100;
/** A menu shows no more; whatever is left out stands in what follows. */
const mostOfTitle = 110;

const toWhat: Readonly<Record<Remedy['aim'], string>> = {
  holds: 'just holds',
  middle: 'the middle of its limits',
  bought: 'inside its limits',
};
const aside: Readonly<Record<Remedy['aim'], string>> = { holds: '', middle: ' (middle)', bought: '' };

/** `Shim thickness 0.043 in: gap 0.040 in, play 0.12 → 0.11 in; all else holds`. As much of what moves as a menu has room for. */
export function wordsOf(
  before: Outcome,
  check: CheckOutcome,
  { moves, aim }: Remedy,
  own: Effect,
  others: readonly Effect[],
  part: string | null,
): Words {
  const after = own.outcome.checks.find(({ id }) => id === check.id);
  const changes = moves.map((move) => moveText(before, move));
  const isItself = moves.length === 1 && moves[0]!.slot === check.slot?.id;
  const brings = after === undefined || isItself ? toWhat[aim] : `${reached(own.outcome, check, after)}${aside[aim]}`;
  const named = part === null ? '' : ` (${part})`;
  const heads = [
    `${capitalised(changes.join(', then '))}${named}: ${brings}`,
    `${capitalised(changes.join(', then '))}${named}: ${toWhat[aim]}`,
    `${capitalised(changes[0]!)}${changes.length === 1 ? '' : `, then ${changes.length - 1} more`}${named}: ${toWhat[aim]}`,
  ];
  const worse = [
    ...own.consequences.worse.map((one) => worseText(one)),
    ...others.flatMap(({ outcome, consequences }) =>
      consequences.worse.map((one) => `in ${outcome.binding.name} ${worseText(one)}`),
    ),
  ];
  const moved = movedTexts(before, own, moves, check);
  const room = longest - heads[0]!.length;
  const rests = [
    restText(own.outcome, worse, room),
    worse.length === 0 ? 'nothing gets worse' : worseCount(worse.length),
  ];
  const [head, rest] = fitting(heads, rests);
  let title = head;
  for (const one of moved) if (title.length + one.length + rest.length + 4 <= longest) title += `, ${one}`;
  const leftOut = head === heads[0] ? [] : [heads[0]!];
  return {
    title: `${title}; ${rest}`,
    follows: [...leftOut, ...worse, ...moved, ...movedTexts(before, own, moves, null)].filter(isFirst),
  };
}

/** The fullest of both that a menu has room for; what is still too long is cut. */
function fitting(heads: readonly string[], rests: readonly string[]): readonly [head: string, rest: string] {
  for (const head of heads)
    for (const rest of rests) if (head.length + rest.length + 2 <= mostOfTitle) return [head, rest];
  const rest = rests.at(-1)!;
  return [`${heads.at(-1)!.slice(0, mostOfTitle - rest.length - 3)}…`, rest];
}

function isFirst(text: string, at: number, all: readonly string[]): boolean {
  return all.indexOf(text) === at;
}

/** What gets worse is never left out, only counted where there is no room for it. */
function restText(after: Outcome, worse: readonly string[], room: number): string {
  if (worse.length === 0) return allHolds(after) ? 'all else holds' : 'nothing gets worse';
  const whole = `but ${listed(worse)}`;
  return whole.length <= room || worse.length === 1 ? whole : worseCount(worse.length);
}

function worseCount(count: number): string {
  return count === 1 ? 'but another gets worse' : `but ${count} others get worse`;
}

function allHolds({ checks }: Outcome): boolean {
  return checks.every(({ state }) => state !== 'out-of-limits' && state !== 'at-risk');
}

/** `gap 0.019 in at station 2 and 7`; many places are counted. */
function moveText(outcome: Outcome, move: Move): string {
  const one = outcome.slots[move.slot]!;
  const name = pathWords(one.slot.path);
  const span = spanText(outcome, move);
  if (move.even) return `${name} evened out to ${span}`;
  return `${name} ${span}${move.whole || one.axes.length === 0 ? '' : ` at ${whereText(one.axes, [...move.to.keys()])}`}`;
}

function spanText(outcome: Outcome, { slot, to }: Move): string {
  const style = styleOf(outcome, slot, [...to.keys()][0]!);
  const figures = [...to.values()];
  const [least, most] = [Math.min(...figures), Math.max(...figures)];
  const [first, last] = [numberIn(least, style), quantityIn(most, style)];
  return first === numberIn(most, style) ? last : `${first}..${last}`;
}

const longestPlace = 22;

function whereText(axes: SlotOutcome['axes'], cells: readonly number[]): string {
  const text = cellsInWords(
    axes,
    cells.map((cell) => placesOf(cell, axes)),
  );
  return text.length <= longestPlace ? text : `${cells.length} places`;
}

/** `gap 0.040 in`. */
function reached(outcome: Outcome, check: CheckOutcome, after: CheckOutcome): string {
  const showing = showingOfCheck(outcome, check);
  const bad = check.cells.flatMap(({ state }, at) => (state === 'out-of-limits' || state === 'at-risk' ? [at] : []));
  const values = bad.flatMap((at) => after.cells[at]?.value ?? []);
  if (values.length === 0 || isFlag(check)) return `${subject(check)} holds`;
  const texts = [
    ...new Set([...values].sort((a, b) => a - b).map((value) => numberText(inUnit(value, showing), showing))),
  ];
  const figure = texts.length === 1 ? texts[0]! : `${texts[0]}..${texts.at(-1)}`;
  return [subject(check), figure, unitText(showing)].filter((part) => part !== '').join(' ');
}

function isFlag({ rule, expect }: CheckOutcome): boolean {
  return ((rule ?? expect)?.demand.flag ?? null) !== null;
}

/** Checked figures that move as well, all others without a check; of each the cell that moves furthest. */
function movedTexts(
  before: Outcome,
  { consequences }: Effect,
  moves: readonly Move[],
  check: CheckOutcome | null,
): string[] {
  const changed = new Set<number>(moves.map(({ slot }) => slot));
  const checked = new Set(
    before.checks.flatMap(({ slot, state }) => (slot === null || state === 'not-applicable' ? [] : [slot.id])),
  );
  return consequences.moved
    .filter(({ before: { slot } }) => !changed.has(slot.id))
    .filter(({ before: { slot } }) => check === null || (checked.has(slot.id) && slot.id !== check.slot?.id))
    .map((one) => movedText(before, one));
}

function movedText(outcome: Outcome, { before: { slot }, from, to }: Moved): string {
  const [showing] = showingsIn(outcome, slot);
  return `${pathWords(slot.path)} ${numberText(inUnit(from, showing!), showing!)} → ${withUnit(to, showing!)}`;
}

function worseText({ after }: Changed): string {
  return `${subject(after!)} ${after!.state === 'out-of-limits' ? 'goes out of limits' : 'comes to be at risk'}`;
}
