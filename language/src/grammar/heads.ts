/** Where a member of a body begins: shared by the separators and the mending of braces. Looks at words only, never further than the line. */
import { memberWords, nameOf, type Token } from './tokens.ts';

/** Ends a value, a type or a body: a name behind it begins something new. */
export const ENDS_VALUE: ReadonlySet<string> = new Set([
  'NUMBER',
  'UNIT',
  'ID',
  'STRING',
  'DATE',
  'MARGIN',
  ']',
  ')',
  '}',
  '?',
  'limits',
]);

/** `path:` or `path {` at `i`; a path may have places in brackets. */
export function headAt(tokens: readonly Token[], i: number): boolean {
  const behind = pathEnd(tokens, i);
  return behind > i && (nameOf(tokens[behind]) === ':' || nameOf(tokens[behind]) === '{');
}

/** The place behind the path at `i`, or `i` where none begins. */
export function pathEnd(tokens: readonly Token[], i: number): number {
  let at = i;
  for (;;) {
    if (nameOf(tokens[at]) !== 'ID') return i;
    at += 1;
    if (nameOf(tokens[at]) === '[') at = behindBracket(tokens, at);
    if (nameOf(tokens[at]) !== '.') return at;
    at += 1;
  }
}

function behindBracket(tokens: readonly Token[], open: number): number {
  let depth = 0;
  for (let at = open; at < tokens.length; at += 1) {
    const name = nameOf(tokens[at]);
    if (name === 'SEP' || name === '{' || name === '}') return at;
    if (name === '[') depth += 1;
    else if (name === ']' && --depth === 0) return at + 1;
  }
  return tokens.length;
}

/** A word that begins a member; `measured (` is the view and `measured by` a feature of a property. */
export function memberWordAt(tokens: readonly Token[], i: number): boolean {
  const name = nameOf(tokens[i]);
  if (name === 'measured') return nameOf(tokens[i + 1]) !== '(' && !measuredBy(tokens, i);
  return memberWords.has(name);
}

/** `measured by FORMULA`; `measured by "A. H."` is the head of a block. */
export function measuredBy(tokens: readonly Token[], i: number): boolean {
  return nameOf(tokens[i]) === 'measured' && nameOf(tokens[i + 1]) === 'by' && nameOf(tokens[i + 2]) !== 'STRING';
}

export function startsMember(tokens: readonly Token[], i: number): boolean {
  return memberWordAt(tokens, i) || headAt(tokens, i);
}

/** The next word that is no new line, from `i` on. */
export function behindNewLines(tokens: readonly Token[], i: number): number {
  let at = i;
  while (nameOf(tokens[at]) === 'SEP') at += 1;
  return at;
}
