// Changes of one text: where a new line of a body goes, and how it is set in. Knows offsets, no figures.
import type { AstNode } from 'langium';
import { fieldAt, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';

export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export function applied(text: string, edits: readonly Edit[]): string {
  const backwards = edits.map((edit, at) => ({ edit, at })).sort((a, b) => b.edit.start - a.edit.start || b.at - a.at);
  return backwards.reduce((now, { edit }) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}

/** Lines to go into a body behind one of its members; at its beginning where it has none. */
export function insertion(
  source: SourceFile,
  base: number,
  body: ast.Body,
  after: ast.Member | null,
  lines: readonly string[],
): Edit {
  const { text } = source;
  const whole = rangeOf(body);
  const [open, close] = [base + whole.start, base + whole.end];
  const isOneLine = !text.slice(open, close).includes('\n');
  if (after === null) {
    const inside = isOneLine
      ? ` ${lines.join(', ')}${text[open + 1] === ' ' ? '' : ' '}`
      : `\n${indentOf(text, open)}  ${lines.join(`\n${indentOf(text, open)}  `)}`;
    return { start: open + 1, end: open + 1, text: inside };
  }
  const range = rangeOf(after);
  const end = base + range.end;
  const lineEnd = endOfLine(text, end);
  const rest = text.slice(end, lineEnd);
  // what else stands on the line, but for a comment, keeps its place
  const isLast = /^[ \t,]*(\/\/[^\n]*)?\r?$/.test(rest);
  if (isOneLine || !isLast)
    return { start: end, end, text: `, ${lines.join(', ')}${/^\s*[}]/.test(rest) ? '' : restSign(rest)}` };
  const at = text[lineEnd - 1] === '\r' ? lineEnd - 1 : lineEnd;
  const newLine = text[lineEnd - 1] === '\r' ? '\r\n' : '\n';
  const indent = indentOf(text, base + range.start);
  return { start: at, end: at, text: lines.map((line) => newLine + indent + line).join('') };
}

/** A further member on the same line is parted from what is put in before it. */
function restSign(rest: string): string {
  return /^\s*(,|\/\/|\/\*|$)/.test(rest) ? '' : ',';
}

function endOfLine(text: string, from: number): number {
  const at = text.indexOf('\n', from);
  return at < 0 ? text.length : at;
}

function indentOf(text: string, at: number): string {
  const start = text.lastIndexOf('\n', at - 1) + 1;
  return /^[ \t]*/.exec(text.slice(start, at))![0];
}

/** Where the block of a tree begins in its file. */
export function offsetOf(source: SourceFile, block: SourceFile['blocks'][number]['parsed']): number {
  return source.blocks.find(({ parsed }) => parsed === block)?.offset ?? 0;
}

/** The innermost piece of the tree that holds both offsets; also right behind a word. */
export function nodeAt(source: SourceFile, start: number, end: number): AstNode | undefined {
  const block = source.blocks.findLast(({ offset }) => offset <= start);
  if (!block) return undefined;
  const found = fieldAt(block.parsed, start - block.offset) ?? fieldAt(block.parsed, start - block.offset - 1);
  for (let node: AstNode | undefined = found?.node; node; node = node.$container)
    if (block.offset + rangeOf(node).end >= end) return node;
  return undefined;
}
