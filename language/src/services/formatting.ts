/**
 * Laying a file out, or some of its lines: the edits that lead from the text to what format/ makes of it, each of them blanks between two words.
 * A text that format/ refuses is left as it is.
 */
import {
  DocumentFormattingRequest,
  DocumentRangeFormattingRequest,
  type Range,
  type TextEdit,
} from 'vscode-languageserver-protocol';
import { format } from '../format/format.ts';
import { contentOf } from '../format/pieces.ts';
import { scan } from '../grammar/scanner.ts';
import { endOf } from '../grammar/tokens.ts';
import { toOffset, toRange } from './positions.ts';
import { request, type Asked, type Feature } from './feature.ts';
import type { Workspace } from './workspace.ts';

/** Null where the file is not there or is refused. */
export function formatting(workspace: Workspace, uri: string): TextEdit[] | null {
  const text = workspace.source(uri)?.text;
  const edits = text === undefined ? null : editsOf(text);
  return edits === null ? null : shown(workspace, uri, edits);
}

/** Whole lines: those that the range touches. */
export function rangeFormatting(workspace: Workspace, uri: string, range: Range): TextEdit[] | null {
  const text = workspace.source(uri)?.text;
  const edits = text === undefined ? null : editsOf(text);
  if (text === undefined || edits === null) return null;
  const positions = workspace.positionsOf(uri);
  // a range that ends at the left edge does not touch that line
  const last = range.end.character === 0 && range.end.line > range.start.line ? range.end.line - 1 : range.end.line;
  const from = toOffset(positions, { line: range.start.line, character: 0 });
  const to = last + 1 < positions.lineCount ? toOffset(positions, { line: last + 1, character: 0 }) : text.length;
  const inside = edits.filter(({ start, end, text: blanks }) => {
    const anchor = /[\r\n]/.test(text.slice(start, end) + blanks) ? end : start;
    return anchor >= from && (anchor < to || (anchor === to && to === text.length));
  });
  return contentOf(applied(text, inside)) === contentOf(text) ? shown(workspace, uri, inside) : null;
}

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

function editsOf(text: string): Edit[] | null {
  const formatted = format(text);
  if ('refused' in formatted) return null;
  const edits = gapEdits(text, formatted.text);
  return applied(text, edits) === formatted.text ? edits : [{ start: 0, end: text.length, text: formatted.text }];
}

/** Words and comments are the same before and after: only what stands between them differs. */
function gapEdits(before: string, after: string): Edit[] {
  const [old, made] = [piecesIn(before), piecesIn(after)];
  const edits: Edit[] = [];
  for (let i = 0; i <= old.length; i += 1) {
    const [from, to] = [old[i - 1]?.end ?? 0, old[i]?.start ?? before.length];
    const gap = after.slice(made[i - 1]?.end ?? 0, made[i]?.start ?? after.length);
    if (before.slice(from, to) !== gap) edits.push({ start: from, end: to, text: gap });
    const [word, kept] = [old[i], made[i]];
    if (word && kept && before.slice(word.start, word.end) !== after.slice(kept.start, kept.end))
      edits.push({ start: word.start, end: word.end, text: after.slice(kept.start, kept.end) });
  }
  return edits;
}

function piecesIn(text: string): { readonly start: number; readonly end: number }[] {
  const { tokens, comments } = scan(text);
  const words = tokens
    .filter(({ image }) => !/^[\r\n]/.test(image))
    .map((token) => ({ start: token.startOffset, end: endOf(token) }));
  return [...words, ...comments].sort((a, b) => a.start - b.start);
}

function applied(text: string, edits: readonly Edit[]): string {
  let out = '';
  let at = 0;
  for (const edit of edits) {
    out += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return out + text.slice(at);
}

function shown(workspace: Workspace, uri: string, edits: readonly Edit[]): TextEdit[] {
  const positions = workspace.positionsOf(uri);
  return edits.map(({ start, end, text }) => ({ range: toRange(positions, { start, end }), newText: text }));
}

const told = new WeakMap<Workspace, Map<string, string>>();

/** Why a text is left as it is: said once, not at every save, until it can be laid out again or there is another reason. */
function tellWhy(uri: string, { workspace, tell }: Pick<Asked, 'workspace' | 'tell'>): void {
  const before = told.get(workspace) ?? new Map<string, string>();
  told.set(workspace, before);
  const formatted = format(workspace.source(uri)?.text ?? '');
  if (!('refused' in formatted)) before.delete(uri);
  else if (before.get(uri) !== formatted.refused) {
    before.set(uri, formatted.refused);
    tell(`Not laid out: ${formatted.refused}`);
  }
}

export const formattingFeature: Feature = {
  capability: () => ({ documentFormattingProvider: true, documentRangeFormattingProvider: true }),
  requests: [
    request(DocumentFormattingRequest.type, async ({ textDocument }, asked) => {
      if (!(await asked.settings(textDocument.uri))['formatting.enabled']) return null;
      tellWhy(textDocument.uri, asked);
      return formatting(asked.workspace, textDocument.uri);
    }),
    request(DocumentRangeFormattingRequest.type, async ({ textDocument, range }, asked) => {
      if (!(await asked.settings(textDocument.uri))['formatting.enabled']) return null;
      tellWhy(textDocument.uri, asked);
      return rangeFormatting(asked.workspace, textDocument.uri, range);
    }),
  ],
};
