// What does not hold, in a machinist's words: the figure, the limit and whose it is, why, and what to do.
// Every consumer tells a check by these sentences; none is written twice.
import type {
  CheckCell,
  CheckOutcome,
  CheckState,
  MissingInput,
  Outcome,
  Severity,
} from '../semantics/plan/outcome.ts';
import type { Comparison, Origin, SchemaRule } from '../semantics/schema/schema.ts';
import { cellsInWords, placeName } from './cells.ts';
import { duesOf } from './due.ts';
import { limitsText, unitText, withUnit } from './figures.ts';
import { capitalised, listed, placeInWords, textOf, words } from './place.ts';
import type { Files } from './place.ts';
import {
  differenceText,
  inUnit,
  numberText,
  numberTextsUncut,
  showingOfFormula,
  showingsIn,
  showingsOf,
} from './units.ts';
import { unitsWritten } from './typed.ts';
import type { Showing } from './units.ts';

export const stateWords: Readonly<Record<CheckState, string>> = {
  'holds-measured': 'holds, measured',
  'holds-on-paper': 'holds on paper',
  'at-risk': 'at risk',
  'out-of-limits': 'out of limits',
  accepted: 'accepted',
  'cannot-tell': 'cannot tell',
  'not-applicable': 'not applicable',
};

/** Worst first. */
export const severityOrder: readonly Severity[] = ['error', 'warning', 'advice', 'hint'];

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

/** Out of limits first, the severest first, then in the order of the checks. */
export function findingsOf(outcome: Outcome, files: Files): Told[] {
  const told = outcome.checks.filter(isFinding).map((check) => tell(outcome, check, files));
  const states: readonly CheckState[] = ['out-of-limits', 'at-risk', 'accepted'];
  const rank = ({ check, severity }: Told): number =>
    states.indexOf(check.state) * severityOrder.length + severityOrder.indexOf(severity);
  return told.sort((a, b) => rank(a) - rank(b));
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

/** In the unit in which somebody wrote the limits for this job, where the figure is shown in it. */
export function showingOfCheck(outcome: Outcome, check: CheckOutcome): Showing {
  if (!check.slot) return declaredShowing(outcome, check);
  const showings = showingsIn(outcome, check.slot);
  const own = check.limitFrom && !fromLibrary.has(check.limitFrom.layer);
  const written = own ? unitsWritten(check.limitFrom?.origin?.at)?.unit : undefined;
  return showings.find(({ unit }) => unit?.symbol === written) ?? showings[0]!;
}

const fromLibrary: ReadonlySet<string> = new Set(['default', 'mount-default', 'rule']);

export function declaredShowing(outcome: Outcome, check: CheckOutcome): Showing {
  if (check.slot) return showingsOf(check.slot)[0]!;
  const [first] = comparisons(check);
  return first ? showingOfFormula(first.value, outcome.binding.schema) : { unit: null, decimals: null };
}

function comparisons(check: CheckOutcome): readonly Comparison[] {
  return (check.expect ?? check.rule)?.demand.comparisons ?? [];
}

/** What is checked, in words: the figure, else what was written, else the rule's name. */
export function subject(check: CheckOutcome): string {
  if (check.slot) return pathWords(check.slot.path);
  const written = textOf(comparisons(check)[0]?.value.at);
  return written ?? words(check.rule?.name ?? check.id);
}

/** `plate.pin.mass` is `plate pin mass`. */
export function pathWords(path: string): string {
  return path.split('.').map(words).join(' ');
}

function headline(outcome: Outcome, check: CheckOutcome): string {
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
  if (!worst || worst.value === null) return `${name}${at} ${withoutFigures[check.state]}.`;
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

/** As many decimals as it takes to see on which side of its limit a figure lies, and how far. */
function fineEnough(cell: CheckCell, showing: Showing): Showing {
  if (cell.value === null || showing.decimals === null) return showing;
  const away = Math.abs(inUnit(outside(cell), showing, 'difference'));
  const value = inUnit(cell.value, showing);
  for (let decimals = showing.decimals; decimals < showing.decimals + 3; decimals++) {
    if (Math.abs(Number(numberText(value, { ...showing, decimals })) - value) <= away / 40)
      return { ...showing, decimals };
  }
  return showing;
}

function spanText(cells: readonly CheckCell[], showing: Showing): string {
  const values = cells.map(({ value }) => value).filter((value) => value !== null);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const [from, to] = [numberText(inUnit(least, showing), showing), withUnit(most, showing)];
  return from === numberText(inUnit(most, showing), showing) ? to : `${from} to ${to}`;
}

/** How far a figure lies outside its limits, in SI; negative inside. */
function outside({ value, low, high }: CheckCell): number {
  if (value === null) return -Infinity;
  return Math.max(low === null ? -Infinity : low - value, high === null ? -Infinity : value - high);
}

export function worstOf(cells: readonly CheckCell[]): CheckCell | null {
  return cells.reduce<CheckCell | null>(
    (worst, cell) => (worst && outside(worst) >= outside(cell) ? worst : cell),
    null,
  );
}

function verdict(cell: CheckCell, state: CheckState, showing: Showing, plain: Showing): string {
  if (state === 'at-risk') return `inside its limits, but not surely${bandText(cell, showing)}`;
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

function lines(outcome: Outcome, check: CheckOutcome, files: Files): { label: string; text: string }[] {
  const worst = worstOf(check.cells.filter((cell) => cell.state === check.state));
  return [
    { label: 'Figures', text: figuresText(outcome, check) },
    { label: 'Limits', text: limitsLine(outcome, check, worst, files) },
    { label: 'Because', text: check.because ?? '' },
    { label: 'Accepted', text: acceptLine(worst, files) },
    { label: 'Missing', text: check.state === 'cannot-tell' ? listed(missingOf(check).map(missingText)) : '' },
    { label: 'What to do', text: whatToDo(outcome, check) },
  ];
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

function limitsLine(outcome: Outcome, check: CheckOutcome, worst: CheckCell | null, files: Files): string {
  const showing = showingOfCheck(outcome, check);
  const whose = whoseLimit(outcome, check, files);
  if (!worst || (worst.low === null && worst.high === null)) return whose;
  const text = limitsText(worst.low ?? -Infinity, worst.high ?? Infinity, showing);
  return [`${text} ${unitText(showing)}`.trim(), whose].filter((part) => part !== '').join(', ');
}

/** `part PL-3 (shelf.thou:12)`. */
export function whoseLimit(outcome: Outcome, check: CheckOutcome, files: Files): string {
  if (!check.limitFrom) return '';
  const place = placeInWords(files.placeOf(limitOrigin(outcome, check)));
  const whose = limitOwner(check);
  return place === '' ? whose : `${whose} (${place})`;
}

function limitOwner({ kind, limitFrom }: CheckOutcome): string {
  if (!limitFrom) return '';
  if (kind === 'to-size') return 'the size asked for';
  switch (limitFrom.layer) {
    case 'rule':
      return 'the rule itself';
    case 'expect':
      return 'expected in the build';
    case 'part':
      return `part ${limitFrom.words}`;
    case 'build':
    case 'variant':
      return `given in ${limitFrom.words}`;
    case 'default':
    case 'mount-default':
      return pathWords(limitFrom.words);
    default:
      return limitFrom.words;
  }
}

/** A size asked for stands where it was ordered or specified. */
function limitOrigin(outcome: Outcome, { kind, slot, limitFrom }: CheckOutcome): Origin | null {
  const asked = kind === 'to-size' && outcome.slots.find((one) => one.slot === slot);
  return (asked && asked.sourceOf(0, 'ordered')?.origin) || (limitFrom?.origin ?? null);
}

function acceptLine(worst: CheckCell | null, files: Files): string {
  if (!worst?.accept) return '';
  const place = placeInWords(files.placeOf(worst.accept.origin));
  return place === '' ? worst.accept.because : `${worst.accept.because} (${place})`;
}

/** What is missing for a check, each once. */
export function missingOf(check: CheckOutcome): MissingInput[] {
  const byLabel = new Map<string, MissingInput>();
  for (const cell of check.cells) for (const input of cell.missing) byLabel.set(input.label, input);
  return [...byLabel.values()];
}

export function missingText({ label, why, stale }: MissingInput): string {
  if (why !== null) return `${label} (${why})`;
  return stale ? `${label} (cut since it was measured)` : label;
}

function whatToDo(outcome: Outcome, check: CheckOutcome): string {
  if (check.state === 'cannot-tell') return 'give or measure what is missing';
  if (check.state === 'at-risk') {
    const readings = outcome.toMeasure.filter(({ settles }) => settles.includes(check.id));
    const dues = duesOf(outcome, readings).map(
      ({ path, where }) => pathWords(path) + (where === '' ? '' : ` (${where})`),
    );
    if (dues.length > 0) return `measure ${listed(dues)}`;
  }
  if (check.state === 'accepted') return '';
  if (check.kind === 'to-size') return 'have it machined to size, or change the order';
  return check.rule ? adjustments(outcome, check.rule) : '';
}

function adjustments(outcome: Outcome, { adjust }: SchemaRule): string {
  const { slots } = outcome.binding.schema;
  let text = '';
  let verb = '';
  for (const { slot: id, even, link } of adjust) {
    const slot = slots[id];
    if (!slot) continue;
    const own = even ? 'even out' : 'change';
    const between = text === '' ? '' : link === 'then' ? ', then ' : ' or ';
    text += `${between}${own === verb && link !== 'then' ? '' : `${own} `}${pathWords(slot.path)}${wayOf(slot.features)}`;
    verb = own;
  }
  return text;
}

function wayOf(features: readonly string[]): string {
  if (features.includes('grows')) return ' (a cut only makes it larger)';
  return features.includes('falls') ? ' (a cut only makes it smaller)' : '';
}
