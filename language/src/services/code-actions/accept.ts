// Living with a deviation: a line that accepts it inside limits that just hold it, with a place for the reason.
import { blockRootOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { checkAt, limitsToAccept } from '../../report/accepting.ts';
import { subject } from '../../report/check-words.ts';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { insertion, offsetOf, type Edit } from './edit.ts';

export interface Accepting {
  readonly title: string;
  readonly edits: readonly Edit[];
}

const mostLines = 8;

/** Null for what the build itself expects: that is changed, not accepted. */
export function acceptingOf(
  outcome: Outcome,
  source: SourceFile,
  check: CheckOutcome,
  isOneOfSeveral: boolean,
): Accepting | null {
  const item = outcome.binding.origin.at as ast.Build | ast.Variant;
  if (check.kind === 'expect' || outcome.binding.origin.uri !== source.uri || !item.body?.$cstNode) return null;
  const bad = check.cells.filter(({ state }) => state === 'out-of-limits' || state === 'at-risk');
  const lines = bad.flatMap((cell) => {
    const within = limitsToAccept(outcome, check, cell);
    return within === null ? [] : [`accept ${checkAt(check, cell)} within ${within} because "reason"`];
  });
  if (lines.length === 0 || lines.length !== bad.length || lines.length > mostLines) return null;
  const { body } = item;
  const last = body.members.filter(({ $cstNode }) => $cstNode !== undefined).at(-1) ?? null;
  const base = offsetOf(source, blockRootOf(body));
  return {
    title: `Accept ${subject(check)} as it is${isOneOfSeveral ? ` in ${outcome.binding.name}` : ''}, with a reason`,
    edits: [insertion(source, base, body, last, lines)],
  };
}
