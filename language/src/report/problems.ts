// Findings of a build as problems in its files, beside those of the text: what the editor underlines and the command line prints.
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Places, Problem } from '../semantics/problems/places.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { pathWords } from './check-words.ts';
import { findingsOf, message } from './findings.ts';
import { missingOf } from './remedies.ts';
import { capitalised, listed } from './place.ts';
import type { Files } from './place.ts';

/** Of one file: out of limits, at risk and what is missing. Accepted deviations are no problem. */
export function problemsOfOutcomes(uri: string, outcomes: readonly Outcome[], places: Places, files: Files): Problem[] {
  const told = outcomes.map((outcome) => [...found(outcome, uri, places, files), ...missing(outcome, places)]);
  return outcomes.flatMap((outcome, at) => {
    const base = outcomes.findIndex(({ binding }) => binding === outcome.binding.base);
    const known = new Set((told[base] ?? []).map(wordsOf));
    const own = told[at]!.filter((problem) => problem.uri === uri && !known.has(wordsOf(problem)));
    if (!outcome.binding.base) return own;
    return own.map((problem) => ({ ...problem, message: `In ${outcome.binding.name}: ${problem.message}` }));
  });
}

/** A variant says again only what its base does not say. */
function wordsOf({ code, message: text }: Problem): string {
  return `${code} ${text}`;
}

function found(outcome: Outcome, uri: string, places: Places, files: Files): Problem[] {
  return findingsOf(outcome, files)
    .filter(({ check }) => check.state !== 'accepted')
    .map(({ check, severity }) => {
      const blamed = [...check.blame.map(({ origin }) => origin), check.origin].filter((origin) => origin.uri === uri);
      const [first, ...others] = blamed.map((origin) => places.place(origin));
      const starts = new Set([first?.start]);
      const related = others.filter(({ start }) => !starts.has(start) && starts.add(start)).slice(0, 5);
      return {
        ...(first ?? buildName(outcome, places)),
        code: check.id.startsWith('expect ') ? 'expect' : check.id,
        severity,
        message: message(outcome, check, files, '\n'),
        related: related.map((place) => ({ ...place, message: 'rests on this too' })),
        fixes: [],
      };
    });
}

function buildName({ binding }: Outcome, places: Places): ReturnType<Places['place']> {
  const origin: Origin = { uri: binding.origin.uri, at: binding.nameAt };
  return places.place('name' in binding.nameAt ? { ...origin, property: 'name' } : origin);
}

/** One hint at the build's name for each figure that is missing. */
function missing(outcome: Outcome, places: Places): Problem[] {
  const needed = new Map<string, Set<string>>();
  for (const check of outcome.checks) {
    if (check.state !== 'cannot-tell') continue;
    for (const input of missingOf(check)) {
      const name = pathWords(input.path) + (input.why === null ? '' : ` (${input.why})`);
      needed.set(name, (needed.get(name) ?? new Set()).add(pathWords(check.slot?.path ?? check.id)));
    }
  }
  return [...needed].map(([name, checks]) => ({
    ...buildName(outcome, places),
    code: 'missing',
    severity: 'hint',
    message: `${capitalised(name)} ${/\blimits\b/.test(name) ? 'are' : 'is'} not given or measured yet: ${listed(first(checks))} cannot be told.`,
    related: [],
    fixes: [],
  }));
}

function first(names: ReadonlySet<string>): string[] {
  const all = [...names];
  return all.length > 4 ? [...all.slice(0, 3), `${all.length - 3} more`] : all;
}
