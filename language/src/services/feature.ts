// What a feature is: its capability and its handlers. Features know neither the server nor each other.
import type {
  CancellationToken,
  ClientCapabilities,
  ServerCapabilities,
  WorkDoneProgressReporter,
} from 'vscode-languageserver';
import type { SettingValues } from '@thou/shared/settings';
import type { Guide } from './environment.ts';
import type { Workspace } from './workspace.ts';

/** What a handler is given beside its parameters. Addresses in `params.textDocument.uri` are those of the workspace. */
export interface Asked {
  readonly workspace: Workspace;
  readonly guide: Guide;
  readonly client: ClientCapabilities;
  readonly token: CancellationToken;
  readonly progress: WorkDoneProgressReporter;
  /** As they hold for a file. */
  settings(uri: string): Promise<SettingValues>;
  /** Of an open document; null where the editor does not hold the file. */
  versionOf(uri: string): number | null;
  /** Says something to the reader, where nothing else would show it. */
  tell(message: string): void;
  /** Lets other messages in; throws where the request was given up meanwhile. To be called in everything slow. */
  breathe(): Promise<void>;
}

export interface Request {
  readonly method: string;
  handle(params: unknown, asked: Asked): unknown;
}

export interface Feature {
  /** What is announced; it may depend on what the client can do. */
  capability(client: ClientCapabilities): ServerCapabilities;
  /** The request itself, and its resolve where it has one. */
  readonly requests: readonly Request[];
}

/** A request by its type in the protocol: `request(HoverRequest.type, (params, { workspace }) => …)`. */
export function request<P, R>(
  type: { readonly method: string; readonly _?: readonly [P, R, ...unknown[]] | undefined },
  handle: (params: P, asked: Asked) => R | null | Promise<R | null>,
): Request {
  return { method: type.method, handle: (params, asked) => handle(params as P, asked) };
}
