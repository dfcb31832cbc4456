/** Places in a text as lines and columns, both from 0, columns in UTF-16 units; \n, \r\n and a lone \r end a line. */

export interface Position {
  readonly line: number;
  readonly column: number;
}
export interface Positions {
  at(offset: number): Position;
  /** The offset of a place; one behind the end of its line is taken as the end of the line. */
  offset(position: Position): number;
  readonly lineCount: number;
}

export function positions(text: string): Positions {
  const starts = lineStarts(text);
  const lineOf = (offset: number): number => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  return {
    lineCount: starts.length,
    at(offset) {
      const inside = Math.max(0, Math.min(offset, text.length));
      const line = lineOf(inside);
      return { line, column: inside - (starts[line] ?? 0) };
    },
    offset({ line, column }) {
      if (line < 0) return 0;
      const start = starts[line];
      if (start === undefined) return text.length;
      const next = starts[line + 1];
      return Math.max(start, Math.min(start + column, next === undefined ? text.length : next - lineBreak(text, next)));
    },
  };
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
  }
  return starts;
}

/** How many characters end the line before `next`. */
function lineBreak(text: string, next: number): number {
  return text.startsWith('\r\n', next - 2) ? 2 : 1;
}

/** Where the line begins that `offset` stands in; looks no further back than that line, or than `least`. */
export function lineStart(text: string, offset: number, least = 0): number {
  let at = offset;
  while (at > least && !isLineBreak(text.charCodeAt(at - 1))) at -= 1;
  return at;
}

/** Where the line ends that `offset` stands in: before its line break. */
export function lineEnd(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && !isLineBreak(text.charCodeAt(at))) at += 1;
  return at;
}

/** The place behind the last word of the line above the one that begins at `start`: before its line break. */
export function lineAboveEnd(text: string, start: number): number {
  return start - lineBreak(text, start);
}

function isLineBreak(code: number): boolean {
  return code === 10 || code === 13;
}
