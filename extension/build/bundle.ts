/**
 * Makes `dist/`: the client, and the whole of the language as one file with the trade library and the pages of its messages beside it, laid
 * out as in the repository so that it finds each in its place.
 */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build, type BuildOptions } from 'esbuild';
import { noticesFor } from './notices.ts';

const at = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const common: BuildOptions = {
  absWorkingDir: at('..'),
  bundle: true,
  format: 'cjs',
  platform: 'node',
  // what the oldest editor that the manifest allows brings along
  target: 'node22',
  minify: true,
  metafile: true,
  legalComments: 'none',
  logLevel: 'warning',
  // the folder's own TypeScript settings are for its types alone
  tsconfigRaw: {},
};

/** One file for all: what runs as a process and as a worker is the same language. Only what is asked for is set up: an editor waits for it. */
const bothWays = `if ('importScripts' in globalThis) void import('./language/src/worker/main.ts');
else if (process.argv.slice(2).join(' ') === 'serve --stdio') void import('./language/src/command-line/standard-streams.ts').then(({ serve }) => serve());
else void import('./language/src/command-line/main.ts').then(({ start }) => start());
`;
const sourceAddress =
  "var sourceAddress=typeof require==='function'?require('node:url').pathToFileURL(__dirname+'/src/any/source.ts').href:'';";

/** Starts the bundle as `thou serve --stdio`, whatever else the editor hands over; what was compiled once is kept for the next start. */
const launcher = `require('node:module').enableCompileCache?.();
process.argv.splice(2, process.argv.length, 'serve', '--stdio');
require('./thou.cjs');
`;

/** Returns the notices of all that was bundled. */
export async function bundle(): Promise<string> {
  rmSync(at('dist/language'), { recursive: true, force: true });
  mkdirSync(at('dist/language'), { recursive: true });
  const client = await build({
    ...common,
    entryPoints: ['extension/src/desktop/main.ts'],
    outfile: 'extension/dist/client.cjs',
    external: ['vscode'],
  });
  const browser = await build({
    ...common,
    entryPoints: ['extension/src/browser/main.ts'],
    outfile: 'extension/dist/browser.cjs',
    platform: 'browser',
    target: 'es2024',
    external: ['vscode'],
  });
  const view = await build({
    ...common,
    entryPoints: ['extension/view/sheet.ts'],
    outfile: 'extension/dist/view/sheet.js',
    format: 'iife',
    platform: 'browser',
    target: 'es2022',
  });
  const language = await build({
    ...common,
    stdin: { contents: bothWays, resolveDir: at('..'), loader: 'ts' },
    outfile: 'extension/dist/language/thou.cjs',
    format: 'iife',
    // both streams and workers are spoken to
    conditions: ['browser'],
    // every source asks for what lies two folders above it; the bundle answers for all of them
    define: { 'import.meta.url': 'sourceAddress' },
    banner: { js: sourceAddress },
  });
  writeFileSync(at('dist/language/server.cjs'), launcher);
  cpSync(at('../language/prelude'), at('dist/language/prelude'), { recursive: true });
  mkdirSync(at('dist/language/dist'), { recursive: true });
  const makeReady = at('../language/src/command-line/make-ready.ts');
  execFileSync(process.execPath, [makeReady, at('dist/language/dist')]);
  cpSync(at('../language/docs/problems'), at('dist/language/docs/problems'), { recursive: true });
  cpSync(at('../language/package.json'), at('dist/language/package.json'));
  const inputs = [client, browser, view, language].flatMap(({ metafile }) => Object.keys(metafile?.inputs ?? {}));
  return noticesFor(inputs, at('..'));
}
