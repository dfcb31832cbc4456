/** The way in where the editor runs in a browser: the server is a worker, which is handed the trade library and reads files through the editor. */
import type { WorkerStart } from '@thou/shared/protocol';
import { Uri, workspace, type ExtensionContext } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type LanguageClientOptions,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { activateWith, deactivate } from '../extension.ts';
import { client as named, type Launched } from '../launch.ts';

export { deactivate };

export function activate(context: ExtensionContext): Promise<void> {
  const language = Uri.joinPath(context.extensionUri, 'dist/language');
  return activateWith(context, (options) => launched(language, options));
}

/** From the worker's text: an editor may keep its extensions where no worker can be started from. */
function launched(language: Uri, options: LanguageClientOptions): Launched {
  let end = (): void => undefined;
  const start = async (): Promise<MessageTransports> => {
    const address = URL.createObjectURL(new Blob([await read(language, 'thou.cjs')], { type: 'text/javascript' }));
    const worker = new Worker(address);
    end = () => {
      worker.terminate();
      URL.revokeObjectURL(address);
    };
    worker.postMessage(await whatItNeeds(language));
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  const client = new LanguageClient(named.id, named.name, start, options);
  return {
    client,
    async stop(patience) {
      try {
        await client.dispose(patience);
      } finally {
        end();
      }
    },
  };
}

async function whatItNeeds(language: Uri): Promise<WorkerStart> {
  const [library, trees] = await Promise.all([
    read(language, 'dist/library.json'),
    read(language, 'dist/prelude.json'),
  ]);
  return { library, trees, home: `${language.toString()}/` };
}

async function read(folder: Uri, name: string): Promise<string> {
  return new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(folder, name)));
}
