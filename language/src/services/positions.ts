// Between offsets of a text and places as editors count them: line and column from 0, columns in UTF-16 units.
import type { Position, Range } from 'vscode-languageserver-protocol';
import type { Positions } from '../grammar/file.ts';

export function toPosition(positions: Positions, offset: number): Position {
  const { line, column } = positions.at(offset);
  return { line, character: column };
}

export function toRange(positions: Positions, { start, end }: { readonly start: number; readonly end: number }): Range {
  return { start: toPosition(positions, start), end: toPosition(positions, end) };
}

/** A place behind the end of its line is the end of that line; one behind the text is its end. */
export function toOffset(positions: Positions, { line, character }: Position): number {
  return positions.offset({ line, column: character });
}
