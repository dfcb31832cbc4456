// The language server on the standard streams: what goes to the output is the protocol alone.
import { Console } from 'node:console';
import { createConnection } from 'vscode-languageserver/node';
import { commitsFeature } from '../services/checks/commits.ts';
import { startServer } from '../services/server.ts';
import { canonicalAddress, FolderDisk } from './folder-disk.ts';
import { readLibrary } from './library.ts';
import { past } from './past.ts';
import { exitCode } from './refusal.ts';
import { version } from './version.ts';

/** Ends with the process. */
export function serve(): Promise<number> {
  // a stray word on the standard output would break the protocol
  globalThis.console = new Console(process.stderr);
  const connection = createConnection(process.stdin, process.stdout);
  const { text: library, cautions, drawings, sheets } = readLibrary();
  startServer(connection, {
    version: version(),
    library,
    cautions,
    drawings,
    sheets,
    own: [commitsFeature(past)],
    pages: new URL('../../docs/problems/', import.meta.url).href,
    disk: (folders) => new FolderDisk(folders),
    reaches: (uri) => uri.startsWith('file:'),
    canonical: canonicalAddress,
    later(work, milliseconds = 0) {
      if (milliseconds > 0) {
        const timer = setTimeout(work, milliseconds);
        return () => clearTimeout(timer);
      }
      const soon = setImmediate(work);
      return () => clearImmediate(soon);
    },
  });
  // the connection ends the process at "exit"; the pipe of an editor that died is closed, and then nothing more is said
  return new Promise(() => {
    process.stdin.once('end', () => setTimeout(() => process.exit(exitCode.findings), lastWords));
  });
}

/** In milliseconds: what came before the pipe was closed is still read. */
const lastWords = 200;
