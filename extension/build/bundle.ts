/** Makes `dist/`: the client, for a desktop and for a browser, what runs inside the sheet's page, and the language. */
import { mkdirSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { common } from './common.ts';
import { packLanguage } from './language.ts';
import { noticesFor } from './notices.ts';

const at = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

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
  const language = await packLanguage(at('dist/language'));
  const bundled = [client.metafile, browser.metafile, view.metafile, language];
  return noticesFor(
    bundled.flatMap(({ inputs }) => Object.keys(inputs)),
    at('..'),
  );
}
