/**
 * Judgements from before an edit that touched nothing under them: they stand, and so does what was found out about them.
 * A rule whose limits a build replaces is judged anew each time, since the figures it is judged by stand in new text.
 */
import type { CheckCell, MissingInput } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { SlotId } from '../ir.ts';
import type { SchemaRule } from '../schema/schema.ts';
import { draftOfRule } from './draft.ts';
import type { Wish } from './expects.ts';
import { judge, ofNothing } from './judge.ts';
import type { Judged } from './judge.ts';

const books = new WeakMap<Plan, ReadonlyMap<SchemaRule, Judged>>();

/** Every rule, judged in this plan. */
export function judgedRules(plan: Plan, wishes: readonly Wish[]): readonly Judged[] {
  const wished = new Set(wishes.flatMap(({ cells }) => (cells === null ? [] : [cells.slot])));
  const before = plan.before === null ? undefined : books.get(plan.before);
  const book = new Map<SchemaRule, Judged>();
  for (const rule of plan.schema.rules) {
    if (plan.given.absent.has(rule.mount)) {
      book.set(rule, ofNothing(draftOfRule(rule)));
      continue;
    }
    const known = speaksOf(rule, wished) ? undefined : before?.get(rule);
    const stands = known !== undefined && isKeepable(known) && plan.sameBefore(known.trace) !== null;
    book.set(rule, stands ? known : judge(plan, draftOfRule(rule), wishes));
  }
  books.set(plan, book);
  return [...book.values()];
}

function speaksOf(rule: SchemaRule, wished: ReadonlySet<SlotId>): boolean {
  return rule.demand.comparisons.some(({ slot }) => slot !== null && wished.has(slot));
}

/** Nothing in it stands in the text of a build, and nothing was objected to. */
function isKeepable({ asked, settled }: Judged): boolean {
  return settled && asked.every((cell) => cell.every(({ replaced }) => replaced === null));
}

/** What was found out about a judgement: kept as long as it stands. */
export interface Findings {
  cells?: readonly CheckCell[];
  unmeasured?: { readonly of: string; readonly inputs: readonly MissingInput[] };
  restsOn?: {
    readonly of: number;
    readonly figures: readonly { readonly slot: SlotId; readonly cell: number; readonly speaker: number }[];
  };
}

const found = new WeakMap<Judged, Findings>();

export function findingsAbout(judged: Judged): Findings {
  const known = found.get(judged) ?? {};
  found.set(judged, known);
  return known;
}
