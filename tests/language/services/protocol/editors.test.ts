/** Two editors that we did not write drive the server: Debian's Neovim 0.7 and Emacs with Eglot. Left out where they are not installed, but not in CI. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { top } from './client.ts';

const here = join(top, 'tests/language/services/protocol');

// the signs are one, one, one and two UTF-16 units wide
const line = '/* ±°³ 🔧 */ block.bore: 4.1 inn';
const text = `use prelude 1\n\nbuild jig {\n${line}\n}\n`;
const column = line.indexOf('inn');
/** Emacs counts letters, from 1. */
const letter = Array.from(text.slice(0, text.indexOf('inn'))).length + 1;

const editors = [
  {
    editor: 'nvim',
    args: ['--headless', '-u', 'NONE', '-S', join(here, 'neovim.lua')],
    // Neovim itself turns columns into bytes: 2 + 2 + 2 + 4 bytes for 5 units
    first: `unit.unknown 3:${column + 5}-${column + 8}`,
  },
  {
    editor: 'emacs',
    args: ['--batch', '-q', '-l', join(here, 'emacs.el')],
    first: `thou [unit.unknown]: "inn" is not a unit. Did you mean in? ${letter}-${letter + 3}`,
  },
];

test.for(editors)('$editor', async ({ editor, args, first }, { skip }) => {
  skip(spawnSync(editor, ['--version']).status !== 0 && !process.env['CI'], `${editor} is not installed`);
  const folder = mkdtempSync(join(tmpdir(), 'thou-editor-'));
  const file = join(folder, 'jig.thou');
  writeFileSync(file, text);
  const server = `${process.execPath} ${join(top, 'language/bin/thou.js')} serve --stdio`;
  const running = spawn(editor, args, {
    cwd: folder,
    env: { ...process.env, HOME: folder, THOU_SERVER: server, THOU_FILE: file },
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  let out = '';
  running.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
  await new Promise((done) => running.once('exit', done));
  rmSync(folder, { recursive: true, force: true });
  expect(out).toBe(`first: ${first}\nmended: clean\n`);
});
