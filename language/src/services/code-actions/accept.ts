// Living with a deviation: a line that accepts it inside limits that just hold it, with a place for the reason.
import { fixed } from '@thou/shared/number/format';
import { blockRootOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { showingOfCheck, subject } from '../../report/check-words.ts';
import { inUnit, type Showing } from '../../report/units.ts';
import { placeName } from '../../semantics/plan/axes.ts';
import type { CheckCell, CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { insertion, offsetOf, type Edit } from './edit.ts';

export interface Accepting {
  readonly title: string;
  readonly edits: readonly Edit[];
}

const mostLines = 8;

/** Null for what the build itself expects: that is changed, not accepted. */
export function acceptingOf(outcome: Outcome, source: SourceFile, check: CheckOutcome): Accepting | null {
  const item = outcome.binding.origin.at as ast.Build | ast.Variant;
  if (check.kind === 'expect' || outcome.binding.origin.uri !== source.uri || !item.body?.$cstNode) return null;
  const bad = check.cells.filter(({ state }) => state === 'out-of-limits' || state === 'at-risk');
  const showing = showingOfCheck(outcome, check);
  const lines = bad.flatMap((cell) => {
    const within = limitsRound(cell, showing);
    return within === null ? [] : [`accept ${check.id}${keys(check, cell)} within ${within} because "reason"`];
  });
  if (lines.length === 0 || lines.length !== bad.length || lines.length > mostLines) return null;
  const { body } = item;
  const last = body.members.filter(({ $cstNode }) => $cstNode !== undefined).at(-1) ?? null;
  const base = offsetOf(source, blockRootOf(body));
  return {
    title: `Accept ${subject(check)} as it is, with a reason`,
    edits: [insertion(source, base, body, last, lines)],
  };
}

function keys({ axes }: CheckOutcome, { places }: CheckCell): string {
  return axes.length === 0 ? '' : `[${places.map((place, at) => placeName(axes[at]!, place)).join(', ')}]`;
}

/** Limits that reach to the figure: one side where only one is passed, both where it is inside and not sure. */
function limitsRound({ value, low, high }: CheckCell, showing: Showing): string | null {
  if (value === null) return null;
  const unit = showing.unit === null ? '' : ` ${showing.unit.symbol}`;
  const written = (si: number, way: -1 | 0 | 1): string => outwards(inUnit(si, showing), showing.decimals ?? 4, way);
  if (low !== null && value < low) return `>= ${written(value, -1)}${unit}`;
  if (high !== null && value > high) return `<= ${written(value, 1)}${unit}`;
  if (low !== null && high !== null) return `${written(low, -1)}..${written(high, 1)}${unit}`;
  if (low !== null) return `>= ${written(low, -1)}${unit}`;
  return high === null ? null : `<= ${written(high, 1)}${unit}`;
}

function outwards(value: number, decimals: number, way: -1 | 0 | 1): string {
  const marks = value * 10 ** decimals;
  const whole =
    Math.abs(marks - Math.round(marks)) < 1e-6 ? Math.round(marks) : way < 0 ? Math.floor(marks) : Math.ceil(marks);
  return fixed(whole / 10 ** decimals, decimals);
}
