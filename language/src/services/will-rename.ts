/** Files that move take the lines along that name them: `use` and tables, in the files that stay and in those that move. */
import { WillRenameFilesRequest, type FileRename, type TextEdit } from 'vscode-languageserver-protocol';
import { nodesIn, rangeOf, type SourceFile } from '../grammar/file.ts';
import type * as ast from '../grammar/generated/ast.ts';
import { request, type Feature } from './feature.ts';
import { pathFrom } from './paths.ts';
import { toRange } from './positions.ts';
import { asWorkspaceEdit } from './rename.ts';
import type { Workspace } from './workspace.ts';

/** Folders move with all that is in them. */
export function editsForRenames(workspace: Workspace, renames: readonly FileRename[]): Map<string, TextEdit[]> {
  const edits = new Map<string, TextEdit[]>();
  for (const uri of workspace.known()) {
    const source = workspace.isOfLibrary(uri) ? undefined : workspace.source(uri);
    const own = source ? editsIn(workspace, source, renames) : [];
    if (own.length > 0) edits.set(uri, own);
  }
  return edits;
}

function editsIn(workspace: Workspace, source: SourceFile, renames: readonly FileRename[]): TextEdit[] {
  const positions = workspace.positionsOf(source.uri);
  const home = moved(source.uri, renames);
  return namesOfFiles(source).flatMap(({ path, start, end }) => {
    const found = workspace.resolve(source.uri, path);
    if (!('uri' in found) || path.startsWith('package:')) return [];
    const there = moved(found.uri, renames);
    const isStill = there === found.uri && home === source.uri;
    const written = isStill ? null : pathFrom(home, there);
    return written === null || written === path
      ? []
      : [{ range: toRange(positions, { start, end }), newText: `"${written}"` }];
  });
}

interface Named {
  readonly path: string;
  readonly start: number;
  readonly end: number;
}

function namesOfFiles({ blocks }: SourceFile): Named[] {
  return blocks.flatMap(({ offset, parsed: { item } }) =>
    (item ? [item, ...nodesIn(item)] : []).flatMap((node): Named[] => {
      const property = node.$type === 'Use' ? 'path' : node.$type === 'FromFile' ? 'file' : null;
      const path =
        property === null ? undefined : property === 'path' ? (node as ast.Use).path : (node as ast.FromFile).file;
      if (property === null || path === undefined || path === '') return [];
      const { start, end } = rangeOf({ node, property });
      return [{ path, start: offset + start, end: offset + end }];
    }),
  );
}

function moved(uri: string, renames: readonly FileRename[]): string {
  for (const { oldUri, newUri } of renames) {
    if (uri === oldUri) return newUri;
    const folder = oldUri.endsWith('/') ? oldUri : `${oldUri}/`;
    if (uri.startsWith(folder)) return `${newUri.endsWith('/') ? newUri : `${newUri}/`}${uri.slice(folder.length)}`;
  }
  return uri;
}

export const willRenameFeature: Feature = {
  capability: (client) =>
    client.workspace?.fileOperations?.willRename
      ? {
          workspace: {
            fileOperations: {
              willRename: {
                filters: [
                  { pattern: { glob: '**/*.{thou,csv}', matches: 'file' } },
                  { pattern: { glob: '**', matches: 'folder' } },
                ],
              },
            },
          },
        }
      : {},
  requests: [
    request(WillRenameFilesRequest.type, ({ files }, { workspace, client, versionOf }) => {
      const edits = editsForRenames(workspace, files);
      return edits.size === 0 ? null : asWorkspaceEdit(edits, files[0]?.oldUri ?? '', client, versionOf);
    }),
  ],
};
