/** How deep and how long one expression may be: refused here with a message, before the parser could run out of stack. */
import { caps } from '@thou/shared/limits';
import { textError, type TextProblem } from './problem.ts';
import { endOf, nameOf, type Token, wordSet } from './tokens.ts';
import { ENDS_VALUE } from './heads.ts';

const JOINS: ReadonlySet<string> = wordSet(`
  + - * / ± +- .. == != < > <= >= and or otherwise within`);

interface Frame {
  terms: number;
  /** `if`s that are not finished, and signs or powers in a row: each is one level for the parser. */
  inside: number;
  row: number;
}

/** The message for the first bracket that is nested too deep, or null. */
export function nestedTooDeep(tokens: readonly Token[]): TextProblem | null {
  let depth = 0;
  for (const token of tokens) {
    const name = token.tokenType.name;
    if (name === '(' || name === '[' || name === '{') depth += 1;
    else if (name === ')' || name === ']' || name === '}') depth = Math.max(0, depth - 1);
    if (depth > caps.nesting) return tooDeep(token);
  }
  return null;
}

/** The message for the first expression that is nested too deep or too long, or null; brackets match and separators are set. */
export function tooMuch(tokens: readonly Token[]): TextProblem | null {
  const frames: Frame[] = [{ terms: 0, inside: 0, row: 0 }];
  let inside = 0;
  let before = '';
  for (const token of tokens) {
    const name = token.tokenType.name;
    const frame = frames[frames.length - 1] as Frame;
    if (name === '(' || name === '[' || name === '{') frames.push({ terms: 0, inside: 0, row: 0 });
    else if (name === ')' || name === ']' || name === '}') {
      inside -= frame.inside;
      if (frames.length > 1) frames.pop();
    } else if (name === ',' || name === 'SEP') {
      inside -= frame.inside;
      Object.assign(frame, { terms: 0, inside: 0, row: 0 });
    } else if (name === 'if') {
      frame.inside += 1;
      inside += 1;
    } else if (name === '^' || name === 'not' || (JOINS.has(name) && !ENDS_VALUE.has(before))) frame.row += 1;
    else if (JOINS.has(name)) {
      frame.terms += 1;
      frame.row = 0;
    }
    if (frames.length - 1 + inside + frame.row > caps.nesting) return tooDeep(token);
    if (frame.terms >= caps.terms) return tooLong(token);
    before = nameOf(token);
  }
  return null;
}

function tooDeep(token: Token): TextProblem {
  const message = `this is nested more than ${caps.nesting} deep, which is not read: give parts of it names of their own`;
  return textError('syntax.too-deep', message, token.startOffset, endOf(token));
}

function tooLong(token: Token): TextProblem {
  const message = `this has more than ${caps.terms} terms, which is not read: give parts of it names of their own`;
  return textError('syntax.too-long', message, token.startOffset, endOf(token));
}
