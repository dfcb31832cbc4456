/** Which brackets belong together, and whether all of a text do. Knows nothing else about words. */
import type { Token } from './tokens.ts';

/** The closing partner of each opening one. */
export const CLOSER: ReadonlyMap<string, string> = new Map([
  ['{', '}'],
  ['(', ')'],
  ['[', ']'],
]);

/** Opening less closing brackets of each kind, by the opening one: which of two that do not fit is the wrong one. */
export function surpluses(tokens: readonly Token[]): ReadonlyMap<string, number> {
  const surplus = new Map<string, number>();
  for (const { tokenType } of tokens) {
    const { name } = tokenType;
    const opener = name === '}' ? '{' : name === ')' ? '(' : name === ']' ? '[' : null;
    if (opener !== null) surplus.set(opener, (surplus.get(opener) ?? 0) - 1);
    else if (CLOSER.has(name)) surplus.set(name, (surplus.get(name) ?? 0) + 1);
  }
  return surplus;
}

export function bracketsMatch(tokens: readonly Token[]): boolean {
  const open: string[] = [];
  for (const token of tokens) {
    const name = token.tokenType.name;
    if (CLOSER.has(name)) open.push(name);
    else if (name === '}' || name === ')' || name === ']') {
      if (CLOSER.get(open.pop() ?? '') !== name) return false;
    }
  }
  return open.length === 0;
}
