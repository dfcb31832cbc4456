// The first sentence of a finding: the figure, where, and how far it is from its limit.
import type { CheckCell, CheckOutcome, CheckState, Outcome } from '../semantics/plan/outcome.ts';
import { cellsInWords } from './cells.ts';
import { fineEnough, showingOfCheck, stateWords, subject, worstOf } from './check-words.ts';
import { limitsText, unitText, withUnit } from './figures.ts';
import { capitalised } from './place.ts';
import { differenceText, inUnit, numberText, numberTextsUncut } from './units.ts';
import type { Showing } from './units.ts';

export function headline(outcome: Outcome, check: CheckOutcome): string {
  const name = capitalised(subject(check));
  const cells = check.cells.filter((cell) => cell.state === check.state);
  const where = cellsInWords(
    check.axes,
    cells.map(({ places }) => places),
  );
  const at = where === '' ? '' : ` at ${where}`;
  if (check.state === 'cannot-tell') return `${name}${at} cannot be told.`;
  if (check.state === 'not-applicable') return `${name} does not apply to this build.`;
  const worst = worstOf(cells);
  if (!worst || worst.value === null) return `${name}${at} ${yesOrNo[check.state] ?? withoutFigures[check.state]}.`;
  const plain = showingOfCheck(outcome, check);
  if (check.state === 'holds-measured' || check.state === 'holds-on-paper') {
    return `${name}${at} is ${spanText(cells, plain)}: ${stateWords[check.state]}.`;
  }
  const showing = fineEnough(worst, plain);
  const figure = withUnit(worst.value, showing);
  const alike = cells.every(({ value }) => value !== null && withUnit(value, showing) === figure);
  const start = alike
    ? `${name}${at} is ${figure}`
    : `${name} ${withoutFigures[check.state]}${at}; worst ${cellsInWords(check.axes, [worst.places])}, ${figure}`;
  return `${start}: ${verdict(worst, check.state, showing, plain)}.`;
}

const withoutFigures: Readonly<Record<CheckState, string>> = {
  'holds-measured': 'holds',
  'holds-on-paper': 'holds on paper',
  'at-risk': 'is at risk',
  'out-of-limits': 'is out of limits',
  accepted: 'is out of limits and accepted',
  'cannot-tell': 'cannot be told',
  'not-applicable': 'does not apply',
};

/** Of what is so or not so, and has no figure that could be near a limit. */
const yesOrNo: Partial<Record<CheckState, string>> = {
  'out-of-limits': 'does not hold',
  accepted: 'does not hold, and is accepted',
};

function spanText(cells: readonly CheckCell[], showing: Showing): string {
  const values = cells.map(({ value }) => value).filter((value) => value !== null);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const [from, to] = [numberText(inUnit(least, showing), showing), withUnit(most, showing)];
  return from === numberText(inUnit(most, showing), showing) ? to : `${from} to ${to}`;
}

function verdict(cell: CheckCell, state: CheckState, showing: Showing, plain: Showing): string {
  if (state === 'at-risk') return `${nearness(cell)}${bandText(cell, showing)}`;
  const accepted = state === 'accepted' ? ', and accepted' : '';
  const { value, low, high } = cell;
  if (value !== null && low !== null && value < low - touching * Math.abs(low)) {
    return `${gap(low - value, showing)} under the least, ${limit(low, plain)}${accepted}`;
  }
  if (value !== null && high !== null && value > high + touching * Math.abs(high)) {
    return `${gap(value - high, showing)} over the greatest, ${limit(high, plain)}${accepted}`;
  }
  if (state === 'accepted') return 'accepted';
  return low !== null
    ? `it must be more than ${limit(low, plain)}`
    : `it must be less than ${limit(high ?? NaN, plain)}`;
}

/** Too close to call, on one side or the other. */
function nearness({ value, low, high }: CheckCell): string {
  const beyond = value !== null && ((low !== null && value < low) || (high !== null && value > high));
  return beyond ? 'beyond its limits, but by less than it is known to' : 'inside its limits, but not surely';
}

/** A figure so near to its limit stands on it. */
const touching = 1e-9;

function bandText({ band }: CheckCell, showing: Showing): string {
  if (!band) return '';
  return `; it may lie anywhere in ${limitsText(band.low, band.high, showing)} ${unitText(showing)}`.trimEnd();
}

function gap(si: number, showing: Showing): string {
  return [differenceText(inUnit(si, showing, 'difference'), showing), unitText(showing)].join(' ').trim();
}

function limit(si: number, showing: Showing): string {
  return [...numberTextsUncut([inUnit(si, showing)], showing), unitText(showing)].join(' ').trim();
}
