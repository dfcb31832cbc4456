/** Renaming what a word stands for, in every file that names it. What cannot be renamed is refused with a sentence. */
import {
  PrepareRenameRequest,
  RenameRequest,
  ResponseError,
  LSPErrorCodes,
  type ClientCapabilities,
  type Position,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { reservedWords } from '@thou/shared/words';
import { scan } from '../grammar/scanner.ts';
import { endOf, nameOf } from '../grammar/tokens.ts';
import { builtinValues } from '../semantics/types/builtins.ts';
import type { FileResult } from '../semantics/project.ts';
import type { TextPlace } from '../semantics/problems/places.ts';
import { request, type Feature } from './feature.ts';
import { meaningAt, meaningOf, placeOf, wordAt, type Meaning } from './meaning.ts';
import { toOffset, toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

export interface Refused {
  readonly refused: string;
}

/** What would be renamed, or why it cannot be; null where there is no name. */
export function prepareRename(
  workspace: Workspace,
  uri: string,
  position: Position,
): { range: Range; placeholder: string } | Refused | null {
  const meaning = meaningAt(workspace, uri, toOffset(workspace.positionsOf(uri), position));
  if (!meaning) return null;
  const why = fixedBecause(meaning, workspace);
  if (why !== null) return { refused: why };
  return { range: toRange(workspace.positionsOf(uri), meaning.at), placeholder: meaning.name };
}

function fixedBecause({ is, name, declared }: Meaning, workspace: Workspace): string | null {
  if (is === 'file') return 'Rename the file itself: the lines that name it follow.';
  if (declared === null) return `"${name}" is a word of the language and cannot be renamed.`;
  if (workspace.isOfLibrary(declared.uri))
    return `"${name}" belongs to the trade library, which every build shares: it cannot be renamed here.`;
  return null;
}

const NAME = /^[A-Za-z_][A-Za-z0-9_]*(-[A-Za-z0-9_]+)*$/;
/** Names that may also stand in quotes, and then hold anything. */
const quotable: ReadonlySet<string> = new Set(['part', 'build']);

function objectionTo(meaning: Meaning, name: string): string | null {
  if (name === '' || /["\\\p{Cc}]/u.test(name))
    return 'A name holds no quotes, no backslash and no line breaks, and is not empty.';
  if (quotable.has(meaning.is) && !NAME.test(name)) return null;
  if (meaning.is === 'unit' ? !/^[A-Za-z]+$/.test(name) : !NAME.test(name))
    return `"${name}" is no name: letters, figures and single dashes between them, beginning with a letter.`;
  if (reservedWords.has(name) || builtinValues.has(name))
    return `"${name}" is a word of the language; choose another name.`;
  return null;
}

/** The edits by file, or why there are none. */
export function renamed(
  workspace: Workspace,
  uri: string,
  position: Position,
  to: string,
): ReadonlyMap<string, readonly TextEdit[]> | Refused | null {
  const meaning = meaningAt(workspace, uri, toOffset(workspace.positionsOf(uri), position));
  if (!meaning) return null;
  const { declared } = meaning;
  const why = fixedBecause(meaning, workspace) ?? objectionTo(meaning, to);
  if (why !== null || declared === null) return { refused: why ?? '' };
  if (to === meaning.name) return new Map();
  const home = placeOf(workspace, declared);
  const places = placesOf(workspace, home, meaning);
  const written = NAME.test(to) && !reservedWords.has(to) ? to : `"${to}"`;
  const edits = new Map<string, TextEdit[]>();
  for (const place of places) {
    const text = workspace.source(place.uri)!.text.slice(place.start, place.end);
    const newText = text.startsWith('"') && quotable.has(meaning.is) ? `"${to}"` : written;
    edits.set(place.uri, [
      ...(edits.get(place.uri) ?? []),
      { range: toRange(workspace.positionsOf(place.uri), place), newText },
    ]);
  }
  const clash = clashIn(workspace, edits, meaning, to);
  return clash === null ? edits : { refused: clash };
}

/** Every word that stands for the same, in the file that declares it and in all that reach that file. */
function placesOf(workspace: Workspace, home: TextPlace, meaning: Meaning): TextPlace[] {
  const files = [home.uri, ...workspace.dependants(home.uri)].filter(
    (one) => one.endsWith('.thou') || workspace.isOpen(one),
  );
  return files.flatMap((uri) => placesIn(workspace, uri, home, meaning.name));
}

function placesIn(workspace: Workspace, uri: string, home: TextPlace, name: string): TextPlace[] {
  const source = workspace.source(uri);
  if (!source?.text.includes(name)) return [];
  const result: FileResult = workspace.result(uri);
  const places: TextPlace[] = [];
  for (const { offset, parsed } of source.blocks) {
    if (!parsed.text.includes(name)) continue;
    for (const token of scan(parsed.text).tokens) {
      if (nameOf(token) === 'SEP' || !token.image.includes(name)) continue;
      const start = offset + token.startOffset;
      const word = wordAt(workspace, uri, start);
      if (word?.at.start !== start || word.at.end !== offset + endOf(token)) continue;
      const found = meaningOf(workspace, result, word.field, word.at)?.declared;
      const at = found ? placeOf(workspace, found) : null;
      if (at?.uri === home.uri && at.start === home.start) places.push(word.at);
    }
  }
  return places;
}

/** The files are read with the new name: an error that was not there before is a name that is taken. The texts are put back. */
function clashIn(
  workspace: Workspace,
  edits: ReadonlyMap<string, readonly TextEdit[]>,
  meaning: Meaning,
  to: string,
): string | null {
  const touched = [...edits.keys()];
  const before = new Map(touched.map((uri) => [uri, errorsIn(workspace, uri)]));
  const held = touched.map((uri) => ({
    uri,
    text: workspace.source(uri)!.text,
    isOpen: workspace.isOpen(uri),
    after: applied(workspace, uri, edits.get(uri)!),
  }));
  try {
    for (const { uri, after } of held) workspace.open(uri, after);
    for (const uri of touched) {
      const worse = workspace.result(uri).problems.filter(({ severity }) => severity === 'error');
      if (worse.length > before.get(uri)!) {
        const why = worse.find(({ message }) => message.includes(to)) ?? worse[0]!;
        return `"${meaning.name}" cannot be called "${to}". ${why.message}`;
      }
    }
    return null;
  } finally {
    for (const { uri, text, isOpen } of held) {
      if (isOpen) workspace.open(uri, text);
      else workspace.close(uri);
    }
  }
}

function errorsIn(workspace: Workspace, uri: string): number {
  return workspace.result(uri).problems.filter(({ severity }) => severity === 'error').length;
}

function applied(workspace: Workspace, uri: string, edits: readonly TextEdit[]): string {
  const positions = workspace.positionsOf(uri);
  const places = edits
    .map(({ range, newText }) => ({
      start: toOffset(positions, range.start),
      end: toOffset(positions, range.end),
      newText,
    }))
    .sort((a, b) => b.start - a.start);
  return places.reduce(
    (text, { start, end, newText }) => text.slice(0, start) + newText + text.slice(end),
    workspace.source(uri)!.text,
  );
}

/**
 * Edits in the form that the editor knows. Other files are named apart, for the reader who looks before applying, but never held back: half a
 * renaming leaves builds that name what is not there any more.
 */
export function asWorkspaceEdit(
  edits: ReadonlyMap<string, readonly TextEdit[]>,
  from: string,
  client: ClientCapabilities,
  versionOf: (uri: string) => number | null,
): WorkspaceEdit {
  const can = client.workspace?.workspaceEdit;
  if (!can?.documentChanges) return { changes: Object.fromEntries([...edits].map(([uri, own]) => [uri, [...own]])) };
  const apart = can.changeAnnotationSupport !== undefined && [...edits.keys()].some((uri) => uri !== from);
  return {
    documentChanges: [...edits].map(([uri, own]) => ({
      textDocument: { uri, version: versionOf(uri) },
      edits: own.map((edit) => (apart && uri !== from ? { ...edit, annotationId: 'shared' } : edit)),
    })),
    ...(apart
      ? {
          changeAnnotations: {
            shared: {
              label: 'Files that share this name',
              needsConfirmation: false,
              description: 'Other builds may use these files.',
            },
          },
        }
      : {}),
  };
}

function orRefuse<T extends object>(answer: T | Refused | null): T | null {
  if (answer !== null && 'refused' in answer)
    throw new ResponseError(LSPErrorCodes.RequestFailed, answer.refused as string);
  return answer;
}

export const renameFeature: Feature = {
  capability: (client) => ({
    renameProvider: client.textDocument?.rename?.prepareSupport ? { prepareProvider: true } : true,
  }),
  requests: [
    request(PrepareRenameRequest.type, ({ textDocument, position }, { workspace }) =>
      orRefuse(prepareRename(workspace, textDocument.uri, position)),
    ),
    request(RenameRequest.type, ({ textDocument, position, newName }, { workspace, client, versionOf }) => {
      const edits = orRefuse(renamed(workspace, textDocument.uri, position, newName));
      return edits && asWorkspaceEdit(edits, textDocument.uri, client, versionOf);
    }),
  ],
};
