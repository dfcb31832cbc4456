/** What can be folded away: braces and brackets over several lines, entries without braces, comments, regions, runs of `use`. Looks at words only. */
import { FoldingRangeRequest, type FoldingRange } from 'vscode-languageserver-protocol';
import type { SourceFile } from '../grammar/file.ts';
import type { Positions } from '../grammar/positions.ts';
import { scan, type Comment } from '../grammar/scanner.ts';
import { endOf, nameOf } from '../grammar/tokens.ts';
import { request, type Feature } from './feature.ts';
import type { Workspace } from './workspace.ts';

export function foldingRanges(workspace: Workspace, uri: string): FoldingRange[] | null {
  const source = workspace.source(uri);
  if (source === undefined) return null;
  const positions = workspace.positionsOf(uri);
  const folds = [
    ...foldsOfBlocks(source, positions),
    ...foldsOfComments(source, positions),
    ...foldsOfUses(source, positions),
  ];
  return onePerLine(folds.filter(({ startLine, endLine }) => endLine > startLine));
}

function foldsOfBlocks({ blocks }: SourceFile, positions: Positions): FoldingRange[] {
  const folds: FoldingRange[] = [];
  for (const { offset, parsed } of blocks) {
    const lineOf = (at: number): number => positions.at(offset + at).line;
    const words = scan(parsed.text).tokens.filter((token) => nameOf(token) !== 'SEP');
    const [first, last] = [words[0], words.at(-1)];
    const open: number[] = [];
    for (const token of words) {
      const name = nameOf(token);
      if (name === '{' || name === '[' || name === '(') open.push(token.startOffset);
      else if (name === '}' || name === ']' || name === ')') {
        const from = open.pop();
        // the line with the closing sign stays in sight
        if (from !== undefined) folds.push({ startLine: lineOf(from), endLine: lineOf(token.startOffset) - 1 });
      }
    }
    if (first && last && nameOf(last) !== '}')
      folds.push({ startLine: lineOf(first.startOffset), endLine: lineOf(endOf(last)) });
  }
  return folds;
}

interface Remark extends Comment {
  readonly startLine: number;
  readonly endLine: number;
  readonly text: string;
}

function foldsOfComments({ text }: SourceFile, positions: Positions): FoldingRange[] {
  const remarks = scan(text)
    .comments.map((comment): Remark => ({
      ...comment,
      startLine: positions.at(comment.start).line,
      endLine: positions.at(comment.end).line,
      text: text.slice(comment.start, comment.end),
    }))
    .filter(({ start }) => /(?:^|[\r\n])[ \t\uFEFF]*$/.test(text.slice(Math.max(0, start - 200), start)));
  return [...regions(remarks), ...runs(remarks)];
}

const REGION = /^\/\/[ \t]*#region\b/;
const REGION_END = /^\/\/[ \t]*#endregion\b/;

function regions(remarks: readonly Remark[]): FoldingRange[] {
  const folds: FoldingRange[] = [];
  const open: number[] = [];
  for (const { text, startLine } of remarks) {
    if (REGION.test(text)) open.push(startLine);
    else if (REGION_END.test(text)) {
      const from = open.pop();
      if (from !== undefined) folds.push({ startLine: from, endLine: startLine, kind: 'region' });
    }
  }
  return folds;
}

/** Lines of `//` right above each other fold as one. */
function runs(remarks: readonly Remark[]): FoldingRange[] {
  const folds: FoldingRange[] = [];
  for (const { text, startLine, endLine } of remarks) {
    if (REGION.test(text) || REGION_END.test(text)) continue;
    const above = folds.at(-1);
    if (above && text.startsWith('//') && above.endLine === startLine - 1) above.endLine = endLine;
    else folds.push({ startLine, endLine, kind: 'comment' });
  }
  return folds;
}

function foldsOfUses({ blocks }: SourceFile, positions: Positions): FoldingRange[] {
  const folds: FoldingRange[] = [];
  let open: FoldingRange | null = null;
  for (const { offset, parsed } of blocks) {
    if (parsed.item?.$type !== 'Use') {
      open = null;
      continue;
    }
    const word = /^use\b/m.exec(parsed.text)?.index ?? 0;
    const { line } = positions.at(offset + word);
    if (open) open.endLine = line;
    else folds.push((open = { startLine: line, endLine: line, kind: 'imports' }));
  }
  return folds;
}

/** Editors fold by lines: of several that begin on one line the longest is kept. */
function onePerLine(folds: readonly FoldingRange[]): FoldingRange[] {
  const longest = new Map<number, FoldingRange>();
  for (const fold of folds) {
    const known = longest.get(fold.startLine);
    if (!known || known.endLine < fold.endLine) longest.set(fold.startLine, fold);
  }
  return [...longest.values()].sort((a, b) => a.startLine - b.startLine);
}

export const foldingFeature: Feature = {
  capability: () => ({ foldingRangeProvider: true }),
  requests: [
    request(FoldingRangeRequest.type, ({ textDocument }, { workspace }) => foldingRanges(workspace, textDocument.uri)),
  ],
};
