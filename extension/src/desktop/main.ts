/** The way in on a desktop: the server is a process of its own, over standard input and output. */
import type { ExtensionContext } from 'vscode';
import {
  LanguageClient,
  TransportKind,
  type LanguageClientOptions,
  type ServerOptions,
} from 'vscode-languageclient/node';
import { activateWith, deactivate } from '../extension.ts';
import { client as named, type Launched } from '../launch.ts';

export { deactivate };

export function activate(context: ExtensionContext): Promise<void> {
  const node = { module: context.asAbsolutePath('dist/language/server.cjs'), transport: TransportKind.stdio };
  return activateWith(context, (options) => launched({ run: node, debug: node }, options));
}

function launched(run: ServerOptions, options: LanguageClientOptions): Launched {
  const client = new LanguageClient(named.id, named.name, run, options);
  return {
    client,
    async stop(patience) {
      const process = client.serverProcess;
      try {
        await client.dispose(patience);
      } finally {
        process?.kill('SIGKILL');
      }
    },
  };
}
