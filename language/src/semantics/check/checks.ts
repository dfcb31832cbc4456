/** All checks of a build: rules, readings against orders, what the build expects; accepted, explained and ordered. */
import type { Cause, CheckCell, CheckOutcome, Outcome, PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { AcceptGiven } from '../bind/binding.ts';
import { accepted, acceptsOf, noSuchCheck, notNeeded } from './accepts.ts';
import { causesOf } from './causes.ts';
import { cellsOf } from './cells.ts';
import { conclude } from './conclude.ts';
import { disagreeing } from './disagreeing.ts';
import { draftOfExpect } from './draft.ts';
import { expectsOf, wishesOf } from './expects.ts';
import type { Wish } from './expects.ts';
import { aboutInstruments } from './gauges.ts';
import { judge } from './judge.ts';
import type { Judged } from './judge.ts';
import { judgedRules } from './kept.ts';
import { looserThan } from './looser.ts';
import { once } from '../once.ts';
import { slipsOfReadings } from './slips.ts';
import { toMeasure } from './to-measure.ts';
import { toSizeChecks } from './to-size.ts';
import { verdictOf } from './verdict.ts';

export interface Checked {
  readonly checks: readonly CheckOutcome[];
  /** Looked for when somebody asks. */
  readonly causes: () => readonly Cause[];
  readonly toMeasure: () => Outcome['toMeasure'];
  readonly problems: readonly PlanProblem[];
}

export function checkBuild(plan: Plan): Checked {
  const problems: PlanProblem[] = [];
  const wishes = wishesOf(plan);
  const rules = judgedRules(plan, wishes);
  problems.push(...rules.flatMap((judged) => looserThan(plan, judged)));
  problems.push(...disagreeing(plan), ...slipsOfReadings(plan));
  const judged = [...rules, ...sized(plan), ...standingAlone(plan, wishes)];
  const accepts = new AcceptBook(
    plan,
    judged.filter(({ draft }) => draft.kind !== 'expect').map(({ draft }) => draft.id),
  );
  const cells = cellsOf(plan, judged);
  const laid = judged.map((one, at) => (one.draft.kind === 'expect' ? cells[at]! : accepts.lay(one, cells[at]!)));
  problems.push(...accepts.problems());
  const causes = once(() => causesOf(plan, findingsAmong(judged, laid)));
  const checks = judged.map((one, at) => conclude(plan, one, laid[at]!, causes));
  problems.push(...aboutInstruments(plan, checks));
  return { checks, causes, toMeasure: once(() => toMeasure(plan, judged, laid)), problems };
}

function findingsAmong(
  judged: readonly Judged[],
  laid: readonly (readonly CheckCell[])[],
): Parameters<typeof causesOf>[1] {
  const findings = judged.map((one, at) => ({
    judged: one,
    id: one.draft.id,
    cells: laid[at]!.flatMap(({ state }, cell) => (state === 'out-of-limits' || state === 'at-risk' ? [cell] : [])),
  }));
  return findings.filter(({ cells }) => cells.length > 0);
}

function sized(plan: Plan): readonly Judged[] {
  return toSizeChecks(plan).map(({ draft, axes, question, trace }) => ({
    draft,
    axes,
    trace,
    exprs: [],
    settled: true,
    verdicts: Array.from(question.value.data, (_, cell) => verdictOf(question, axes, cell)),
    asked: Array.from(question.value.data, () => [{ question, replaced: null }]),
  }));
}

/** What no rule took over. */
function standingAlone(plan: Plan, wishes: readonly Wish[]): readonly Judged[] {
  return expectsOf(plan).flatMap(({ expect }) => {
    const own = wishes.filter((wish) => wish.expect === expect);
    const left = own.filter((wish) => wish.spent.includes(0));
    if (left.length === 0 && expect.demand.flag === null) return [];
    const spent = new Map(left.map((wish) => [wish.comparison, wish]));
    return [
      judge(
        plan,
        draftOfExpect(
          expect,
          left.map((wish) => wish.comparison),
          spent,
        ),
        [],
      ),
    ];
  });
}

/** Which accepts found their check, and which had anything to do. */
class AcceptBook {
  private readonly plan: Plan;
  private readonly all: readonly AcceptGiven[];
  private readonly found = new Set<AcceptGiven>();
  private readonly used = new Set<AcceptGiven>();
  private readonly slips: PlanProblem[] = [];
  private readonly ids: readonly string[];

  constructor(plan: Plan, ids: readonly string[]) {
    this.plan = plan;
    this.ids = ids;
    this.all = acceptsOf(plan);
  }

  lay({ draft, axes }: Judged, cells: readonly CheckCell[]): readonly CheckCell[] {
    const here = this.all.filter((accept) => accept.rule === draft.id);
    if (here.length === 0) return cells;
    for (const accept of here) this.found.add(accept);
    const laid = accepted(this.plan, draft.id, axes, cells, here);
    for (const accept of laid.used) this.used.add(accept);
    this.slips.push(...laid.problems);
    return laid.cells;
  }

  problems(): readonly PlanProblem[] {
    // what a base accepts is said of the base: here it may be as it will
    const own = this.all.filter((accept) => this.plan.binding.accepts.includes(accept));
    const lost = own.filter((accept) => !this.found.has(accept)).map((accept) => noSuchCheck(accept, this.ids));
    const idle = own.filter((accept) => this.found.has(accept) && !this.used.has(accept)).map(notNeeded);
    return [...this.slips, ...lost, ...idle];
  }
}
