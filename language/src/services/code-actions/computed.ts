// Writes the figure that a given formula comes to in the place of the formula.
import { blockRootOf, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { nodeAt, offsetOf, type Edit } from './edit.ts';
import { quantityIn, styleOf } from '../../report/writing.ts';

export interface Computed {
  readonly title: string;
  readonly edits: readonly Edit[];
}

const literals: ReadonlySet<string> = new Set(['Quantity', 'List', 'Text', 'Day', 'FromFile', 'Repeated']);

/** For a line whose value is worked out, such as `was - 0.004 in`, where it comes to one figure. */
export function computedAt(
  source: SourceFile,
  outcomes: readonly Outcome[],
  start: number,
  end: number,
): Computed | null {
  let given: ast.Given | null = null;
  for (let node = nodeAt(source, start, end); node && given === null; node = node.$container)
    if (node.$type === 'Given') given = node as ast.Given;
  if (!given?.value || given.step || literals.has(given.value.$type) || isWrittenBand(given.value)) return null;
  for (const outcome of outcomes) {
    const text = figureFor(outcome, given);
    if (text === null) continue;
    const { start: from, end: to } = rangeOf(given.value);
    const base = offsetOf(source, blockRootOf(given));
    return { title: `Write ${text} in place of the formula`, edits: [{ start: base + from, end: base + to, text }] };
  }
  return null;
}

function isWrittenBand(value: ast.Expr): boolean {
  return value.$type === 'Binary' && ['..', '±', '+-'].includes(value.operator);
}

/** Null where it speaks nowhere, or comes to different figures. */
function figureFor(outcome: Outcome, given: ast.Given): string | null {
  for (const one of outcome.slots) {
    const value = one.views.measured;
    if (one.slot.type.is !== 'measure' || value.is !== 'numbers') continue;
    const cells = [...one.states.keys()].filter((cell) => one.sourceOf(cell, 'measured')?.origin.at === given);
    if (cells.length === 0) continue;
    const style = styleOf(outcome, one.slot.id, cells[0]!);
    const texts = new Set(cells.map((cell) => quantityIn(value.tensor.data[cell]!, style)));
    return texts.size === 1 && Number.isFinite(value.tensor.data[cells[0]!]!) ? [...texts][0]! : null;
  }
  return null;
}
