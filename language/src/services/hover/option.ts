/** A word among the arguments of a function that chooses how it works, and the values that the language itself brings. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { builtinOptions, builtinValues } from '../../semantics/types/builtins.ts';
import type { Piece } from './page.ts';

/** Nothing where it is no such word. What else bears the name does not count there, as it does not when it is read. */
export function optionPieces(node: AstNode): Piece[] {
  if (node.$type !== 'RefStep') return [];
  const { name, $container: ref } = node as ast.RefStep;
  const call = ref.$container;
  if (ref.steps.length !== 1 || call.$type !== 'Call') return [];
  const called = (call.$container as ast.RefStep).name;
  const options = builtinOptions.get(called);
  const told = options?.words.get(name);
  if (!options || told === undefined || (call as ast.Call).args[options.argument] !== ref) return [];
  const others = [...options.words.keys()].filter((word) => word !== name);
  const [usual] = options.words.keys();
  return [
    { is: 'head', name, rest: `chooses how ${called}(…) works` },
    { is: 'text', text: told },
    { is: 'text', text: `Else: ${others.join(', ')}. Where none is written: ${usual}.` },
  ];
}

export function valuePieces(name: string): Piece[] {
  const told = builtinValues.get(name);
  return told === undefined
    ? []
    : [
        { is: 'head', name, rest: 'a word of the language' },
        { is: 'text', text: told },
      ];
}
