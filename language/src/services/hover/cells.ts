/** Which cells of a figure a word in a text speaks of: the keys behind it, and those of the braces round it. */
import type { AstNode } from 'langium';
import { sourceText } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { locate } from '../../report/locate.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';

/** A place on each axis of the figure; null: all along it. */
export function placesMeant(outcome: Outcome, one: SlotOutcome, word: AstNode): readonly (number | null)[] {
  const keys = keysRound(word);
  const all = one.axes.map(() => null);
  if (keys.length === 0) return all;
  const located = locate(outcome, `${one.slot.path}[${keys.join(', ')}]`);
  return 'problem' in located ? all : located.places;
}

function keysRound(word: AstNode): string[] {
  const keys: string[] = [];
  for (let at: AstNode | undefined = word; at; at = at.$container) {
    if (at.$type === 'RefStep' || at.$type === 'PathStep') {
      const steps: readonly (ast.RefStep | ast.PathStep)[] = (at.$container as ast.Ref | ast.Path).steps;
      const upTo = steps.slice(0, steps.indexOf(at as ast.RefStep) + 1);
      keys.unshift(...upTo.flatMap(keysOf));
      // a name in a formula stands for itself, whatever braces are round it
      if (at.$type === 'RefStep') break;
    } else if (at.$type === 'Given' && at !== word.$container?.$container) {
      keys.unshift(...((at as ast.Given).path?.steps ?? []).flatMap(keysOf));
    }
  }
  return keys;
}

function keysOf({ keys }: ast.RefStep | ast.PathStep): string[] {
  return keys.map((key) => sourceText(key));
}
