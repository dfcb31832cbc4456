/**
 * Puts the whole of the language into a folder: one file, with the trade library and the pages of its messages beside it, laid out as in the
 * repository so that it finds each in its place.
 */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, type Metafile } from 'esbuild';
import { common } from './common.ts';

const at = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

/** One file for all: what runs as a process and as a worker is the same language. Only what is asked for is set up: an editor waits for it. */
const bothWays = `if ('importScripts' in globalThis) void import('./language/src/worker/main.ts');
else if (process.argv.slice(2).join(' ') === 'serve --stdio') void import('./language/src/command-line/standard-streams.ts').then(({ serve }) => serve());
else void import('./language/src/command-line/main.ts').then(({ start }) => start());
`;
const sourceAddress =
  "var sourceAddress=typeof require==='function'?require('node:url').pathToFileURL(__dirname+'/src/any/source.ts').href:'';";

/**
 * Starts the bundle as `thou serve --stdio`, whatever else the editor hands over. What was compiled once is kept for the next start: soon, since
 * an editor that is closed does not always let its servers come to their end.
 */
const launcher = `const { enableCompileCache, flushCompileCache } = require('node:module');
enableCompileCache?.();
setTimeout(() => flushCompileCache?.(), 5000).unref();
process.argv.splice(2, process.argv.length, 'serve', '--stdio');
require('./thou.cjs');
`;

/** Returns what went into the one file. */
export async function packLanguage(folder: string): Promise<Metafile> {
  const { metafile } = await build({
    ...common,
    stdin: { contents: bothWays, resolveDir: at('..'), loader: 'ts' },
    outfile: join(folder, 'thou.cjs'),
    format: 'iife',
    // both streams and workers are spoken to
    conditions: ['browser'],
    // every source asks for what lies two folders above it; the bundle answers for all of them
    define: { 'import.meta.url': 'sourceAddress' },
    banner: { js: sourceAddress },
  });
  writeFileSync(join(folder, 'server.cjs'), launcher);
  cpSync(at('../language/prelude'), join(folder, 'prelude'), { recursive: true });
  mkdirSync(join(folder, 'dist'), { recursive: true });
  const makeReady = at('../language/src/command-line/make-ready.ts');
  execFileSync(process.execPath, [makeReady, join(folder, 'dist')]);
  cpSync(at('../language/docs/problems'), join(folder, 'docs/problems'), { recursive: true });
  cpSync(at('../language/package.json'), join(folder, 'package.json'));
  return metafile;
}
