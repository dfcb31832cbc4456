// What a check is about, in words: its subject, its state, the unit and the decimals in which it is told.
import type { CheckCell, CheckOutcome, CheckState, Outcome } from '../semantics/plan/outcome.ts';
import type { Comparison } from '../semantics/schema/schema.ts';
import { textOf, words } from './place.ts';
import { unitsWritten } from './typed.ts';
import { inUnit, numberText, showingOfFormula, showingsIn, showingsOf } from './units.ts';
import type { Showing } from './units.ts';

export const stateWords: Readonly<Record<CheckState, string>> = {
  'holds-measured': 'holds, measured',
  'holds-on-paper': 'holds on paper',
  'at-risk': 'at risk',
  'out-of-limits': 'out of limits',
  accepted: 'accepted',
  'cannot-tell': 'cannot tell',
  'not-applicable': 'not applicable',
};

/** In the unit in which somebody wrote the limits for this job, where the figure is shown in it. */
export function showingOfCheck(outcome: Outcome, check: CheckOutcome): Showing {
  if (!check.slot) return declaredShowing(outcome, check);
  const showings = showingsIn(outcome, check.slot);
  const own = check.limitFrom && !fromLibrary.has(check.limitFrom.layer);
  const written = own ? unitsWritten(check.limitFrom?.origin?.at)?.unit : undefined;
  return showings.find(({ unit }) => unit?.symbol === written) ?? showings[0]!;
}

const fromLibrary: ReadonlySet<string> = new Set(['default', 'mount-default', 'rule']);

export function declaredShowing(outcome: Outcome, check: CheckOutcome): Showing {
  if (check.slot) return showingsOf(check.slot)[0]!;
  const [first] = comparisons(check);
  return first ? showingOfFormula(first.value, outcome.binding.schema) : { unit: null, decimals: null };
}

function comparisons(check: CheckOutcome): readonly Comparison[] {
  return (check.expect ?? check.rule)?.demand.comparisons ?? [];
}

/** What is checked, in words: the figure, else what was written, else the rule's name. */
export function subject(check: CheckOutcome): string {
  if (check.slot) return pathWords(check.slot.path);
  const written = textOf(comparisons(check)[0]?.value.at);
  return written ?? words(check.rule?.name ?? check.id);
}

/** `plate.pin.mass` is `plate pin mass`. */
export function pathWords(path: string): string {
  return path.split('.').map(words).join(' ');
}

/** As many decimals as it takes to see on which side of its limit a figure lies, and how far. */
export function fineEnough(cell: CheckCell, showing: Showing): Showing {
  if (cell.value === null || showing.decimals === null) return showing;
  const away = Math.abs(inUnit(outside(cell), showing, 'difference'));
  const value = inUnit(cell.value, showing);
  for (let decimals = showing.decimals; decimals < showing.decimals + 3; decimals++) {
    if (Math.abs(Number(numberText(value, { ...showing, decimals })) - value) <= away / 40)
      return { ...showing, decimals };
  }
  return showing;
}

/** How far a figure lies outside its limits, in SI; negative inside. */
function outside({ value, low, high }: CheckCell): number {
  if (value === null) return -Infinity;
  return Math.max(low === null ? -Infinity : low - value, high === null ? -Infinity : value - high);
}

export function worstOf(cells: readonly CheckCell[]): CheckCell | null {
  return cells.reduce<CheckCell | null>(
    (worst, cell) => (worst && outside(worst) >= outside(cell) ? worst : cell),
    null,
  );
}
