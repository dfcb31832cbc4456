/** One check judged cell by cell: its comparisons, with the build's own limits where those speak, and its `when`. */
import { guardSlot } from '../certainty/decision.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import { cellsFrom, sizeOf } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
import type { Comparison } from '../schema/schema.ts';
import type { Draft } from './draft.ts';
import { cellAt, cellsOf, replacementFor, withLimits } from './expects.ts';
import type { Replaced, Wish } from './expects.ts';
import { questionOf, readComparison, sideOf, tensorOf, unionOfAxes } from './question.ts';
import type { Question, Side } from './question.ts';
import { verdictOf, verdictOfFlag, worseState, worstVerdict } from './verdict.ts';
import type { Verdict } from './verdict.ts';

/** What was compared in one cell. */
export interface Asked {
  readonly question: Question;
  readonly replaced: Replaced | null;
}

export interface Judged {
  readonly draft: Draft;
  readonly axes: readonly Axis[];
  readonly verdicts: readonly Verdict[];
  /** By cell; empty where nothing was compared. */
  readonly asked: readonly (readonly Asked[])[];
  readonly trace: readonly number[];
  /** False where a circle was cut under it, or something in it was objected to. */
  readonly settled: boolean;
  /** All that was evaluated for it. */
  readonly exprs: readonly Expr[];
}

const notApplicable: Verdict = {
  state: 'not-applicable',
  value: null,
  low: null,
  high: null,
  band: null,
  guard: null,
  mark: Mark.absent,
};

export function judge(plan: Plan, draft: Draft, wishes: readonly Wish[]): Judged {
  const { origin } = draft;
  const reads = draft.comparisons.map((one) => readComparison(plan, one, origin));
  const when = draft.when === null ? null : tensorOf(plan.watch(draft.when, origin).value);
  const flag = draft.flag === null ? null : tensorOf(plan.watch(draft.flag, origin).value);
  const axes = unionOfAxes([...reads.flatMap(({ value, low, high }) => [value, low, high]), flag, when]);
  const questions = draft.comparisons.map((one, at) => questionOf(plan, one, reads[at]!, axes));
  const applies = when === null ? null : sideOf(when, axes, false, null);
  const holds = flag === null ? null : sideOf(flag, axes, false, null);
  const asked: (readonly Asked[])[] = [];
  const verdicts = Array.from({ length: sizeOf(axes) }, (_, cell) => {
    const condition = conditionAt(applies, cell);
    const here =
      condition.state === 'not-applicable' ? [] : questions.flatMap((one) => askedAt(one, draft, axes, cell, wishes));
    asked.push(here);
    if (condition.state === 'not-applicable') return notApplicable;
    const all = here.map(({ question }) => verdictOf(question, axes, cell));
    if (holds !== null) all.push(verdictOfFlag(holds.data[cell]!, holds.mark[cell]!));
    return all.length === 0 ? notApplicable : under(condition, worstVerdict(all));
  });
  const exprs = exprsOf(draft);
  const watched = exprs.map((expr) => plan.watch(expr, origin));
  const guard = guardSlot(plan);
  const judgedBy = guard === null ? [] : [plan.keyOf(guard, plan.clock.at('measured'))];
  const trace = [...new Set([...judgedBy, ...watched.flatMap((one) => one.trace)])];
  return { draft, axes, verdicts, asked, trace, settled: watched.every((one) => one.settled), exprs };
}

/** A rule of a part that is not fitted has nothing to judge. It is looked at anew each time, since a part may be fitted. */
export function ofNothing(draft: Draft): Judged {
  return { draft, axes: [], verdicts: [notApplicable], asked: [[]], trace: [], settled: false, exprs: [] };
}

/** `when`: false or absent takes the check away, missing leaves it open. */
function conditionAt(
  applies: Side | null,
  cell: number,
): { readonly state: 'not-applicable' | 'cannot-tell' | null; readonly mark: number } {
  if (applies === null) return { state: null, mark: Mark.exact };
  const mark = applies.mark[cell]!;
  if (mark === Mark.missing) return { state: 'cannot-tell', mark };
  return { state: mark === Mark.absent || applies.data[cell] === 0 ? 'not-applicable' : null, mark };
}

function under(
  condition: { readonly state: 'not-applicable' | 'cannot-tell' | null; readonly mark: number },
  verdict: Verdict,
): Verdict {
  const mark = Math.max(verdict.mark, condition.mark);
  if (verdict.state === 'not-applicable') return verdict;
  if (condition.state === 'cannot-tell') return { ...verdict, mark, state: 'cannot-tell' };
  if (verdict.state === 'holds-measured' && mark > Mark.measured)
    return { ...verdict, mark, state: worseState(verdict.state, 'holds-on-paper') };
  return { ...verdict, mark };
}

function askedAt(
  question: Question,
  draft: Draft,
  axes: readonly Axis[],
  cell: number,
  wishes: readonly Wish[],
): readonly Asked[] {
  const comparison = question.comparison!;
  if (isSpent(draft, comparison, axes, cell)) return [];
  if (draft.kind !== 'rule' || comparison.slot === null) return [{ question, replaced: null }];
  const at = cellAt(cellsOf(comparison.value), axes, cell);
  const replaced = at === null ? null : replacementFor(wishes, at);
  return [{ question: replaced === null ? question : withLimits(question, replaced, cell), replaced }];
}

function isSpent(draft: Draft, comparison: Comparison, axes: readonly Axis[], cell: number): boolean {
  const known = draft.spent.get(comparison);
  return known !== undefined && known.spent[cellsFrom(known.axes, axes)[cell]!] === 1;
}

function exprsOf({ comparisons, when, flag }: Draft): readonly Expr[] {
  const sides = comparisons.flatMap(({ value, low, high, limits }) => [value, low, high, limits]);
  return [...sides, when, flag].filter((expr) => expr !== null);
}
