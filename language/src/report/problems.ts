// Findings of a build as problems in its files, beside those of the text: what the editor underlines and the command line prints.
import type { CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import type { Places, Problem, TextPlace } from '../semantics/problems/places.ts';
import { pathWords } from './check-words.ts';
import { foundIn, message } from './findings.ts';
import type { Found } from './findings.ts';
import { missingOf } from './remedies.ts';
import { Remembered } from './remembered.ts';
import { capitalised, listed } from './place.ts';
import type { Files } from './place.ts';
import { buildName, underlined } from './underlined.ts';

/**
 * Of one file: out of limits, at risk and what is missing. Accepted deviations are no problem. Words and related places
 * are made when they are read: of a long file few are shown. `told`: only of these, beside what their bases say.
 */
export function problemsOfOutcomes(
  uri: string,
  outcomes: readonly Outcome[],
  places: Places,
  files: Files,
  told = outcomes,
): BuildProblem[] {
  const missing = told.flatMap((outcome) => {
    const known = saidByBase(outcome, outcomes);
    const place = places.place(buildName(outcome));
    return missingIn(outcome)
      .filter((message) => !known.has(message))
      .map((message) => ({ ...hint, ...place, outcome, figures: null, message: prefixOf(outcome) + message }))
      .filter((problem) => problem.uri === uri);
  });
  return [...findingProblems(uri, outcomes, places, files, told), ...missing];
}

export interface BuildProblem extends Problem {
  readonly outcome: Outcome;
  /** Of a check: which, and what it came to. */
  readonly figures: string | null;
}

/** One check that does not hold, where it is underlined. */
export interface FindingProblem extends BuildProblem {
  readonly check: CheckOutcome;
  /** The statement that the underlined figure stands in. */
  readonly whole: TextPlace;
}

export function findingProblems(
  uri: string,
  outcomes: readonly Outcome[],
  places: Places,
  files: Files,
  told = outcomes,
): FindingProblem[] {
  return told.flatMap((outcome) => {
    const known = saidByBase(outcome, outcomes);
    return findingsAmong(outcome)
      .filter(({ check }) => !known.has(figuresOf(check)))
      .map((told) => problemOf(outcome, told, prefixOf(outcome), uri, places, files))
      .filter((problem) => problem.uri === uri);
  });
}

function prefixOf({ binding }: Outcome): string {
  return binding.base === null ? '' : `In ${binding.name}: `;
}

function saidByBase({ binding }: Outcome, outcomes: readonly Outcome[]): ReadonlySet<string> {
  const base = binding.base === null ? undefined : outcomes.find((one) => one.binding === binding.base);
  return base === undefined ? nothingKnown : saidOf(base);
}

const nothingKnown: ReadonlySet<string> = new Set();
const hint = { code: 'missing', severity: 'hint', related: [], fixes: [] } as const;

/** A variant says again only what its base does not say. */
const said = new WeakMap<Outcome, ReadonlySet<string>>();

function saidOf(outcome: Outcome): ReadonlySet<string> {
  const known =
    said.get(outcome) ??
    new Set([...findingsAmong(outcome).map(({ check }) => figuresOf(check)), ...missingIn(outcome)]);
  said.set(outcome, known);
  return known;
}

const figures = new WeakMap<CheckOutcome, string>();

/** What a finding says, in figures. */
function figuresOf(check: CheckOutcome): string {
  const known =
    figures.get(check) ??
    `${check.id} ${check.cells.map(({ places, state, value, low, high }) => [places, state, value, low, high].join()).join(' ')}`;
  figures.set(check, known);
  return known;
}

/** Of a build that an edit did not touch. */
const words = new Remembered<CheckOutcome>();

const found = new WeakMap<Outcome, readonly Found[]>();

function findingsAmong(outcome: Outcome): readonly Found[] {
  const known = found.get(outcome) ?? foundIn(outcome).filter(({ check }) => check.state !== 'accepted');
  found.set(outcome, known);
  return known;
}

function problemOf(
  outcome: Outcome,
  { check, severity }: Found,
  prefix: string,
  uri: string,
  places: Places,
  files: Files,
): FindingProblem {
  const { at, whole, others } = underlined(outcome, check, uri);
  return {
    ...places.place(at),
    outcome,
    check,
    get figures() {
      return figuresOf(check);
    },
    get whole() {
      return places.place(whole);
    },
    code: check.id.startsWith('expect ') ? 'expect' : check.id,
    severity,
    get message() {
      return prefix + words.of(check, files, (seen) => message(outcome, check, seen, '\n'));
    },
    get related() {
      return others(places);
    },
    fixes: [],
  };
}

const lacking = new WeakMap<Outcome, readonly string[]>();

/** One hint at the build's name for each figure that is missing. */
function missingIn(outcome: Outcome): readonly string[] {
  const known = lacking.get(outcome) ?? missingWords(outcome);
  lacking.set(outcome, known);
  return known;
}

function missingWords(outcome: Outcome): readonly string[] {
  const needed = new Map<string, Set<string>>();
  for (const check of outcome.checks) {
    if (check.state !== 'cannot-tell') continue;
    for (const input of missingOf(check)) {
      const name = pathWords(input.path) + (input.why === null ? '' : ` (${input.why})`);
      needed.set(name, (needed.get(name) ?? new Set()).add(pathWords(check.slot?.path ?? check.id)));
    }
  }
  return [...needed].map(
    ([name, checks]) =>
      `${capitalised(name)} ${/\blimits\b/.test(name) ? 'are' : 'is'} not given or measured yet: ${listed(first(checks))} cannot be told.`,
  );
}

function first(names: ReadonlySet<string>): string[] {
  const all = [...names];
  return all.length > 4 ? [...all.slice(0, 3), `${all.length - 3} more`] : all;
}
