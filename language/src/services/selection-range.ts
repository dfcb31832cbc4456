/** Growing a selection: from a word over its value, its statement and its body to the file. Works on half-typed text: brackets go by words, the rest by the tree. */
import { SelectionRangeRequest, type Position, type SelectionRange } from 'vscode-languageserver-protocol';
import { nodesIn, rangeOf, type Block, type SourceFile } from '../grammar/file.ts';
import { scan } from '../grammar/scanner.ts';
import { endOf, nameOf } from '../grammar/tokens.ts';
import { toOffset, toRange } from './positions.ts';
import { request, type Feature } from './feature.ts';
import type { Workspace } from './workspace.ts';

interface Span {
  readonly start: number;
  readonly end: number;
}

/** One for each position, as the protocol asks. */
export function selectionRanges(
  workspace: Workspace,
  uri: string,
  places: readonly Position[],
): SelectionRange[] | null {
  const source = workspace.source(uri);
  if (source === undefined) return null;
  const positions = workspace.positionsOf(uri);
  return places.map((place) => {
    const spans = spansRound(source, toOffset(positions, place));
    let grown: SelectionRange | undefined;
    for (const { start, end } of spans.toReversed())
      grown = grown
        ? { range: toRange(positions, { start, end }), parent: grown }
        : { range: toRange(positions, { start: start, end: end }) };
    return grown ?? { range: toRange(positions, { start: 0, end: source.text.length }) };
  });
}

/** Smallest first, each inside the next, the whole file last. */
function spansRound({ text, blocks }: SourceFile, offset: number): Span[] {
  const block = blocks.findLast((one) => one.offset <= offset);
  const found = block ? spansInBlock(block, offset) : [];
  const spans = [...found, { start: 0, end: text.length }].filter(({ start, end }) => start <= offset && offset <= end);
  spans.sort((a, b) => a.end - a.start - (b.end - b.start));
  const nested: Span[] = [];
  for (const span of spans) {
    const inner = nested.at(-1);
    if (!inner) nested.push(span);
    else if (span.start <= inner.start && inner.end <= span.end && span.end - span.start > inner.end - inner.start)
      nested.push(span);
  }
  return nested;
}

function spansInBlock({ offset: base, parsed }: Block, offset: number): Span[] {
  const spans: Span[] = [...spansOfWords(parsed.text)];
  const written = parsed.text.trimEnd().length;
  spans.push({ start: 0, end: written });
  if (parsed.item) for (const node of [parsed.item, ...nodesIn(parsed.item)]) spans.push(rangeOf(node));
  return spans
    .map(({ start, end }) => ({ start: base + start, end: base + end }))
    .filter(({ start, end }) => start <= offset && offset <= end && end > start);
}

function spansOfWords(text: string): Span[] {
  const { tokens, comments } = scan(text);
  const spans: Span[] = [...comments];
  const open: number[] = [];
  for (const token of tokens) {
    const name = nameOf(token);
    if (name === 'SEP') continue;
    const [start, end] = [token.startOffset, endOf(token)];
    spans.push({ start, end });
    if (name === 'STRING' && token.image.length > 2) spans.push({ start: start + 1, end: end - 1 });
    if (name === '{' || name === '[' || name === '(') open.push(start);
    else if (name === '}' || name === ']' || name === ')') {
      const from = open.pop();
      if (from !== undefined) spans.push({ start: from, end }, { start: from + 1, end: start });
    }
  }
  return spans;
}

export const selectionRangeFeature: Feature = {
  capability: () => ({ selectionRangeProvider: true }),
  requests: [
    request(SelectionRangeRequest.type, ({ textDocument, positions }, { workspace }) =>
      selectionRanges(workspace, textDocument.uri, positions),
    ),
  ],
};
