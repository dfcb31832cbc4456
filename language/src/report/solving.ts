// Goals and figures to turn, as somebody typed them: read by the language in a copy of the build, worked back from, told as a result.
// Knows no reader: what cannot be done is a problem in words.
import type { SolveResult } from '@thou/shared/result/solve';
import type { SourceFile } from '../grammar/file.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Plan } from '../semantics/plan/run.ts';
import { Places } from '../semantics/problems/places.ts';
import type { FileResult } from '../semantics/project.ts';
import { asked, bodyOf, goalsOf, withGoals } from '../semantics/solve/goals.ts';
import type { Asked, Goals } from '../semantics/solve/goals.ts';
import type { Wanted } from '../semantics/solve/remedies.ts';
import { partOfSize, shelfOf } from '../semantics/solve/shelf.ts';
import type { Texts } from '../semantics/solve/shelf.ts';
import { linesOf, targetAt } from '../semantics/solve/targets.ts';
import type { Target } from '../semantics/solve/targets.ts';
import { adjustsOf, workBack } from '../semantics/solve/work-back.ts';
import { cellsNamed, locate } from './locate.ts';
import { listed } from './place.ts';
import { noWayResult, wayResult } from './work-back.ts';
import { gridFor } from './writing.ts';

export interface Bench extends Texts {
  /** The file that the build was asked for in. */
  readonly uri: string;
  source(uri: string): SourceFile | undefined;
  /** What the file would say if its text were another. */
  lookAt(text: string): FileResult;
}

/** The result without what programs want to know of its form. */
export type Solved = Omit<SolveResult, 'format' | 'thou'>;

interface Refused {
  readonly problem: string;
}

export function solved(
  bench: Bench,
  outcome: Outcome,
  written: readonly string[],
  names: readonly string[],
): { readonly goals: Goals; readonly result: Solved } | Refused {
  const goals = goalsRead(bench, outcome, written.map(asked));
  if ('problem' in goals) return goals;
  const lines = linesFor(outcome, goals, names);
  if ('problem' in lines) return lines;
  const holdsAlready = goals.all.every(({ sort }) => sort === 'keep') && goals.kept!.state.startsWith('holds');
  const wanted: Wanted = {
    gridOf: (slot, cell) => gridFor(outcome, slot, cell),
    sizesOf: (slot) => shelfOf(bench, bench.uri, outcome, slot).map(({ size }) => size),
  };
  const { ways, noWays } = holdsAlready ? { ways: [], noWays: [] } : workBack(goals, lines.of, wanted);
  const partOf = (slot: number, size: number): string | null =>
    partOfSize(shelfOf(bench, bench.uri, outcome, slot), size);
  const result: Solved = {
    build: outcome.binding.name,
    goals: written,
    holdsAlready,
    ways: ways.map((way) => wayResult({ outcome, goals, partOf }, way)),
    noWays: noWays.map((one) => noWayResult(outcome, one)),
  };
  return { goals, result };
}

/** What the language objects to is told with the text that was typed. */
export function goalsRead(bench: Bench, outcome: Outcome, wanted: readonly Asked[]): Goals | Refused {
  const { uri } = outcome.binding.origin;
  const text = bench.source(uri)?.text ?? '';
  const body = bodyOf(outcome);
  const place = body === null ? null : new Places((at) => bench.source(at)).place({ uri, at: body });
  if (place === null || text[place.end - 1] !== '}')
    return { problem: `"${outcome.binding.name}" is not written to its end; "thou check" tells where.` };
  const copy = withGoals(text, place, wanted);
  const { problems, outcomes } = bench.lookAt(copy.text);
  for (const [at, { start, end }] of copy.places.entries()) {
    const slip = problems.find((one) => one.severity === 'error' && one.start <= end && one.end >= start);
    if (slip) return { problem: `In "${wanted[at]!.text}": ${slip.message}` };
  }
  const own = outcomes.find(({ binding }) => binding.name === outcome.binding.name);
  const goals = own === undefined ? null : goalsOf(own, wanted);
  return (
    goals ?? {
      problem: `${listed(wanted.map((one) => `"${one.text}"`))} cannot be worked back from: a goal compares a figure with another, such as "gap = 0.040 in".`,
    }
  );
}

/** A figure by its name that may be changed. */
export function turnedByName(outcome: Outcome, plan: Plan, name: string): Target | Refused {
  const found = locate(outcome, name);
  if ('problem' in found) return found;
  const { one } = found;
  const cells = new Set(cellsNamed(found));
  const target = targetAt(plan, one.slot.id, (_, cell) => cells.has(cell));
  if (target !== null) return target;
  return {
    problem:
      one.slot.sort === 'derive'
        ? `${one.slot.path} is worked out from others; name one of those that it is made of ("thou explain" tells them).`
        : `${one.slot.path} cannot be turned: it is no quantity, or has no figure yet.`,
  };
}

function linesFor(
  outcome: Outcome,
  goals: Goals,
  names: readonly string[],
): { readonly of: readonly (readonly Target[])[] } | Refused {
  const named: (readonly Target[])[] = [];
  for (const name of names) {
    const target = turnedByName(outcome, goals.plan, name);
    if ('problem' in target) return target;
    named.push([target]);
  }
  const lines = names.length > 0 ? named : linesOf(goals.plan, adjustsOf(goals));
  return lines.length === 0
    ? {
        problem:
          'No rule names what may be turned for this; name it yourself (at the command line --turn NAME, once for each figure).',
      }
    : { of: lines };
}
