/**
 * A file as blocks, each read by itself: after an edit only the blocks whose text changed are read again, with the same result as from scratch.
 * Offsets of a block's tree count from the start of the block; where the block stands is kept outside the tree, so that it may move unread.
 */
import { caps } from '@thou/shared/limits';
import { blockStarts } from './blocks.ts';
import { withOtherFigure } from './figure-edit.ts';
import { parseBlock, type ParsedBlock } from './parser.ts';
import { textError, type TextProblem } from './problem.ts';

export type { ParsedBlock } from './parser.ts';
export type { TextProblem } from './problem.ts';
export { blockRootOf, docOf, fieldAt, isCurrent, isWritten, nodesIn, rangeOf, sourceText } from './places.ts';
export type { Field, Range } from './places.ts';
export { packed } from './packing.ts';
export { unpacked, type ReadyFile } from './ready.ts';
export { positions, type Positions } from './positions.ts';

export interface Block {
  /** Where the block begins in the file. */
  readonly offset: number;
  readonly parsed: ParsedBlock;
}

export interface SourceFile {
  readonly uri: string;
  readonly text: string;
  readonly blocks: readonly Block[];
  /** Every problem of the file and of its blocks, in order; offsets count from the start of the file. */
  readonly problems: readonly TextProblem[];
}

/** Reads a file; blocks of `previous` (the same file before an edit) with equal text are taken over, tree and all. Never throws. */
export function parseFile(uri: string, text: string, previous?: SourceFile): SourceFile {
  return parsed(uri, text, previous, parseBlock);
}

/** As `parseFile` after an edit, but a block with another figure in it is carried on in place: `previous` is used up. */
export function parseOn(previous: SourceFile, text: string): SourceFile {
  return parsed(
    previous.uri,
    text,
    previous,
    (own, before) => (before && withOtherFigure(before, own)) ?? parseBlock(own),
  );
}

/** Reads a text that was not there before; `before`: what stood in its place, which stands nowhere any more. */
type ReadBlock = (text: string, before: ParsedBlock | undefined) => ParsedBlock;

function parsed(uri: string, text: string, previous: SourceFile | undefined, read: ReadBlock): SourceFile {
  const refusal = unreadable(text);
  if (refusal !== null) return { uri, text, blocks: [], problems: [refusal] };
  const conflicts = withoutConflicts(text);
  const blocks = readBlocks(conflicts.text, previous?.uri === uri ? previous : undefined, read);
  return { uri, text, blocks, problems: allProblems(conflicts.problem, blocks) };
}

function readBlocks(text: string, previous: SourceFile | undefined, read: ReadBlock): Block[] {
  const known = new Map<string, ParsedBlock[]>();
  for (const { parsed } of previous?.blocks ?? []) {
    const same = known.get(parsed.text);
    if (same) same.push(parsed);
    else known.set(parsed.text, [parsed]);
  }
  const starts = blockStarts(text, text.startsWith('\uFEFF') ? 1 : 0);
  const texts = starts.map((offset, i) => text.slice(offset, starts[i + 1] ?? text.length));
  // a tree stands for one place: of two blocks with the same text each has its own
  const same = texts.map((own) => known.get(own)?.shift());
  const left = new Set([...known.values()].flat());
  const inPlace = (i: number): ParsedBlock | undefined => {
    const before = starts.length === previous?.blocks.length ? previous.blocks[i]?.parsed : undefined;
    return before && left.has(before) ? before : undefined;
  };
  return texts.map((own, i) => ({ offset: starts[i]!, parsed: same[i] ?? read(own, inPlace(i)) }));
}

function allProblems(first: TextProblem | null, blocks: readonly Block[]): TextProblem[] {
  const problems = first === null ? [] : [first];
  for (const { offset, parsed } of blocks) for (const problem of parsed.problems) problems.push(moved(problem, offset));
  return problems;
}

function moved(problem: TextProblem, by: number): TextProblem {
  const place = { start: problem.start + by, end: problem.end + by };
  if (problem.fix === undefined) return { ...problem, ...place };
  const edits = problem.fix.edits.map((edit) => ({ ...edit, start: edit.start + by, end: edit.end + by }));
  return { ...problem, ...place, fix: { ...problem.fix, edits } };
}

function unreadable(text: string): TextProblem | null {
  if (text.length > caps.fileBytes) {
    return textError(
      'syntax.file-too-large',
      'this file is larger than 2 MB and is not read: split it, and join the parts by use',
      0,
      0,
    );
  }
  const nul = text.indexOf('\0');
  if (nul >= 0) {
    return textError(
      'syntax.not-a-text',
      'this is not a text: it holds a NUL byte, here for the first time. Save it as UTF-8',
      nul,
      nul + 1,
    );
  }
  return null;
}

const CONFLICT = /^<{7}(?= |\r?$)[^\r\n]*$/gm;
const CONFLICT_END = /^>{7}(?= |\r?$)[^\r\n]*$/gm;

/** The text with what stands between merge markers blanked out, so that nothing moves. */
function withoutConflicts(text: string): { text: string; problem: TextProblem | null } {
  let read = '';
  let from = 0;
  let problem: TextProblem | null = null;
  CONFLICT.lastIndex = 0;
  for (let start = CONFLICT.exec(text); start !== null; start = CONFLICT.exec(text)) {
    CONFLICT_END.lastIndex = start.index;
    const end = CONFLICT_END.exec(text) === null ? text.length : CONFLICT_END.lastIndex;
    problem ??= mergeConflict(start.index, start.index + start[0].length);
    read += text.slice(from, start.index) + text.slice(start.index, end).replace(/[^\r\n]/g, ' ');
    from = CONFLICT.lastIndex = end;
  }
  return { text: problem === null ? text : read + text.slice(from), problem };
}

function mergeConflict(start: number, end: number): TextProblem {
  const message =
    'a merge was not finished here: keep one side and delete the lines with <<<<<<<, ======= and >>>>>>>. Until then nothing between them is read';
  return textError('syntax.merge-conflict', message, start, end);
}
