/** A real editor with an empty profile, served to a browser on this machine; nothing is asked outside. */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { cpSync, mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { editorEntry, nodePath } from './install.ts';

/** What keeps the window quiet; nothing about our own extension. */
export const quiet = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.colorTheme': 'Default Light Modern',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'chat.disableAIFeatures': true,
  'telemetry.telemetryLevel': 'off',
  'editor.minimap.enabled': false,
  'files.autoSave': 'off',
};

/** Nobody is asked whether a folder is trusted: it is not. */
const unasked = { 'security.workspace.trust.startupPrompt': 'never', 'security.workspace.trust.banner': 'never' };

export interface Host {
  readonly address: string;
  /** A new window on a folder. */
  readonly urlOf: (folder: string) => string;
  stop(): Promise<void>;
}

export interface HostOptions {
  /** Whether folders are trusted without being asked. */
  readonly trusts?: boolean;
  /** As it comes, welcome page and all. */
  readonly bare?: boolean;
  /** The folder of an extension that stands beside the packed one. */
  readonly beside?: string;
}

export async function startHost(home: string, extension: string, options: HostOptions = {}): Promise<Host> {
  const user = join(home, 'data/code-server/User');
  for (const folder of [user, join(home, 'config'), join(home, 'run'), join(home, 'tmp')])
    mkdirSync(folder, { recursive: true });
  const chosen = options.trusts === false ? { ...quiet, ...unasked } : quiet;
  if (options.bare !== true) writeFileSync(join(user, 'settings.json'), JSON.stringify(chosen));
  const env = {
    PATH: process.env['PATH'],
    HOME: home,
    XDG_CONFIG_HOME: join(home, 'config'),
    XDG_DATA_HOME: join(home, 'data'),
    XDG_RUNTIME_DIR: join(home, 'run'),
    TMPDIR: join(home, 'tmp'),
    EXTENSIONS_GALLERY: '{"serviceUrl":""}',
  };
  // what lies there when the first one is installed counts as installed
  if (options.beside !== undefined)
    cpSync(options.beside, join(home, 'data/code-server/extensions/beside'), { recursive: true });
  execFileSync(nodePath, [editorEntry, '--install-extension', extension], { env, stdio: 'pipe' });
  const address = `127.0.0.1:${await freePort()}`;
  const flags = [
    '--disable-telemetry',
    '--disable-update-check',
    ...(options.trusts === false ? [] : ['--disable-workspace-trust']),
    '--disable-getting-started-override',
  ];
  const server = spawn(nodePath, [editorEntry, '--auth', 'none', '--bind-addr', address, ...flags], {
    env,
    stdio: 'ignore',
    detached: true,
  });
  await answers(`http://${address}/healthz`, server);
  return {
    address,
    urlOf: (folder) => `http://${address}/?folder=${encodeURIComponent(folder)}`,
    stop: () => ended(server),
  };
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((ready) => probe.listen(0, '127.0.0.1', ready));
  const address = probe.address();
  await new Promise((closed) => probe.close(closed));
  if (address === null || typeof address === 'string') throw new Error('no port is free');
  return address.port;
}

async function answers(url: string, server: ChildProcess): Promise<void> {
  for (let tries = 0; tries < 300; tries++) {
    if (server.exitCode !== null) throw new Error(`the editor stopped with code ${server.exitCode}`);
    const ok = await fetch(url).then(
      (response) => response.ok,
      () => false,
    );
    if (ok) return;
    await new Promise((later) => setTimeout(later, 100));
  }
  throw new Error('the editor does not answer');
}

/** With everything it started: the processes of its windows would live on for a while. */
async function ended(server: ChildProcess): Promise<void> {
  const gone = new Promise((exit) => server.once('exit', exit));
  if (server.exitCode !== null || server.pid === undefined) return;
  process.kill(-server.pid, 'SIGTERM');
  await gone;
}
