/** The language server as a worker of a browser, without an editor: a small page speaks the protocol to what is packed. */
import { join } from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { browserFlags, chromiumPath } from './install.ts';
import { serveFolders, type StaticServer } from './static-server.ts';

const top = join(import.meta.dirname, '../..');

/** Runs in the page: a client with files in memory. */
const client = `
class Client {
  constructor(files) {
    this.files = files;
    this.told = [];
    this.written = 0;
    this.waiting = new Map();
    this.worker = new Worker('/language/thou.cjs');
    this.worker.onmessage = ({ data }) => this.came(data);
  }
  async start() {
    const text = (path) => fetch(path).then((answer) => answer.text());
    this.worker.postMessage({
      library: await text('/language/dist/library.json'),
      trees: await text('/language/dist/prelude.json'),
      home: location.origin + '/language/',
    });
    const result = await this.ask('initialize', {
      processId: null,
      rootUri: null,
      capabilities: { workspace: { textDocumentContent: {}, workspaceEdit: { documentChanges: true } } },
      workspaceFolders: [{ uri: 'memory:/engines', name: 'engines' }],
      initializationOptions: { readsFiles: true, schemes: ['memory'] },
    });
    this.tell('initialized', {});
    return result;
  }
  came({ id, method, params, result, error }) {
    if (method === undefined) {
      const { done, failed } = this.waiting.get(id);
      this.waiting.delete(id);
      return error ? failed(new Error(error.message)) : done(result);
    }
    if (method === 'textDocument/publishDiagnostics') this.told.push(params);
    if (id !== undefined) this.worker.postMessage({ jsonrpc: '2.0', id, result: this.answer(method, params) });
  }
  answer(method, params) {
    if (method === 'thou/listFiles') return Object.keys(this.files);
    if (method === 'thou/readFile')
      return params.uri in this.files ? { text: this.files[params.uri] } : { problem: 'not-there' };
    return null;
  }
  ask(method, params) {
    const id = ++this.written;
    this.worker.postMessage({ jsonrpc: '2.0', id, method, params });
    return new Promise((done, failed) => this.waiting.set(id, { done, failed }));
  }
  tell(method, params) {
    this.worker.postMessage({ jsonrpc: '2.0', method, params });
  }
  codes(uri) {
    return (this.told.filter((one) => one.uri === uri).at(-1)?.diagnostics ?? []).map(({ code }) => code);
  }
}`;

const shelf = 'use prelude 1\n\npart shelf-block: Block {\n  bore: 4.1 in\n}\n';
const jig =
  'use prelude 1\nuse "shelf.thou"\n\nbuild jig {\n  layout: single\n  block: shelf-block\n  crank.stroke: 3 inn\n}\n';
const uri = 'memory:/engines/jig.thou';

let server: StaticServer;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  const start = `<!doctype html><title>worker</title><script>${client}</script>`;
  const language = join(top, 'extension/dist/language');
  server = await serveFolders({ language }, (path) => (path === '/' ? start : null));
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags });
  page = await browser.newPage();
  await page.goto(`http://${server.address}/`);
});

afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

/** Something asked of the client in the page. */
const inPage = <T>(code: string): Promise<T> => page.evaluate<T>(code);
const codes = (): Promise<string[]> => inPage(`client.codes('${uri}')`);

test('it starts, and says what it is', async () => {
  const files = { [uri]: jig, 'memory:/engines/shelf.thou': shelf };
  const result = await inPage<{ serverInfo: { name: string }; capabilities: { renameProvider?: unknown } }>(
    `(globalThis.client = new Client(${JSON.stringify(files)})).start()`,
  );
  expect(result.serverInfo.name).toBe('Thou');
  expect(result.capabilities.renameProvider).toBeTruthy();
});

test('diagnostics of an open text, with the file that it uses read through the page', async () => {
  const opened = { textDocument: { uri, languageId: 'thou', version: 1, text: jig } };
  await inPage(`client.tell('textDocument/didOpen', ${JSON.stringify(opened)})`);
  await expect.poll(codes, { timeout: 20_000 }).toContain('unit.unknown');
  expect((await codes()).filter((code) => /^(use|name)\./.test(code))).toEqual([]);
});

test('an edit is answered, and mends', async () => {
  const edit = {
    textDocument: { uri, version: 2 },
    contentChanges: [{ range: { start: { line: 6, character: 18 }, end: { line: 6, character: 21 } }, text: 'in' }],
  };
  await inPage(`client.tell('textDocument/didChange', ${JSON.stringify(edit)})`);
  await expect.poll(codes, { timeout: 20_000 }).not.toContain('unit.unknown');
});

test('hover tells what a name stands for', async () => {
  const place = { textDocument: { uri }, position: { line: 6, character: 9 } };
  const hover = await inPage<object>(`client.ask('textDocument/hover', ${JSON.stringify(place)})`);
  expect(JSON.stringify(hover)).toContain('3 in');
});

test('a name is changed in both files', async () => {
  const place = { textDocument: { uri }, position: { line: 5, character: 12 }, newName: 'other-block' };
  const edit = await inPage<{ documentChanges: { textDocument: { uri: string } }[] }>(
    `client.ask('textDocument/rename', ${JSON.stringify(place)})`,
  );
  expect(edit.documentChanges.map(({ textDocument }) => textDocument.uri).toSorted()).toEqual([
    uri,
    'memory:/engines/shelf.thou',
  ]);
});

test('the library is read from the worker', async () => {
  const place = { textDocument: { uri }, position: { line: 6, character: 10 } };
  const found = await inPage<{ uri: string }>(`client.ask('textDocument/definition', ${JSON.stringify(place)})`);
  expect(found.uri).toMatch(/^thou-library:\/edition-\d+\/\w[\w-]*\.thou$/);
  const { text } = await inPage<{ text: string }>(
    `client.ask('workspace/textDocumentContent', ${JSON.stringify({ uri: found.uri })})`,
  );
  expect(text).toContain('component');
});
