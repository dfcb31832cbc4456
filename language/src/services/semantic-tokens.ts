/**
 * Colours by meaning: every name with what it stands for. Words of the language, figures and texts are left to the plain grammar of the editor.
 * The table of sorts is also what the extension's manifest declares.
 */
import {
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
  type Range,
  type SemanticTokens,
} from 'vscode-languageserver-protocol';
import { scan } from '../grammar/scanner.ts';
import { endOf, nameOf } from '../grammar/tokens.ts';
import { request, type Feature } from './feature.ts';
import { meaningOf, wordAt, type Meaning, type Sort } from './meaning.ts';
import { toOffset } from './positions.ts';
import type { Workspace } from './workspace.ts';

interface TokenSort {
  readonly id: string;
  /** What themes know, where they do not know ours. */
  readonly superType: string;
  readonly description: string;
}

/** Sorts of words by what they mean; the order is the protocol's numbering. */
export const tokenSorts: readonly TokenSort[] = [
  { id: 'figure', superType: 'property', description: 'A property that takes a figure' },
  { id: 'derived', superType: 'property', description: 'A value that is computed' },
  { id: 'mount', superType: 'variable', description: 'A place in a build that takes a part' },
  { id: 'partName', superType: 'class', description: 'A part by its name' },
  { id: 'axisName', superType: 'typeParameter', description: 'An axis' },
  { id: 'place', superType: 'enumMember', description: 'A place on an axis, or a choice' },
  { id: 'componentName', superType: 'type', description: 'A component, or a sort of quantity' },
  { id: 'call', superType: 'function', description: 'A function' },
  { id: 'ruleName', superType: 'event', description: 'A rule' },
  { id: 'unitName', superType: 'type', description: 'A unit' },
  { id: 'local', superType: 'parameter', description: 'A name inside one formula' },
  { id: 'buildName', superType: 'class', description: 'A build or a variant' },
];

const tokenModifiers = ['declaration', 'defaultLibrary'] as const;

const sortOf: Readonly<Partial<Record<Sort, string>>> = {
  slot: 'figure',
  mount: 'mount',
  part: 'partName',
  axis: 'axisName',
  label: 'place',
  choice: 'place',
  component: 'componentName',
  measure: 'componentName',
  function: 'call',
  builtin: 'call',
  rule: 'ruleName',
  unit: 'unitName',
  local: 'local',
  build: 'buildName',
};

export function semanticTokens(workspace: Workspace, uri: string, range?: Range): SemanticTokens | null {
  const source = workspace.source(uri);
  if (source === undefined) return null;
  const positions = workspace.positionsOf(uri);
  const [from, to] = range
    ? [toOffset(positions, range.start), toOffset(positions, range.end)]
    : [0, source.text.length];
  const result = workspace.result(uri);
  const data: number[] = [];
  let [line, column] = [0, 0];
  for (const { offset, parsed } of source.blocks) {
    if (offset > to || offset + parsed.text.length < from) continue;
    for (const token of scan(parsed.text).tokens) {
      const [start, end] = [offset + token.startOffset, offset + endOf(token)];
      if (!coloured.has(nameOf(token)) || end < from || start > to) continue;
      const word = wordAt(workspace, uri, start);
      const meaning =
        word?.at.start === start && word.at.end === end ? meaningOf(workspace, result, word.field, word.at) : null;
      const sort = meaning ? numberOf(meaning) : -1;
      if (!meaning || sort < 0) continue;
      const at = positions.at(start);
      data.push(
        at.line - line,
        at.line === line ? at.column - column : at.column,
        end - start,
        sort,
        modifiersOf(meaning, workspace),
      );
      [line, column] = [at.line, at.column];
    }
  }
  return { data };
}

const coloured: ReadonlySet<string> = new Set(['ID', 'UNIT']);

function numberOf({ is, things: [first] }: Meaning): number {
  const isDerived = first?.is === 'slot' && first.draft.slots[first.slot]?.sort === 'derive';
  const id = isDerived ? 'derived' : sortOf[is];
  return tokenSorts.findIndex((sort) => sort.id === id);
}

function modifiersOf({ declares, declared }: Meaning, workspace: Workspace): number {
  const ofLibrary = declared === null || workspace.isOfLibrary(declared.uri);
  return (declares ? 1 : 0) | (ofLibrary ? 2 : 0);
}

export const semanticTokensFeature: Feature = {
  capability: () => ({
    semanticTokensProvider: {
      legend: { tokenTypes: tokenSorts.map(({ id }) => id), tokenModifiers: [...tokenModifiers] },
      full: true,
      range: true,
    },
  }),
  requests: [
    request(SemanticTokensRequest.type, ({ textDocument }, { workspace }) =>
      semanticTokens(workspace, textDocument.uri),
    ),
    request(SemanticTokensRangeRequest.type, ({ textDocument, range }, { workspace }) =>
      semanticTokens(workspace, textDocument.uri, range),
    ),
  ],
};
