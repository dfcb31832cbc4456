/** All checks of a build: rules, readings against orders, what the build expects; accepted, explained and ordered. */
import { Mark } from '../evaluate/value.ts';
import type { Cause, CheckCell, CheckOutcome, MissingInput, Outcome, PlanProblem, Severity } from '../plan/outcome.ts';
import { placesOf } from '../plan/labels.ts';
import type { Plan } from '../plan/run.ts';
import type { AcceptGiven } from '../bind/binding.ts';
import { accepted, acceptsOf, noSuchCheck, notNeeded } from './accepts.ts';
import { causesOf } from './causes.ts';
import { disagreeing } from './disagreeing.ts';
import { draftOfExpect, draftOfRule } from './draft.ts';
import { expectsOf, wishesOf } from './expects.ts';
import type { Wish } from './expects.ts';
import { judge } from './judge.ts';
import type { Judged } from './judge.ts';
import { looserThan } from './looser.ts';
import { missingUnder, unmeasuredUnder } from './missing.ts';
import type { Start } from './reach.ts';
import { blameFor, limitFrom } from './speakers.ts';
import { toSizeChecks } from './to-size.ts';
import { verdictOf, worstState } from './verdict.ts';

export interface Checked {
  readonly checks: readonly CheckOutcome[];
  readonly causes: readonly Cause[];
  readonly toMeasure: Outcome['toMeasure'];
  readonly problems: readonly PlanProblem[];
}

export function checkBuild(plan: Plan): Checked {
  const problems: PlanProblem[] = [];
  const wishes = wishesOf(plan);
  const rules = plan.schema.rules.map((rule) => judge(plan, draftOfRule(rule), wishes));
  problems.push(...rules.flatMap((judged) => looserThan(plan, judged)));
  problems.push(...disagreeing(plan));
  const judged = [...rules, ...sized(plan), ...standingAlone(plan, wishes)];
  const accepts = new AcceptBook(
    plan,
    judged.filter(({ draft }) => draft.kind !== 'expect').map(({ draft }) => draft.id),
  );
  const missing = missingFor(plan, judged);
  const laid = judged.map((one) => {
    const cells = one.verdicts.map((_, cell) => cellOf(one, cell, missing));
    return one.draft.kind === 'expect' ? cells : accepts.lay(one, cells);
  });
  problems.push(...accepts.problems());
  const findings = judged.map((one, at) => ({
    judged: one,
    id: one.draft.id,
    cells: laid[at]!.flatMap(({ state }, cell) => (state === 'out-of-limits' || state === 'at-risk' ? [cell] : [])),
  }));
  const causes = causesOf(
    plan,
    findings.filter(({ cells }) => cells.length > 0),
  );
  const checks = judged.map((one, at) => outcomeOf(plan, one, laid[at]!, causes));
  return { checks, causes, toMeasure: toMeasure(plan, judged, laid), problems };
}

function sized(plan: Plan): readonly Judged[] {
  return toSizeChecks(plan).map(({ draft, axes, question, trace }) => ({
    draft,
    axes,
    trace,
    exprs: [],
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

type MissingBy = ReadonlyMap<Judged, ReadonlyMap<number, readonly MissingInput[]>>;

/** What is missing, for every cell of every check that cannot be told. */
function missingFor(plan: Plan, judged: readonly Judged[]): MissingBy {
  const open = judged.flatMap((one) =>
    one.verdicts.flatMap(({ state }, cell) => (state === 'cannot-tell' ? [{ one, cell }] : [])),
  );
  const missing = missingUnder(
    plan,
    open.map(({ one, cell }) => startAt(one, [cell])),
  );
  const by = new Map<Judged, Map<number, readonly MissingInput[]>>();
  open.forEach(({ one, cell }, at) => {
    const cells = by.get(one) ?? new Map<number, readonly MissingInput[]>();
    cells.set(cell, missing[at]!);
    by.set(one, cells);
  });
  return by;
}

function cellOf(judged: Judged, cell: number, missing: MissingBy): CheckCell {
  const { state, value, low, high, band } = judged.verdicts[cell]!;
  const inputs = missing.get(judged)?.get(cell) ?? [];
  return { places: placesOf(cell, judged.axes), state, value, low, high, band, missing: inputs, accept: null };
}

function startAt({ trace, exprs, axes, verdicts }: Judged, cells: readonly number[]): Start {
  const mask = new Uint8Array(verdicts.length);
  for (const cell of cells) mask[cell] = 1;
  return { trace, exprs, axes, mask };
}

function outcomeOf(plan: Plan, judged: Judged, cells: readonly CheckCell[], causes: readonly Cause[]): CheckOutcome {
  const { draft, axes } = judged;
  const state = worstState(cells.map((one) => one.state));
  const worst = worstCell(cells, state);
  const asked =
    worst < 0
      ? undefined
      : (judged.asked[worst]!.find((one) => one.question.comparison !== null) ?? judged.asked[worst]![0]);
  const wish =
    asked?.replaced?.by[0] ?? judged.asked.flat().find((one) => one.replaced !== null)?.replaced?.by[0] ?? null;
  const finding = state === 'out-of-limits' || state === 'at-risk';
  const speaking = asked === undefined || asked.replaced === null ? draft : { ...draft, expect: wish!.expect };
  return {
    id: draft.id,
    kind: draft.kind,
    severity: severityOf(judged, state, worst),
    rule: draft.rule,
    expect: draft.expect ?? wish?.expect ?? null,
    slot: draft.slot === null ? null : plan.schema.slots[draft.slot]!,
    axes,
    cells,
    state,
    because: draft.because ?? wish?.expect.because ?? null,
    limitFrom: worst < 0 ? null : limitFrom(plan, speaking, asked?.question.comparison ?? null, axes, worst),
    origin: draft.origin,
    blame: worst < 0 || !finding ? [] : blameFor(plan, startAt(judged, [worst])),
    cause: finding ? (causes.find(({ checks }) => checks.includes(draft.id))?.id ?? null) : null,
  };
}

/** A risk is a hint while something can still be measured; what cannot be told is one as well. */
function severityOf(judged: Judged, state: CheckOutcome['state'], worst: number): Severity {
  if (state === 'cannot-tell') return 'hint';
  if (state !== 'at-risk') return judged.draft.severity;
  return judged.verdicts[worst]!.mark > Mark.measured ? 'hint' : 'warning';
}

/** Of the cells in the worst state the one that is furthest out; -1 where there are no cells. */
function worstCell(cells: readonly CheckCell[], state: CheckOutcome['state']): number {
  const excess = ({ value, low, high }: CheckCell): number =>
    value === null ? 0 : Math.max(low === null ? -Infinity : low - value, high === null ? -Infinity : value - high);
  let worst = -1;
  cells.forEach((one, cell) => {
    if (one.state === state && (worst < 0 || excess(one) > excess(cells[worst]!))) worst = cell;
  });
  return worst;
}

/** Unmeasured or missing cells that checks rest on; those that settle most first. */
function toMeasure(
  plan: Plan,
  judged: readonly Judged[],
  laid: readonly (readonly CheckCell[])[],
): Outcome['toMeasure'] {
  const open = judged.flatMap((one, at) => {
    const cells = laid[at]!.flatMap(({ state }, cell) =>
      state !== 'not-applicable' && state !== 'accepted' && one.verdicts[cell]!.mark > Mark.measured ? [cell] : [],
    );
    return cells.length === 0 ? [] : [{ one, cells }];
  });
  const inputs = unmeasuredUnder(
    plan,
    open.map(({ one, cells }) => startAt(one, cells)),
  );
  const byCell = new Map<string, { readonly input: MissingInput; readonly settles: Set<string> }>();
  open.forEach(({ one }, at) => {
    for (const input of inputs[at]!) {
      const key = `${input.slot} ${input.cell}`;
      const known = byCell.get(key) ?? { input, settles: new Set<string>() };
      known.settles.add(one.draft.id);
      byCell.set(key, known);
    }
  });
  const all = [...byCell.values()].map(({ input, settles }) => ({ input, settles: [...settles] }));
  return all.sort(
    (a, b) => b.settles.length - a.settles.length || a.input.slot - b.input.slot || a.input.cell - b.input.cell,
  );
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
    const lost = this.all.filter((accept) => !this.found.has(accept)).map((accept) => noSuchCheck(accept, this.ids));
    const idle = this.all.filter((accept) => this.found.has(accept) && !this.used.has(accept)).map(notNeeded);
    return [...this.slips, ...lost, ...idle];
  }
}
