/** What one check comes to: its state, whose limit spoke, which figures it rests on. What is shown of it is looked up when somebody asks. */
import { Mark } from '../evaluate/value.ts';
import type { Cause, CheckCell, CheckOutcome, Severity } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Judged } from './judge.ts';
import { once } from '../once.ts';
import { blameFor, limitFrom } from './speakers.ts';
import { worstState } from './verdict.ts';

export function conclude(
  plan: Plan,
  judged: Judged,
  cells: readonly CheckCell[],
  causes: () => readonly Cause[],
): CheckOutcome {
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
  const blame = once(() => (worst < 0 || !finding ? [] : blameFor(plan, judged, worst)));
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
    get limitFrom() {
      return worst < 0 ? null : limitFrom(plan, speaking, asked?.question.comparison ?? null, axes, worst);
    },
    origin: draft.origin,
    get blame() {
      return blame();
    },
    get cause() {
      return finding ? (causes().find(({ checks }) => checks.includes(draft.id))?.id ?? null) : null;
    },
  };
}

/** A risk is a hint while something can still be measured and it stands inside; what cannot be told is one as well. */
function severityOf(judged: Judged, state: CheckOutcome['state'], worst: number): Severity {
  if (state === 'cannot-tell') return 'hint';
  if (state !== 'at-risk') return judged.draft.severity;
  const { value, low, high, mark } = judged.verdicts[worst]!;
  const beyond = value !== null && ((low !== null && value < low) || (high !== null && value > high));
  return mark > Mark.measured && !beyond ? 'hint' : 'warning';
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
