// The language server as a worker of a browser. The first message brings the trade library; from then on messages are the protocol alone.
import type { WorkerStart } from '@thou/shared/protocol';
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { URI } from 'vscode-uri';
import { unbundled, type BundledLibrary, type ReadyTrees } from '../services/bundled-library.ts';
import { startServer } from '../services/server.ts';
import type { Disk } from '../services/workspace.ts';
import { soon } from './soon.ts';

declare const self: DedicatedWorkerGlobalScope;

/** No files lie here: all are read through the editor. */
const nothing: Disk = {
  read: () => undefined,
  resolve: () => ({ problem: 'not-found', why: 'there are no files here' }),
  list: () => [],
  tables: () => [],
};

self.addEventListener('message', ({ data }: MessageEvent<WorkerStart>) => start(data), { once: true });

function start({ library, trees, home }: WorkerStart): void {
  const bundled = JSON.parse(library) as BundledLibrary;
  const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));
  startServer(connection, {
    ...unbundled(bundled, JSON.parse(trees) as ReadyTrees, `${home}prelude/`),
    version: bundled.version,
    pages: `${home}docs/problems/`,
    disk: () => nothing,
    reaches: () => false,
    canonical: (uri) => URI.parse(uri).toString(),
    later(work, milliseconds = 0) {
      if (milliseconds === 0) return soon(work);
      const timer = setTimeout(work, milliseconds);
      return () => clearTimeout(timer);
    },
  });
}
