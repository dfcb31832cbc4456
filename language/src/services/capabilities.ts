// What the server says of itself at the start, put together from the table of features.
import {
  TextDocumentSyncKind,
  type ClientCapabilities,
  type InitializeResult,
  type ServerCapabilities,
} from 'vscode-languageserver';
import { libraryScheme } from './addresses.ts';
import type { Feature } from './feature.ts';

/** The editor can show texts that only the server has. */
export function showsVirtualTexts(client: ClientCapabilities): boolean {
  return client.workspace?.textDocumentContent !== undefined;
}

export function initializeResult(
  client: ClientCapabilities,
  features: readonly Feature[],
  version: string,
): InitializeResult {
  const own: ServerCapabilities = {
    // columns are counted as every editor can; said outright, since silence is read in several ways
    positionEncoding: 'utf-16',
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: { includeText: false } },
    workspace: {
      workspaceFolders: { supported: true, changeNotifications: true },
      ...(showsVirtualTexts(client) ? { textDocumentContent: { schemes: [libraryScheme] } } : {}),
    },
  };
  const capabilities = features
    .map((feature) => feature.capability(client))
    .reduce((all, one) => ({ ...all, ...one, workspace: { ...all.workspace, ...one.workspace } }), own);
  return { capabilities, serverInfo: { name: 'Thou', version } };
}
