// The build sheet as a model: findings first, what is still to be measured, then the sections as the job runs, cautions last.
// Knows no layout and no word of the trade: chapters and cautions come with the trade library.
import type { SheetFinding, SheetModel } from '@thou/shared/result/sheet';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { CheckOutcome, CheckState, Outcome } from '../semantics/plan/outcome.ts';
import { settlingFirst } from '../semantics/due/settling.ts';
import { duesOf } from './due.ts';
import { unitText } from './figures.ts';
import { showingsIn } from './units.ts';
import { ordersOf } from './orders.ts';
import { readAgainOf } from './read-again.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { findingsOf } from './findings.ts';
import { likeliestFirst } from './likeliest.ts';
import type { Files } from './place.ts';
import { capitalised, docText, listed, placeInWords, words } from './place.ts';
import { pathWords } from './check-words.ts';
import { figuresOfJob, sectionsOf } from './sections.ts';
import type { SectionOptions } from './sections.ts';
import { listsOf } from './tasks.ts';

export interface SheetModelOptions extends SectionOptions {
  readonly edition: number | null;
  readonly cautions: readonly string[];
  /** Mistakes in the text, which leave figures out. */
  readonly mistakes: number;
}

export function sheetModel(outcome: Outcome, options: SheetModelOptions): SheetModel {
  const { binding } = outcome;
  const place = options.files.placeOf(binding.origin);
  return {
    build: binding.name,
    variantOf: binding.base?.name ?? null,
    doc: docText(binding.doc),
    edition: options.edition,
    file: placeInWords(place),
    summary: summary(outcome),
    mistakes: mistakesText(options.mistakes),
    findings: findingsOn(outcome, options.files),
    causes: causesText(outcome),
    toMeasure: readingsOf(outcome, options).map(({ label, why, settles, path }) => ({
      label,
      why,
      settles,
      address: path,
    })),
    readAgain: readAgainOf(outcome),
    toOrder: ordersOf(outcome),
    lists: listsOf(outcome),
    history: historyLines(outcome),
    sections: sectionsOf(outcome, options),
    cautions: options.cautions,
  };
}

export function findingsOn(outcome: Outcome, files: Files): SheetFinding[] {
  return findingsOf(outcome, files).map(({ check, severity, headline, lines }) => {
    const place = files.placeOf(toldFrom(outcome, check));
    return { state: check.state, severity, headline, lines, id: check.id, place };
  });
}

export function historyLines({ binding }: Outcome): string[] {
  return binding.history.map(({ kind, label, date, hand, instrument }) => {
    const notes = [hand && `by ${hand}`, instrument && `with ${words(instrument)}`].filter(Boolean).join(', ');
    return [date ?? 'no date', kind === 'machining' ? 'machining' : 'measured', label, notes]
      .filter((part) => part !== '')
      .join('  ');
  });
}

/** Where the reader looks first: the accept that speaks, the figure that is to blame, else the check itself. */
export function toldFrom(outcome: Outcome, check: CheckOutcome): Origin {
  const accept = check.cells.find((cell) => cell.accept !== null)?.accept;
  return (check.state === 'accepted' ? accept?.origin : likeliestFirst(outcome, check)[0]?.origin) ?? check.origin;
}

export function mistakesText(count: number): string {
  if (count === 0) return '';
  return `${count === 1 ? 'One mistake' : `${count} mistakes`} in the text: figures that rest on ${count === 1 ? 'it' : 'them'} are left out. "thou check" names ${count === 1 ? 'it' : 'each'}.`;
}

const summaryWords: readonly (readonly [CheckState, string])[] = [
  ['out-of-limits', 'out of limits'],
  ['at-risk', 'at risk'],
  ['accepted', 'accepted'],
  ['holds-measured', 'hold as measured'],
  ['holds-on-paper', 'hold on paper'],
  ['cannot-tell', 'cannot be told yet'],
];

/** `2 out of limits and 12 hold on paper`; empty where nothing is checked. */
export function countsInWords(checks: readonly CheckOutcome[]): string {
  return listed(
    summaryWords.flatMap(([state, phrase]) => {
      const count = checks.filter((check) => check.state === state).length;
      return count === 0 ? [] : [`${count} ${phrase}`];
    }),
  );
}

export function summary({ checks }: Outcome): string {
  const counted = countsInWords(checks);
  return counted === '' ? 'Nothing is checked yet.' : `Checks: ${counted}.`;
}

/** Findings that one figure would clear, told together. */
export function causesText({ causes }: Outcome): string[] {
  return causes
    .filter(({ checks }) => checks.length > 1)
    .map(({ label, checks }) => `${label} alone brings about ${listed(checks.map(checkWords))}.`);
}

/** `left.plate-width` is `left plate width`. */
function checkWords(id: string): string {
  return id.startsWith('expect ') ? `"${id}"` : pathWords(id);
}

/** A figure that is to be read, with all its places that are due. */
export interface Reading {
  readonly path: string;
  readonly label: string;
  readonly why: string;
  readonly settles: string;
  readonly axes: readonly Axis[];
  readonly cells: readonly number[];
  /** In which the readings are written down. */
  readonly unit: string;
}

/** What the library itself is made of is not asked for. */
export function readingsOf(outcome: Outcome, { chapters }: Pick<SheetModelOptions, 'chapters'>): Reading[] {
  const own = figuresOfJob(outcome, chapters);
  const byId = new Map(outcome.slots.map((one) => [one.slot.id, one]));
  const wanted = settlingFirst(outcome).filter(
    ({ input }) => own.has(input.slot) || byId.get(input.slot)?.states[input.cell] === 'missing',
  );
  return duesOf(outcome, wanted).map(({ path, slot, cells, where, why, settles }) => {
    const named = [...new Set(settles.map(checkWords))];
    const more = named.length > 4 ? [...named.slice(0, 3), `${named.length - 3} more`] : named;
    const one = byId.get(slot);
    return {
      path,
      label: capitalised(pathWords(path)) + (where === '' ? '' : `, ${where}`),
      why,
      settles: listed(more),
      axes: one?.axes ?? [],
      cells,
      unit: one ? unitText(showingsIn(outcome, one.slot)[0]!) : '',
    };
  });
}
