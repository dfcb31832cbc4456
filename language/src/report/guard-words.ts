// What the decision rule leaves of the limits, in words: how wide the guard bands are, what surely holds, what is surely out.
import { fixed } from '@thou/shared/number/format';
import { guardBands, guardFactor, guardRule } from '../semantics/certainty/decision.ts';
import type { CheckCell, CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import { planBuild } from '../semantics/plan/run.ts';
import { showingOfCheck } from './check-words.ts';
import { unitText, withUnit, wordOf } from './figures.ts';
import { inUnit, numberText } from './units.ts';
import type { Showing } from './units.ts';

/** `0.051 g (1.65 standard uncertainties, iso-14253-1-2017); surely inside -0.449..0.449 g, surely out beyond -0.551..0.551 g`; empty where all is sure. */
export function guardLine(outcome: Outcome, check: CheckOutcome, cell: CheckCell | null): string {
  const guard = cell?.guard ?? null;
  if (cell === null || guard === null) return '';
  const widths = [guard.low, guard.high].filter((width) => width !== null);
  const showing = fineEnough(Math.min(...widths), showingOfCheck(outcome, check));
  const size = (width: number): string =>
    `${fixed(inUnit(width, showing, 'difference'), showing.decimals ?? 0)} ${unitText(showing)}`.trimEnd();
  const texts = new Set(widths.map(size));
  const { accept, reject } = guardBands({ low: cell.low ?? -Infinity, high: cell.high ?? Infinity }, guard);
  const inside =
    accept === null ? 'no figure is surely inside' : `surely inside ${ends(accept, ['from', 'up to'], showing)}`;
  const out = `surely out ${ends(reject, ['under', 'over'], showing, 'beyond ')}`;
  return `${[...texts].join(' below, ')}${texts.size > 1 ? ' above' : ''} (${ruleText(outcome)}); ${inside}, ${out}`;
}

function ends(
  { low, high }: { readonly low: number; readonly high: number },
  [from, to]: readonly [string, string],
  showing: Showing,
  both = '',
): string {
  if (low === -Infinity) return `${to} ${withUnit(high, showing)}`;
  if (high === Infinity) return `${from} ${withUnit(low, showing)}`;
  return `${both}${numberText(inUnit(low, showing), showing)}..${withUnit(high, showing)}`;
}

const mostDecimals = 9;

/** So many decimals that a width is told to about a tenth of itself. */
function fineEnough(width: number, showing: Showing): Showing {
  const shown = inUnit(width, showing, 'difference');
  let decimals = showing.decimals ?? 0;
  while (decimals < mostDecimals && Math.abs(Number(fixed(shown, decimals)) - shown) > 0.1 * shown) decimals++;
  return { ...showing, decimals };
}

function ruleText(outcome: Outcome): string {
  const plan = planBuild(outcome.binding, undefined, outcome.texts);
  const factor = `${fixed(guardFactor(plan), 2).replace(/\.?0+$/, '')} standard uncertainties`;
  const slot = guardRule(plan);
  const chosen = slot === null ? null : outcome.slots[slot]!;
  const value = chosen?.views.measured;
  const name = value?.is === 'numbers' ? wordOf(outcome, chosen!, value.tensor.data[0]!) : null;
  return name === null ? factor : `${factor}, ${name}`;
}
