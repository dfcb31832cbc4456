/** Folders that lie on no disk: the editor reads them for a server that reaches no file itself, as in a browser. One server for all tests. */
import { PassThrough } from 'node:stream';
import { caps } from '@thou/shared/limits';
import { listFilesMethod, readFileMethod, type FileRead } from '@thou/shared/protocol';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createConnection } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type DocumentLink,
  type Hover,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver-protocol/node';
import { startServer } from '../../../../language/src/services/server.ts';
import { library } from '../../../reference/library.ts';

const folder = 'memory:/engines';
const at = (name: string): string => `${folder}/${name}`;
const shelf = (bore: string): string => `use prelude 1\n\npart shelf-block: Block {\n  bore: ${bore}\n}\n`;
const jig = `use prelude 1
use "parts/shelf.thou"

build jig {
  layout: single
  block: shelf-block
  measured on 2026-01-02 {
    block.bore: from "bores.csv"
  }
}
`;
const bores = 'cylinder,bore [in]\n1,4.1\n';
const fromPackage = 'use prelude 1\nuse "package:shelf/block.thou"\n\nbuild jig {\n  block: shelf-block\n}\n';

const refused: readonly (readonly [path: string, file: FileRead, why: string])[] = [
  ['../../secret.thou', { text: '' }, 'it leads out of the folder of this job'],
  ['/etc/x.thou', { text: '' }, 'the path must be relative to this file'],
  ['other:x.thou', { text: '' }, 'only files of this job are read, no addresses'],
  ['note.txt', { text: '' }, 'only .thou and .csv files are read'],
  ['big.thou', { problem: 'too-large' }, `it is larger than ${caps.fileBytes / 1024 / 1024} MB`],
  ['raw.thou', { problem: 'not-text' }, 'it is not UTF-8 text; save it as UTF-8'],
  ['link.thou', { problem: 'no-file' }, 'it is not a file'],
  ['shut.thou', { problem: 'not-allowed' }, 'reading it is not allowed'],
  ['gone.thou', { problem: 'not-there' }, 'is not there'],
];
const hostile = `use prelude 1\n${refused.map(([path]) => `use "${path}"\n`).join('')}`;

const held = new Map<string, FileRead>([
  [at('one/jig.thou'), { text: jig }],
  [at('one/parts/shelf.thou'), { text: shelf('4.1 in') }],
  [at('one/bores.csv'), { text: bores }],
  [at('one/other.csv'), { text: bores }],
  [at('two/a/b/jig.thou'), { text: fromPackage }],
  [at('two/a/thou_modules/shelf/block.thou'), { text: shelf('4.1 in') }],
  [at('three/jig.thou'), { text: hostile }],
  ...refused.map(([path, file]) => [at(`three/${path}`), file] as const),
  ['memory:/elsewhere/far.thou', { text: shelf('4 inn') }],
]);

const never = (): never => {
  throw new Error('no file is read but through the editor');
};

const told: PublishDiagnosticsParams[] = [];
const filesRead: string[] = [];
let editor: ProtocolConnection;
let stop: () => void;

beforeAll(async () => {
  const [there, back] = [new PassThrough(), new PassThrough()];
  const server = createConnection(there, back);
  editor = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  startServer(server, {
    version: '0',
    library,
    cautions: [],
    drawings: [],
    sheets: [],
    pages: 'https://pages/',
    disk: () => ({ read: never, resolve: never, list: () => [], tables: () => [] }),
    reaches: () => false,
    canonical: (uri) => uri,
    later(work, milliseconds) {
      const timer = setTimeout(work, milliseconds ?? 0);
      return () => clearTimeout(timer);
    },
  });
  editor.onNotification('textDocument/publishDiagnostics', (one: PublishDiagnosticsParams) => void told.push(one));
  editor.onRequest('client/registerCapability', () => null);
  editor.onRequest(listFilesMethod, (asked: { folder: string }) =>
    // what lies in a folder of packages is not listed, as the client does not
    [...held.keys()].filter((uri) => uri.startsWith(`${asked.folder}/`) && !uri.includes('/thou_modules/')),
  );
  editor.onRequest(readFileMethod, (asked: { uri: string }): object => {
    filesRead.push(asked.uri);
    return held.get(asked.uri) ?? { problem: 'not-there' };
  });
  editor.listen();
  await editor.sendRequest('initialize', {
    processId: null,
    rootUri: null,
    capabilities: {
      workspace: { didChangeWatchedFiles: { dynamicRegistration: true }, fileOperations: { willRename: true } },
    },
    workspaceFolders: [{ uri: folder, name: 'engines' }],
    initializationOptions: { readsFiles: true, schemes: ['memory'] },
  });
  await editor.sendNotification('initialized', {});
  stop = () => {
    editor.dispose();
    server.dispose();
  };
});
afterAll(() => stop());

const textDocument = { uri: at('one/jig.thou') };

async function open(name: string, text: string): Promise<void> {
  await editor.sendNotification('textDocument/didOpen', {
    textDocument: { uri: at(name), languageId: 'thou', version: 1, text },
  });
}

const said = (of: string): PublishDiagnosticsParams[] => told.filter(({ uri }) => uri === of);
/** Of what was last said: what has to do with files and with names from them. */
const faults = (of: string): string[] => faultsIn(said(of).at(-1));
function faultsIn(one: PublishDiagnosticsParams | undefined): string[] {
  return (one?.diagnostics ?? []).map(({ code }) => String(code)).filter((code) => /^(csv|use|name|unit)\./.test(code));
}
const answered = async (of: string): Promise<void> =>
  expect.poll(() => said(of).some(({ version }) => version === 1), { timeout: 20_000 }).toBe(true);

test('a request that comes while files are on their way is answered when they are there', async () => {
  await open('one/jig.thou', jig);
  const place = { textDocument, position: { line: 5, character: 12 } };
  expect(await editor.sendRequest('textDocument/definition', place)).toMatchObject({ uri: at('one/parts/shelf.thou') });
});

test('nothing is said of a file before what it uses and the table that it reads are there', async () => {
  await answered(at('one/jig.thou'));
  expect(said(at('one/jig.thou')).map(faultsIn).flat()).toEqual([]);
  expect(filesRead.filter((uri) => uri.startsWith(at('one/'))).toSorted()).toEqual(
    ['bores.csv', 'jig.thou', 'parts/shelf.thou'].map((name) => at(`one/${name}`)),
  );
  const hover = await editor.sendRequest<Hover>('textDocument/hover', {
    textDocument,
    position: { line: 7, character: 12 },
  });
  expect(JSON.stringify(hover.contents)).toContain('4.1');
  const links = await editor.sendRequest<DocumentLink[]>('textDocument/documentLink', { textDocument });
  expect(links.map(({ target }) => target)).toEqual([at('one/parts/shelf.thou'), at('one/bores.csv')]);
});

test('a file that moves takes along the lines that name it', async () => {
  const files = [{ oldUri: at('one/parts'), newUri: at('one/shelves') }];
  const edit = await editor.sendRequest('workspace/willRenameFiles', { files });
  expect(edit).toEqual({
    changes: {
      [at('one/jig.thou')]: [
        {
          newText: '"shelves/shelf.thou"',
          range: { start: { line: 1, character: 4 }, end: { line: 1, character: 22 } },
        },
      ],
    },
  });
});

test.each<[what: string, name: string, text: string | null, as: RegExp]>([
  ['a table that changes', 'one/bores.csv', 'cylinder,bore [inn]\n1,4.1\n', /csv\./],
  ['and is put right', 'one/bores.csv', bores, /^$/],
  ['a file in use that goes', 'one/parts/shelf.thou', null, /use\.not-found/],
  ['and comes again', 'one/parts/shelf.thou', shelf('4.2 in'), /^$/],
])('%s is seen', async (_, name, text, as) => {
  if (text === null) held.delete(at(name));
  else held.set(at(name), { text });
  await editor.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: at(name), type: 2 }] });
  await expect.poll(() => faults(at('one/jig.thou')).join(' '), { timeout: 20_000 }).toMatch(as);
});

test('what a save left where nobody tells of it is seen as well', async () => {
  held.set(at('one/parts/shelf.thou'), { text: shelf('4.3 inn') });
  await editor.sendNotification('textDocument/didSave', { textDocument: { uri: at('one/parts/shelf.thou') } });
  await expect.poll(() => faults(at('one/parts/shelf.thou')), { timeout: 20_000 }).toContain('unit.unknown');
});

test('files that may not be read are refused at their place, and nothing outside is asked for', async () => {
  await open('three/jig.thou', hostile);
  await answered(at('three/jig.thou'));
  const { diagnostics } = said(at('three/jig.thou')).at(-1)!;
  expect(diagnostics.map(({ message, range }) => [range.start.line, message])).toEqual(
    refused.map(([path], line) => [line + 1, expect.stringContaining(path)]),
  );
  refused.forEach(([, , why], line) => expect(diagnostics[line]?.message).toContain(why));
  expect(filesRead.filter((uri) => !uri.startsWith(`${folder}/`) || uri.endsWith('.txt'))).toEqual([]);
});

test('a package is taken from the nearest folder that holds it, and is nobody’s own file', async () => {
  await open('two/a/b/jig.thou', fromPackage);
  await answered(at('two/a/b/jig.thou'));
  expect(faults(at('two/a/b/jig.thou'))).toEqual([]);
  expect(told.map(({ uri }) => uri)).not.toContain(at('two/a/thou_modules/shelf/block.thou'));
});

test('a folder that comes is read, one that goes is not', async () => {
  const far = { uri: 'memory:/elsewhere', name: 'elsewhere' };
  const file = 'memory:/elsewhere/far.thou';
  await editor.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [far], removed: [] } });
  await expect.poll(() => faults(file), { timeout: 20_000 }).toEqual(['unit.unknown']);
  await editor.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [], removed: [far] } });
  await expect.poll(() => said(file).at(-1)?.diagnostics, { timeout: 20_000 }).toEqual([]);
});
