/** A language server as the client needs it, whichever way it is started. */
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';

export interface Launched {
  readonly client: BaseLanguageClient;
  /** Also when it hangs: asked first, ended if it does not go in so many milliseconds. */
  stop(patience: number): Promise<void>;
}

export type Launch = (options: LanguageClientOptions) => Launched;

/** Where the client library finds the setting thou.trace.server, and what it calls itself. */
export const client = { id: 'thou', name: 'Thou' } as const;
