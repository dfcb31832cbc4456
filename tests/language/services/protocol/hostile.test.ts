/** A folder from somebody who means harm, answered over a real process: nothing in it is run, no process is started, no file is written. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { reportMethod, sheetMethod, sheetPageMethod, toolMethod } from '@thou/shared/protocol';
import { buildFilesMethod, fixesMethod, standingMethod } from '@thou/shared/protocol-checks';
import { afterAll, expect, test } from 'vitest';
import { Editor } from './client.ts';
import { hostileFiles, stateOf } from './hostile-folder.ts';

/** Loaded before the program: names on the standard error whatever starts a process or a thread, writes, or speaks to another machine. */
const recorder = `
const { writeSync } = require('node:fs');
const writes = ['writeFile', 'appendFile', 'mkdir', 'rm', 'rename', 'unlink', 'symlink', 'copyFile', 'chmod'];
const watched = {
  child_process: ['spawn', 'spawnSync', 'exec', 'execSync', 'execFile', 'execFileSync', 'fork'],
  worker_threads: ['Worker'],
  fs: [...writes, ...writes.map((one) => one + 'Sync'), 'createWriteStream'],
  'fs/promises': writes,
  net: ['connect', 'createConnection'], http: ['request', 'get'], https: ['request', 'get'], dgram: ['createSocket'],
};
for (const [name, functions] of Object.entries(watched)) {
  const module = require('node:' + name);
  for (const one of functions) {
    const real = module[one];
    module[one] = function (...given) {
      writeSync(2, 'seen: ' + name + ' ' + one + '\\n');
      return new.target ? Reflect.construct(real, given) : real.apply(this, given);
    };
  }
}
require('node:module').syncBuiltinESMExports();
`;
const outside = mkdtempSync(join(tmpdir(), 'thou-outside-'));
const preload = join(outside, 'recorder.cjs');
const mark = join(outside, 'mark');
writeFileSync(preload, recorder);
afterAll(() => rmSync(outside, { recursive: true, force: true }));

const seenIn = (errors: string): string[] => errors.split('\n').filter((line) => line.startsWith('seen: '));

test('the recorder names a process that is started and a file that is written', () => {
  const program = `import { execFileSync } from 'node:child_process'; import { writeFileSync } from 'node:fs';
    execFileSync('true'); writeFileSync(${JSON.stringify(join(outside, 'written'))}, '');`;
  const { stderr } = spawnSync(process.execPath, ['--require', preload, '--input-type=module', '-e', program], {
    encoding: 'utf8',
  });
  expect(seenIn(stderr)).toEqual(
    expect.arrayContaining(['seen: child_process execFileSync', 'seen: fs writeFileSync']),
  );
});

test('the files of the folder would leave their mark if they were run', () => {
  const files = hostileFiles(mark);
  for (const name of ['evil.sh', 'evil.cjs']) writeFileSync(join(outside, name), files[name]!);
  for (const [program, name] of [
    ['sh', 'evil.sh'],
    [process.execPath, 'evil.cjs'],
  ] as const) {
    spawnSync(program, [join(outside, name)]);
    expect(existsSync(mark), name).toBe(true);
    rmSync(mark);
  }
});

test('everything an editor asks is answered, and nothing is run, started or written', async () => {
  const files = hostileFiles(mark);
  const settings = JSON.parse(files['.vscode/settings.json']!) as unknown;
  const editor = await Editor.start({ files, settings: () => settings, runWith: ['--require', preload] });
  const before = stateOf(editor.folder);
  const uri = editor.uri('bait.thou');
  const textDocument = { uri };
  const text = files['bait.thou']!;
  const line = text.split('\n').findIndex((one) => one.includes('thickness'));
  const position = { line, character: text.split('\n')[line]!.indexOf('thickness') + 2 };
  const range = { start: position, end: position };
  const said = editor.until(uri, ({ diagnostics }) => diagnostics.length > 0, 0);
  await editor.open(uri, text);
  const told = JSON.stringify(await said);
  expect(told).toContain('use.refused');
  expect(told).not.toContain('root:');
  const ask = async (method: string, params: object): Promise<string> => {
    const answer: unknown = await editor.connection.sendRequest(method, params);
    return JSON.stringify(answer) ?? '';
  };
  expect(await ask('textDocument/hover', { textDocument, position })).toContain('0.9');
  for (const method of ['documentSymbol', 'documentLink', 'codeLens', 'foldingRange', 'semanticTokens/full'])
    await ask(`textDocument/${method}`, { textDocument });
  for (const method of ['completion', 'definition', 'references', 'prepareCallHierarchy'])
    await ask(`textDocument/${method}`, { textDocument, position, context: { includeDeclaration: true } });
  await ask('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } });
  await ask('textDocument/formatting', { textDocument, options: { tabSize: 2, insertSpaces: true } });
  await ask('workspace/symbol', { query: 'bait' });
  const about = { textDocument, build: null };
  expect(await ask(sheetMethod, { ...about, kind: 'whole', open: null, have: {} })).toContain('bait');
  expect(await ask(sheetPageMethod, { ...about, kind: 'whole' })).not.toContain('<script');
  for (const sort of ['findings', 'toMeasure', 'comparison']) await ask(reportMethod, { ...about, sort });
  await ask(reportMethod, { ...about, sort: 'explanation', figure: 'quench' });
  await ask(toolMethod, { tool: 'thou_check', input: { file: '../../etc/passwd' }, active: uri });
  await ask(buildFilesMethod, {});
  await ask(standingMethod, { textDocument });
  await ask(fixesMethod, { textDocument, range });
  expect(stateOf(editor.folder)).toEqual(before);
  expect(await editor.stop()).toBe(0);
  expect(seenIn(editor.errors)).toEqual([]);
  expect(existsSync(mark) ? readFileSync(mark, 'utf8') : '').toBe('');
}, 60_000);
