/** How many blanks stand between two words of one line. Knows words and signs only, nothing of lines or indentation. */
import { nameOf, type Token } from '../grammar/tokens.ts';
import { ENDS_VALUE } from '../grammar/heads.ts';

const SPACED: ReadonlySet<string> = new Set(['+', '±', '+-', '=', '==', '!=', '<', '>', '<=', '>=', '|', '->', '-']);
/** Written close in a type, with blanks in a formula: as the writer had it. */
const AS_WRITTEN: ReadonlySet<string> = new Set(['*', '/', '^']);

export interface Neighbours {
  readonly before: Token;
  readonly token: Token;
  /** The word before `before`, which tells a sign from a subtraction. */
  readonly earlier: Token | undefined;
  readonly next: Token | undefined;
  /** A new member begins at `token`, without a comma. */
  readonly newMember: boolean;
}

/** The blanks between `before` and `token`. */
export function blanksBetween({ before, token, earlier, next, newMember }: Neighbours): string {
  if (newMember) return '   ';
  const [left, right] = [nameOf(before), nameOf(token)];
  if (right === ',' || right === ':' || right === '?' || right === ')' || right === ']') return '';
  if (left === '(' || left === '[') return '';
  if (right === '.' || left === '.' || right === '..' || left === '..') return '';
  if (AS_WRITTEN.has(right)) return close(before, token) && close(token, next) ? '' : ' ';
  if (AS_WRITTEN.has(left)) return close(earlier, before) && close(before, token) ? '' : ' ';
  if (left === '-' && !endsValue(earlier)) return '';
  if (SPACED.has(left) || SPACED.has(right)) return ' ';
  if (right === '(') return left === 'ID' ? '' : ' ';
  if (right === '[') return left === 'ID' || left === ')' || left === ']' ? '' : ' ';
  if (right === 'UNIT' && /^[%°]/.test(token.image) && close(before, token)) return '';
  return ' ';
}

function endsValue(token: Token | undefined): boolean {
  return ENDS_VALUE.has(nameOf(token));
}

function close(left: Token | undefined, right: Token | undefined): boolean {
  return left !== undefined && right !== undefined && left.startOffset + left.image.length === right.startOffset;
}
