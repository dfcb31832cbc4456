// Which figure of a build a line of its text gives: looked up where the line was read with a figure in it.
import type { AstNode } from 'langium';
import { blockRootOf, nodesIn, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Axis } from '../../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { FileResult } from '../../semantics/project.ts';

export interface FigurePlace {
  readonly outcome: Outcome;
  readonly one: SlotOutcome;
  /** Axes along which the line still says something: those that it does not name a place on. */
  readonly free: readonly Axis[];
}

/** The innermost line `name: value` round an offset of a file. */
export function givenRound(source: SourceFile, offset: number): ast.Given | null {
  const block = source.blocks.findLast((one) => one.offset <= offset);
  if (!block?.parsed.item) return null;
  let found: ast.Given | null = null;
  for (const node of nodesIn(block.parsed.item)) {
    if (node.$type !== 'Given' || (node as ast.Given).body) continue;
    const { start, end } = rangeOf(node);
    if (block.offset + start <= offset && offset <= block.offset + end) found = node as ast.Given;
  }
  return found;
}

/** What that line gives, in a result of a text that begins with the same words. */
export function placeOfGiven({ outcomes, uri }: FileResult, given: ast.Given): FigurePlace | null {
  for (const outcome of outcomes) {
    if (outcome.binding.origin.uri !== uri) continue;
    const assignment = outcome.binding.assignments.find(
      ({ origin }) => origin.uri === uri && isSameLine(origin.at, given),
    );
    const one = assignment && outcome.slots[assignment.slot];
    if (!assignment || !one) continue;
    const named = new Set(assignment.selector.map(({ axis }) => axis));
    return { outcome, one, free: one.axes.filter(({ id }) => !named.has(id)) };
  }
  return null;
}

function isSameLine(at: AstNode, given: ast.Given): boolean {
  if (at.$type !== 'Given') return false;
  const [own, other] = [blockRootOf(at).text, blockRootOf(given).text];
  const { start } = rangeOf(given);
  return rangeOf(at).start === start && own.slice(0, start) === other.slice(0, start);
}
