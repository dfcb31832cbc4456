/**
 * A folder that nobody trusts yet, and a folder that lies on no disk, in the editor with a machine behind it: all is told, and nothing is written.
 */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { hostileFiles, stateOf } from '../language/services/protocol/hostile-folder.ts';
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

/** Comes to be when anything in the folder is run. */
const mark = join(home, 'mark');
let before: readonly string[];

beforeAll(async () => {
  for (const [path, text] of Object.entries(job)) {
    mkdirSync(dirname(join(home, path)), { recursive: true });
    writeFileSync(join(home, path), text);
  }
  for (const [name, text] of Object.entries(hostileFiles(mark))) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  before = stateOf(folder);
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

/** What the list of commands offers of ours. */
async function offered(): Promise<string[]> {
  await window.page.keyboard.press('F1');
  await window.page.locator('.quick-input-widget input').fill('>Thou: ');
  const rows = window.page.locator('.quick-input-list .monaco-list-row');
  await rows.filter({ hasText: 'Thou: Open Sheet to the Side' }).first().waitFor();
  const titles: string[] = [];
  for (let count = 0; count < 40; count++) {
    const title = await window.page.locator('.quick-input-list .monaco-list-row.focused .label-name').innerText();
    if (titles.includes(title)) break;
    titles.push(title);
    await window.page.keyboard.press('ArrowDown');
  }
  await window.page.keyboard.press('Escape');
  return titles.filter((title) => title.startsWith('Thou: '));
}

/** Processes below the one that serves, in this editor alone. */
function startedByServer(): string[] {
  const processes = readdirSync('/proc').flatMap((id) => {
    if (!/^\d+$/.test(id)) return [];
    try {
      const parent = /\) \S (\d+)/.exec(readFileSync(`/proc/${id}/stat`, 'utf8'))![1]!;
      return [{ id, parent, line: readFileSync(`/proc/${id}/cmdline`, 'utf8').replaceAll('\0', ' ') }];
    } catch {
      return [];
    }
  });
  const servers = processes.filter(({ line }) => line.includes(home) && line.includes('dist/language/server.cjs'));
  expect(servers.length).toBeGreaterThan(0);
  return processes.filter(({ parent }) => servers.some(({ id }) => id === parent)).map(({ line }) => line);
}

/** What only reads is there wherever the file lies. */
const reading = [
  'Thou: Open Sheet to the Side',
  'Thou: Explain This Figure',
  'Thou: Compare the Builds of This File',
  'Thou: Look at a Fix Before It Is Taken',
  'Thou: Take the Readings That Are Due',
];
/** What runs another program, or writes a file beside the text, waits until the folder is trusted and lies on a disk. */
const held = ['Thou: Make a Table for Readings (CSV)', 'Thou: Compare with an Earlier Commit'];

async function onlyReading(): Promise<void> {
  await window.page.locator('.tab', { hasText: 'jig.thou' }).first().click();
  const titles = await offered();
  expect(titles).toEqual(expect.arrayContaining(reading));
  for (const title of held) expect(titles).not.toContain(title);
}

test('there commands that read are offered, and those that run or write are not', { timeout: 60_000 }, onlyReading);

test('a folder made to do harm is told of too, and nothing in it was run, started or written', async () => {
  await window.pick('bait.thou');
  await window.waitForMarks((found) => found.some(({ severity }) => severity === 'error'));
  await window.picture('restricted-bait');
  expect(startedByServer()).toEqual([]);
  expect(existsSync(mark)).toBe(false);
  expect(stateOf(folder)).toEqual(before);
});

test(
  'in a folder that lies on no disk all is told, what is used and the table read through the editor',
  { timeout: 120_000 },
  async () => {
    await window.open(host.urlOf('memory:/engines'));
    await all('virtual');
  },
);

test('there the same commands are offered', { timeout: 60_000 }, onlyReading);
