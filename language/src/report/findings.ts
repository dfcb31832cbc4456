// What does not hold, in a machinist's words: the figure, the limit and whose it is, why, and what to do.
// Every consumer tells a check by these sentences; none is written twice.
import type { CheckOutcome, CheckState, Outcome, Severity, SlotOutcome } from '../semantics/plan/outcome.ts';
import { slotsIn } from '../semantics/reads.ts';
import { cellOfPlaces, placeName } from './cells.ts';
import { pathWords, showingOfCheck, worstOf } from './check-words.ts';
import { figureOf, figureText, noFigure, withUnit } from './figures.ts';
import { guardLine } from './guard-words.ts';
import { headline } from './headline.ts';
import { acceptLine, limitsLine } from './limits-words.ts';
import { listed, words } from './place.ts';
import type { Files } from './place.ts';
import { missingOf, missingText, whatToDo } from './remedies.ts';

/** Worst first. */
const severityOrder: readonly Severity[] = ['error', 'warning', 'advice', 'hint'];

export interface Told {
  readonly check: CheckOutcome;
  /** What weighs after the state: an accepted deviation is a hint, so is a risk that a reading can still settle. */
  readonly severity: Severity;
  readonly headline: string;
  readonly lines: readonly { readonly label: string; readonly text: string }[];
}

export function isFinding({ state }: Pick<CheckOutcome, 'state'>): boolean {
  return state === 'out-of-limits' || state === 'at-risk' || state === 'accepted';
}

/** A finding with its weight, its words not made yet. */
export interface Found {
  readonly check: CheckOutcome;
  readonly severity: Severity;
}

/** Out of limits first, the severest first, then in the order of the checks. */
export function foundIn(outcome: Outcome): Found[] {
  const all = outcome.checks.filter(isFinding).map((check) => ({ check, severity: weighed(outcome, check) }));
  const states: readonly CheckState[] = ['out-of-limits', 'at-risk', 'accepted'];
  const rank = ({ check, severity }: Found): number =>
    states.indexOf(check.state) * severityOrder.length + severityOrder.indexOf(severity);
  return all.sort((a, b) => rank(a) - rank(b));
}

export function findingsOf(outcome: Outcome, files: Files): Told[] {
  return foundIn(outcome).map(({ check }) => tell(outcome, check, files));
}

export function tell(outcome: Outcome, check: CheckOutcome, files: Files): Told {
  return {
    check,
    severity: weighed(outcome, check),
    headline: headline(outcome, check),
    lines: lines(outcome, check, files).filter(({ text }) => text !== ''),
  };
}

/** The whole as sentences; `between` parts them: a blank for one line, a new line for a list. */
export function message(outcome: Outcome, check: CheckOutcome, files: Files, between = ' '): string {
  const told = tell(outcome, check, files);
  const rest = told.lines.map(({ label, text }) => `${label}: ${text}${/[.!?]$/.test(text) ? '' : '.'}`);
  return [told.headline, ...rest].join(between);
}

function weighed(outcome: Outcome, check: CheckOutcome): Severity {
  if (check.state === 'out-of-limits') return check.severity;
  if (check.state !== 'at-risk') return 'hint';
  if (outcome.toMeasure.some(({ settles }) => settles.includes(check.id))) return 'hint';
  return check.severity === 'error' ? 'warning' : check.severity;
}

function lines(outcome: Outcome, check: CheckOutcome, files: Files): { label: string; text: string }[] {
  const worst = worstOf(check.cells.filter((cell) => cell.state === check.state));
  return [
    { label: 'Figures', text: figuresText(outcome, check) || comparedText(outcome, check) },
    { label: 'Limits', text: limitsLine(outcome, check, worst, files) },
    { label: 'Guard band', text: check.state === 'at-risk' ? guardLine(outcome, check, worst) : '' },
    { label: 'Because', text: check.because ?? '' },
    { label: 'Accepted', text: acceptLine(worst, files) },
    { label: 'Missing', text: check.state === 'cannot-tell' ? listed(missingOf(check).map(missingText)) : '' },
    { label: 'What to do', text: whatToDo(outcome, check) },
  ];
}

const mostCompared = 4;

/** What a yes or no was made of: of the first place that is out, the figures, choices and texts that were compared. */
function comparedText(outcome: Outcome, { rule, expect, axes, cells, state }: CheckOutcome): string {
  const flag = (rule ?? expect)?.demand.flag ?? null;
  const out = cells.find((cell) => cell.state === state);
  if (flag === null || out === undefined || state !== 'out-of-limits') return '';
  const read = [...new Set(slotsIn(flag))].map((id) => outcome.slots[id]!);
  const isAlong = (one: SlotOutcome): boolean => one.axes.every(({ id }) => axes.some((axis) => axis.id === id));
  if (read.length === 0 || read.length > mostCompared || !read.every(isAlong)) return '';
  const figures = read.map((one) => figureOf(outcome, one, cellOfPlaces(one.axes, axes, out.places), 'measured'));
  if (figures.includes(noFigure)) return '';
  const texts = figures.map(
    (figure, at) => `${pathWords(read[at]!.slot.path)} ${figureText({ ...figure, second: null })}`,
  );
  return texts.join(', ');
}

/** Each figure that is out, where there are several. */
function figuresText(outcome: Outcome, check: CheckOutcome): string {
  const cells = check.cells.filter((cell) => cell.state === check.state && cell.value !== null);
  const [axis] = check.axes;
  const texts = new Set(cells.map(({ value }) => withUnit(value!, showingOfCheck(outcome, check))));
  if (texts.size < 2 || cells.length > 16 || check.axes.length !== 1 || !axis) return '';
  const showing = showingOfCheck(outcome, check);
  return cells
    .map(
      ({ places, value }) =>
        `${axis.labels ? '' : `${words(axis.name)} `}${placeName(axis, places[0]!)} ${withUnit(value!, showing)}`,
    )
    .join(', ');
}
