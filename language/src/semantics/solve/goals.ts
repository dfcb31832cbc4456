/**
 * Goals that are no part of a build: written into a copy of its text as demands, so that they are read by the language itself, and judged
 * beside what the build demands without replacing any of it.
 */
import type * as ast from '../../grammar/generated/ast.ts';
import { judge } from '../check/judge.ts';
import { draftOfExpect } from '../check/draft.ts';
import { unionOfAxes, readComparison } from '../check/question.ts';
import { worstState } from '../check/verdict.ts';
import type { Axis } from '../evaluate/value.ts';
import type { ExpectGiven } from '../bind/binding.ts';
import { placesOf } from '../plan/labels.ts';
import type { CheckOutcome, Outcome } from '../plan/outcome.ts';
import { planBuild } from '../plan/run.ts';
import type { Plan } from '../plan/run.ts';
import type { Comparison, Origin } from '../schema/schema.ts';
import type { TextPlace } from '../problems/places.ts';

/** One goal as it was asked for. */
export interface Asked {
  readonly text: string;
  /** A figure to come to, or limits to be inside of. */
  readonly sort: 'reach' | 'keep';
}

export interface Goal extends Asked {
  readonly comparison: Comparison;
  readonly origin: Origin;
  readonly axes: readonly Axis[];
}

export interface Goals {
  /** Of the copy in which the goals stand. */
  readonly plan: Plan;
  readonly all: readonly Goal[];
  /** Those with limits, together; null where there are none. */
  readonly kept: CheckOutcome | null;
}

const equals = /(?<![<>=!])=(?!=)/;

/** `gap = 0.040 in` is to be reached, anything else to be kept to. */
export function asked(text: string): Asked {
  return { text: text.trim(), sort: equals.test(text) ? 'reach' : 'keep' };
}

/** The text with the goals as last demands of a body, and where they stand in it. */
export function withGoals(
  text: string,
  body: TextPlace,
  goals: readonly Asked[],
): { readonly text: string; readonly places: readonly { readonly start: number; readonly end: number }[] } {
  const at = body.end - 1;
  let written = '\n';
  const places = goals.map((goal) => {
    const start = at + written.length;
    written += `expect ${goal.sort === 'reach' ? goal.text.replace(equals, '==') : goal.text}`;
    const end = at + written.length;
    written += '\n';
    return { start, end };
  });
  return { text: text.slice(0, at) + written + text.slice(at), places };
}

/** The body of a build or variant; null where it has none that is closed. */
export function bodyOf({ binding }: Outcome): ast.Body | null {
  return (binding.origin.at as ast.Build | ast.Variant).body ?? null;
}

/** Null where one of them compares no figure with another. */
export function goalsOf(outcome: Outcome, wanted: readonly Asked[]): Goals | null {
  const plan = planBuild(outcome.binding, undefined, outcome.texts);
  const own = outcome.binding.expects.filter(({ inherited }) => !inherited).slice(-wanted.length);
  if (own.length < wanted.length || own.some(({ demand }) => demand.comparisons.length === 0)) return null;
  const all = own.map((expect, at): Goal => {
    const [comparison] = expect.demand.comparisons;
    const { value } = readComparison(plan, comparison!, expect.origin);
    return { ...wanted[at]!, comparison: comparison!, origin: expect.origin, axes: unionOfAxes([value]) };
  });
  const limits = own.filter((_, at) => wanted[at]!.sort === 'keep');
  return { plan, all, kept: limits.length === 0 ? null : keptTogether(plan, limits) };
}

/** Limits of several goals as one demand. */
function keptTogether(plan: Plan, expects: readonly ExpectGiven[]): CheckOutcome {
  const [first] = expects;
  const comparisons = expects.flatMap(({ demand }) => demand.comparisons);
  const text = expects.map((one) => one.text).join(' and ');
  const expect: ExpectGiven = { ...first!, text, demand: { ...first!.demand, comparisons } };
  const draft = draftOfExpect(expect, comparisons, new Map());
  const judged = judge(plan, draft, []);
  const cells = judged.verdicts.map(({ state, value, low, high, band, guard }, cell) => {
    return { places: placesOf(cell, judged.axes), state, value, low, high, band, guard, missing: [], accept: null };
  });
  return {
    id: draft.id,
    kind: 'expect',
    severity: 'error',
    rule: null,
    expect,
    slot: draft.slot === null ? null : plan.schema.slots[draft.slot]!,
    axes: judged.axes,
    cells,
    state: worstState(cells.map(({ state }) => state)),
    because: null,
    limitFrom: null,
    origin: draft.origin,
    blame: [],
    cause: null,
  };
}
