/**
 * Two editors that we did not write drive the server, set up by the very lines of the page on editors: Debian's Neovim 0.7 and Emacs with Eglot. Left out
 * where they are not installed, but not in CI.
 */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
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

/** As Emacs does by itself when it is not started for a script. */
const packages = ['--batch', '-q', '--eval', "(progn (require 'package) (package-initialize))"];
const page = readFileSync(join(top, 'language/docs/editors.md'), 'utf8');

/** The first lines of code under a heading of the page. */
function linesUnder(heading: string): string {
  const [, code] = /```\w+\n([^]*?)\n```/.exec(page.split(`\n## ${heading}\n`)[1] ?? '') ?? [];
  if (code === undefined) throw new Error(`nothing to set up stands under "${heading}"`);
  return `${code}\n`;
}

const editors = [
  {
    editor: 'nvim',
    heading: 'Neovim 0.7 to 0.10',
    config: 'init.lua',
    args: (config: string) => ['--headless', '-u', config, '-S', join(here, 'neovim.lua')],
    // Neovim itself turns columns into bytes: 2 + 2 + 2 + 4 bytes for 5 units
    first: `unit.unknown 3:${column + 5}-${column + 8}`,
  },
  {
    editor: 'emacs',
    heading: 'Emacs with Eglot',
    config: 'init.el',
    args: (config: string) => [...packages, '-l', config, '-l', join(here, 'emacs.el')],
    first: `thou [unit.unknown]: "inn" is not a unit. Did you mean in? ${letter}-${letter + 3}`,
  },
];

test.for(editors)('$editor', async ({ editor, heading, config, args, first }, { skip }) => {
  skip(spawnSync(editor, ['--version']).status !== 0 && !process.env['CI'], `${editor} is not installed`);
  const folder = mkdtempSync(join(tmpdir(), 'thou-editor-'));
  const file = join(folder, 'jig.thou');
  writeFileSync(file, text);
  writeFileSync(join(folder, config), linesUnder(heading));
  const running = spawn(editor, args(join(folder, config)), {
    cwd: folder,
    env: {
      ...process.env,
      HOME: folder,
      PATH: `${join(top, 'node_modules/.bin')}:${process.env['PATH']}`,
      THOU_FILE: file,
    },
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  let out = '';
  running.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
  await new Promise((done) => running.once('exit', done));
  rmSync(folder, { recursive: true, force: true });
  expect(out).toBe(`first: ${first}\nmended: clean\n`);
});
