// How much room a figure has to its nearer limit, where that is little: what stands beside a figure in the editor.
import type { CheckCell, CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import { cellsInWords, placeName } from './cells.ts';
import { showingOfCheck, subject } from './check-words.ts';
import { unitText } from './figures.ts';
import { headline } from './headline.ts';
import { differenceText, inUnit, numberTextsUncut } from './units.ts';

export interface Margin {
  readonly check: CheckOutcome;
  /** The place with least room. */
  readonly cell: CheckCell;
  /** Room to the nearer limit, in SI. */
  readonly room: number;
  readonly side: 'least' | 'greatest';
}

/** Of the width between two limits. */
const nearOfWidth = 1 / 8;
/** Where there is one limit: in digits of the last place that is shown, and of the limit itself. */
const nearInDigits = 5;
const nearOfLimit = 1 / 4;

/** Checks that hold, or are at risk, with little room; what is out of limits is told otherwise. */
export function marginsOf(outcome: Outcome): readonly Margin[] {
  return outcome.checks.flatMap((check) => {
    if (!(check.state.startsWith('holds') || check.state === 'at-risk')) return [];
    const { unit, decimals } = showingOfCheck(outcome, check);
    const digit = 10 ** -(decimals ?? 3) * (unit?.factor ?? 1);
    const margins = check.cells.flatMap((cell) => marginOf(check, cell, digit));
    const [first, ...others] = margins;
    if (first === undefined) return [];
    return [others.reduce((least, one) => (one.room < least.room ? one : least), first)];
  });
}

function marginOf(check: CheckOutcome, cell: CheckCell, digit: number): Margin[] {
  const { state, value, low, high } = cell;
  if (value === null || !(state.startsWith('holds') || state === 'at-risk')) return [];
  const sides = [
    ...(low === null ? [] : [{ check, cell, room: value - low, side: 'least' as const }]),
    ...(high === null ? [] : [{ check, cell, room: high - value, side: 'greatest' as const }]),
  ];
  const near =
    low !== null && high !== null
      ? (high - low) * nearOfWidth
      : Math.min(digit * nearInDigits, Math.abs(low ?? high ?? 0) * nearOfLimit) * (1 + 1e-9);
  // limits without room between them, such as a count that must be one, are not come near to
  if (low !== null && low === high) return [];
  return sides
    .filter(({ room }) => room <= near || state === 'at-risk')
    .sort((a, b) => a.room - b.room)
    .slice(0, 1);
}

/** Editors cut what stands beside the figures of a line behind so many characters. */
const mostCharacters = 43;

/** `0.0008 under 0.0440 in: gap 3`: the figure and its limit first, then as much of what it is as is sure to be seen. */
export function marginText(outcome: Outcome, { check, cell, room, side }: Margin): string {
  const showing = showingOfCheck(outcome, check);
  const limit = side === 'least' ? cell.low! : cell.high!;
  const [text] = numberTextsUncut([inUnit(limit, showing)], showing);
  const gap = differenceText(inUnit(Math.max(0, room), showing, 'difference'), showing);
  const away = room <= 1e-9 * Math.abs(limit) ? 'on its limit' : `${gap} ${side === 'least' ? 'above' : 'under'}`;
  const figures = [away, text, unitText(showing)].filter((part) => part !== '').join(' ');
  const whole = namesOf(check, cell).map((name) => `${figures}: ${name}`);
  return whole.find(({ length }) => length <= mostCharacters) ?? figures;
}

/** What is checked and where, the longest first. */
function namesOf(check: CheckOutcome, { places }: CheckCell): string[] {
  const name = subject(check);
  const keys = check.axes.flatMap((axis, at) => (axis.size > 1 ? [String(placeName(axis, places[at] ?? 0))] : []));
  return [[name, cellsInWords(check.axes, [places])], [name, ...keys], [name], keys]
    .map((words) => words.filter((word) => word !== '').join(' '))
    .filter((text) => text !== '');
}

/** The whole sentence, for those who point at it. */
export function marginSentence(outcome: Outcome, { check }: Margin): string {
  return headline(outcome, check);
}
