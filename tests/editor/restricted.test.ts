/**
 * A folder that nobody trusts yet, and a folder that lies on no disk, in the editor with a machine behind it: all is told, and nothing is written.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startHost, type Host } from './host.ts';
import { browserFlags, chromiumPath } from './install.ts';
import { job, lines } from './job.ts';
import { fillMemoryFolder } from './web-host.ts';
import { Workbench } from './workbench.ts';

const top = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'thou-restricted-'));
const folder = join(home, 'engines');

let host: Host;
let browser: Browser;
let window: Workbench;

/** Every file below the folder, with what it holds and when it was written. */
const state = (): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .toSorted()
    .map((name) => {
      const about = statSync(join(folder, name));
      return `${name} ${about.mtimeMs} ${about.isFile() ? readFileSync(join(folder, name), 'utf8') : ''}`;
    });
let before: readonly string[];

beforeAll(async () => {
  for (const [path, text] of Object.entries(job)) {
    mkdirSync(dirname(join(home, path)), { recursive: true });
    writeFileSync(join(home, path), text);
  }
  before = state();
  const memory = join(home, 'memory-folder');
  fillMemoryFolder(memory, job);
  const built = readdirSync(join(top, 'extension/dist')).find((name) => name.endsWith('.vsix'))!;
  host = await startHost(join(home, 'profile'), join(top, 'extension/dist', built), { trusts: false, beside: memory });
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  window = new Workbench(page, process.env['THOU_PICTURES'] ?? join(home, 'pictures'));
});

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('restricted-failed'));
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
});

/** Findings, hover and sheet of the job, wherever it lies. */
async function all(picture: string): Promise<void> {
  await window.pick('jig.thou');
  const marks = await window.waitForMarks((found) => found.some(({ line }) => line === lines.table));
  expect(marks.filter(({ severity }) => severity === 'error').map(({ line }) => line)).toEqual([
    lines.stroke,
    lines.table,
  ]);
  expect(await window.hover(lines.table, 'bore')).toContain('4.1');
  await window.command('Open Sheet to the Side');
  const sheet = window.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  await sheet.locator('h1', { hasText: 'jig' }).waitFor();
  await window.picture(picture);
}

test('in a folder that nobody trusts all is told', { timeout: 120_000 }, async () => {
  await window.open(host.urlOf(folder));
  await window.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor();
  await all('restricted');
});

test('and nothing in it was written', () => {
  expect(state()).toEqual(before);
});

test(
  'in a folder that lies on no disk all is told, what is used and the table read through the editor',
  { timeout: 120_000 },
  async () => {
    await window.open(host.urlOf('memory:/engines'));
    await all('virtual');
  },
);
