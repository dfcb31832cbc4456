// How a figure stands, in words: its limits, and the state of what is checked on it. Knows no layout.
import { worstFirst } from '../semantics/check/verdict.ts';
import type { CheckCell, CheckOutcome, CheckState, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellCount, cellsInWords, placesOf } from './cells.ts';
import { limitsText, unitText } from './figures.ts';
import { showingOfCheck, stateWords } from './check-words.ts';
import { isFinding } from './findings.ts';
import { showingsIn } from './units.ts';

/** The limits of every check on the figure; where they differ from cell to cell, their ends. */
export function limitsOf(outcome: Outcome, checks: readonly CheckOutcome[]): string {
  const texts = checks.flatMap((check) => {
    const showing = check.slot ? showingsIn(outcome, check.slot)[0]! : showingOfCheck(outcome, check);
    const each = check.cells.map(({ low, high }) =>
      low === null && high === null ? '' : limitsText(low ?? -Infinity, high ?? Infinity, showing),
    );
    const different = [...new Set(each.filter((text) => text !== ''))];
    if (different.length === 0) return [];
    if (different.length > 1)
      return [`${different[0]} to ${different[different.length - 1]} ${unitText(showing)}`.trim()];
    return [`${different[0]} ${unitText(showing)}`.trim()];
  });
  return [...new Set(texts)].join('; ');
}

export function stateOf(one: SlotOutcome, checks: readonly CheckOutcome[]): string {
  const worst = [...checks].sort((a, b) => worstFirst.indexOf(a.state) - worstFirst.indexOf(b.state)).find(applies);
  if (!worst) return valueState(one);
  const cells = worst.cells.filter(({ state }) => state === worst.state);
  const where = isFinding(worst) && cells.length < worst.cells.length;
  if (!where) return stateWords[worst.state];
  return `${stateWords[worst.state]} at ${cellsInWords(
    worst.axes,
    cells.map(({ places }) => places),
  )}`;
}

function applies({ state }: CheckOutcome): boolean {
  return state !== 'not-applicable';
}

function valueState({ states }: SlotOutcome): string {
  const counted = states.filter((state) => state !== 'not-applicable');
  const [first] = counted;
  if (first === undefined) return 'not applicable';
  if (counted.every((state) => state === first)) {
    return first === 'specified' ? '' : plainWords[first];
  }
  const measured = counted.filter((state) => state === 'measured').length;
  const missing = counted.filter((state) => state === 'missing').length;
  if (missing > 0) return `${missing} of ${counted.length} missing`;
  return measured > 0 ? `${measured} of ${counted.length} measured` : 'partly as ordered';
}

const plainWords = {
  measured: 'measured',
  'carried-over': 'carried over from a reading',
  ordered: 'as ordered',
  missing: 'missing',
} as const;

/** Cells of a figure that a check looks at: at the same places, and of the same figure. */
export function checkedCells(one: SlotOutcome, check: CheckOutcome): Map<number, CheckState> {
  return new Map([...checkCells(one, check)].map(([cell, { state }]) => [cell, state]));
}

/** By cell of the figure: what was judged there. */
export function checkCells(one: SlotOutcome, check: CheckOutcome): Map<number, CheckCell> {
  const cells = new Map<number, CheckCell>();
  const value = one.views.measured;
  if (value.is !== 'numbers') return cells;
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const places = placesOf(one.axes, cell);
    const figure = value.tensor.data[cell] ?? NaN;
    const found = check.cells.find(
      (each) => each.value !== null && isSame(each.value, figure) && sharesPlaces(one, places, check, each.places),
    );
    if (found) cells.set(cell, found);
  }
  return cells;
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
}

export function sharesPlaces(
  one: SlotOutcome,
  places: readonly number[],
  check: CheckOutcome,
  at: readonly number[],
): boolean {
  return check.axes.every((axis, index) => {
    const own = one.axes.findIndex(({ id }) => id === axis.id);
    return own < 0 || places[own] === at[index];
  });
}
