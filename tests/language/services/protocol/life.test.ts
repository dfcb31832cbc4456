/** Beginning, end and surroundings of a server over a real process: what it says of itself, folders, settings, library texts. */
import { afterEach, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { Editor, modern, top, type StartOptions } from './client.ts';

let editor: Editor | null = null;
afterEach(() => {
  editor?.tidy();
  editor = null;
});

async function start(options: StartOptions = {}): Promise<Editor> {
  return (editor = await Editor.start(options));
}

const build = (bore: string): string => `use prelude 1\n\nbuild jig {\n  block.bore: ${bore}\n}\n`;

test('what it says of itself', async () => {
  const { result } = await start();
  expect(result.serverInfo?.name).toBe('Thou');
  expect(result.capabilities).toMatchObject({
    positionEncoding: 'utf-16',
    textDocumentSync: { openClose: true, change: 2 },
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
  });
  expect(result.capabilities.workspace).not.toHaveProperty('textDocumentContent');
});

test('it asks to be told of texts and tables alone', async () => {
  const { registered } = await start();
  await expect
    .poll(() => registered.map(({ method }) => method).sort(), { timeout: 20_000 })
    .toEqual(['workspace/didChangeConfiguration', 'workspace/didChangeWatchedFiles']);
  expect(registered.find(({ method }) => method.endsWith('WatchedFiles'))?.registerOptions).toEqual({
    watchers: [{ globPattern: '**/*.thou' }, { globPattern: '**/*.csv' }],
  });
});

test('goodbye gives 0, leaving without it 1', async () => {
  expect(await (await start()).stop()).toBe(0);
  const rude = await start();
  await rude.connection.sendNotification('exit');
  expect(await rude.ended).toBe(1);
});

test('it ends when the editor closes the pipe', async () => {
  const { process: server, ended } = await start();
  server.stdin.end();
  expect(await ended).toBe(1);
});

test('it ends when the editor is gone and the pipe is left open', async () => {
  // the editor says that it is a process which has already ended
  const gone = spawn(process.execPath, ['-e', '']);
  await new Promise((done) => gone.once('exit', done));
  const server = spawn(process.execPath, [join(top, 'language/bin/thou.js'), 'serve', '--stdio']);
  const text = JSON.stringify({
    jsonrpc: '2.0',
    id: 1,
    method: 'initialize',
    params: { processId: gone.pid, rootUri: null, capabilities: {} },
  });
  server.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  expect(await new Promise((done) => server.once('exit', done))).toBe(1);
});

test('what it does not know it says, and lives on', async () => {
  const { connection } = await start();
  await expect(connection.sendRequest('textDocument/nonsense', {})).rejects.toThrow(/nonsense/);
  await connection.sendNotification('$/setTrace', { value: 'verbose' });
  await connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: 'file:///never/opened.thou', version: 2 },
    contentChanges: [{ text: '' }],
  });
  await connection.sendNotification('textDocument/didClose', { textDocument: { uri: 'file:///never/opened.thou' } });
  const uri = editor!.uri('jig.thou');
  await editor!.open(uri, build('4 inn'));
  expect((await editor!.until(uri, () => true, 0)).version).toBe(1);
});

test('one file has one address, however the editor spells it', async () => {
  const { folder } = await start({
    files: { 'a (b)/shelf.thou': build('4 in'), 'a (b)/jig.thou': 'use "shelf.thou"\n' },
  });
  const spelled = `file://${folder}/a%20%28b%29/shelf.thou`;
  await editor!.open(spelled, build('4 inn'));
  const { diagnostics } = await editor!.until(spelled, ({ version }) => version === 1, 0);
  expect(diagnostics.map(({ code }) => code)).toContain('unit.unknown');
  // the same file under another spelling is not looked at as a second one
  await expect.poll(() => editor!.told.length, { timeout: 2000 }).toBeGreaterThan(0);
  expect(new Set(editor!.told.map(({ uri }) => uri).filter((uri) => uri.includes('shelf')))).toEqual(
    new Set([spelled]),
  );
});

test('a folder that comes is read, one that goes is not', async () => {
  const { connection } = await start({
    files: { 'one/shelf.thou': 'part shelf-block: Block {\n  bore: 4 inn\n}\n', 'two/jig.thou': build('4 inn') },
    folders: ['one'],
  });
  const [shelf, jig] = [editor!.uri('one/shelf.thou'), editor!.uri('two/jig.thou')];
  await editor!.until(shelf, ({ diagnostics }) => diagnostics.length > 0, 0);
  expect(editor!.last(jig)).toBeUndefined();
  const folder = { uri: editor!.uri('two'), name: 'two' };
  await connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [folder], removed: [] } });
  await editor!.until(jig, ({ diagnostics }) => diagnostics.length > 0, 0);
  const since = editor!.told.length;
  await connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [], removed: [folder] } });
  expect((await editor!.until(jig, () => true, since)).diagnostics).toEqual([]);
});

test('files are used from folder to folder, and from nowhere else', async () => {
  const text = 'use prelude 1\nuse "../one/shelf.thou"\nuse "../three/shelf.thou"\nuse "/etc/passwd"\n';
  const shelf = 'part shelf-block: Block {\n  bore: 4 in\n}\n';
  await start({
    files: { 'one/shelf.thou': shelf, 'three/shelf.thou': shelf, 'two/jig.thou': text },
    folders: ['one', 'two'],
  });
  const uri = editor!.uri('two/jig.thou');
  await editor!.open(uri, text);
  const { diagnostics } = await editor!.until(uri, () => true, 0);
  expect(diagnostics.map(({ code, range }) => `${code} ${range.start.line}`)).toEqual([
    'use.refused 2',
    'use.refused 3',
  ]);
});

test('the library is shown by the server where the editor can show it', async () => {
  const capabilities = { ...modern, workspace: { ...modern.workspace, textDocumentContent: {} } };
  const { connection, result } = await start({ capabilities });
  expect(result.capabilities.workspace?.textDocumentContent).toEqual({ schemes: ['thou-library'] });
  const { text } = await connection.sendRequest<{ text: string }>('workspace/textDocumentContent', {
    uri: 'thou-library:/edition-1/block.thou',
  });
  expect(text).toBe(readFileSync(join(top, 'language/prelude/block.thou'), 'utf8'));
});

test('a file of the library that is opened is no second copy', async () => {
  for (const capabilities of [modern, { ...modern, workspace: { ...modern.workspace, textDocumentContent: {} } }]) {
    const { told } = await start({ capabilities });
    const path = join(top, 'language/prelude/block.thou');
    await editor!.open(`file://${path}`, readFileSync(path, 'utf8'));
    const uri = editor!.uri('jig.thou');
    await editor!.open(uri, build('4 inn'));
    const { diagnostics } = await editor!.until(uri, () => true, 0);
    expect(diagnostics.map(({ code }) => code).filter((code) => code !== 'missing')).toEqual(['unit.unknown']);
    expect(told.filter((one) => one.uri.includes('prelude')).flatMap((one) => one.diagnostics)).toEqual([]);
    editor!.tidy();
  }
});

test('an editor that tells nothing of the disk: saving is taken as a sign', async () => {
  const shelf = (bore: string): string => `part shelf-block: Block {\n  bore: ${bore}\n}\n`;
  const text =
    'use prelude 1\nuse "shelf.thou"\n\nbuild jig {\n  layout: single\n  block: shelf-block\n  expect block.bore within 4.0..4.2 in\n}\n';
  const { connection } = await start({ capabilities: {}, files: { 'shelf.thou': shelf('4.1 in'), 'jig.thou': text } });
  const uri = editor!.uri('jig.thou');
  await editor!.open(uri, text);
  await editor!.until(uri, ({ version }) => version === 1, 0);
  expect(editor!.codes(uri)).not.toContain('expect');
  editor!.write('shelf.thou', shelf('4.3 in'));
  const since = editor!.told.length;
  await connection.sendNotification('textDocument/didSave', { textDocument: { uri } });
  await editor!.until(uri, ({ diagnostics }) => diagnostics.some(({ code }) => code === 'expect'), since);
});
