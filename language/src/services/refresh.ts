// Tells the editor that what it shows between the lines may be old, because another file changed; only what it can and was offered.
import type { ClientCapabilities, Connection, ServerCapabilities } from 'vscode-languageserver';

interface Kind {
  readonly method: string;
  isShown(client: ClientCapabilities, server: ServerCapabilities): boolean;
}

const kinds: readonly Kind[] = [
  {
    method: 'workspace/inlayHint/refresh',
    isShown: (client, server) => !!client.workspace?.inlayHint?.refreshSupport && !!server.inlayHintProvider,
  },
  {
    method: 'workspace/codeLens/refresh',
    isShown: (client, server) => !!client.workspace?.codeLens?.refreshSupport && !!server.codeLensProvider,
  },
  {
    method: 'workspace/semanticTokens/refresh',
    isShown: (client, server) => !!client.workspace?.semanticTokens?.refreshSupport && !!server.semanticTokensProvider,
  },
  {
    method: 'workspace/foldingRange/refresh',
    isShown: (client, server) => !!client.workspace?.foldingRange?.refreshSupport && !!server.foldingRangeProvider,
  },
];

/** Failures are of no account: the editor may be closing. */
export function refresh(
  connection: Pick<Connection, 'sendRequest'>,
  client: ClientCapabilities,
  server: ServerCapabilities,
): void {
  for (const { method, isShown } of kinds)
    if (isShown(client, server)) connection.sendRequest(method).catch(() => undefined);
}
