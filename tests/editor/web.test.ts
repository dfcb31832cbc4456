/** The extension in an editor that is nothing but a page: its client and its server are workers, its files lie on no disk. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { browserFlags, chromiumPath } from './install.ts';
import { job, lines } from './job.ts';
import type { StaticServer } from './static-server.ts';
import { fillMemoryFolder, startWebHost } from './web-host.ts';
import { Workbench } from './workbench.ts';

const home = mkdtempSync(join(tmpdir(), 'thou-web-'));
const asked: string[] = [];

let host: StaticServer;
let browser: Browser;
let window: Workbench;

beforeAll(async () => {
  const memory = join(home, 'memory-folder');
  fillMemoryFolder(memory, job);
  host = await startWebHost({ memory, thou: join(import.meta.dirname, '../../extension') });
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.on('request', (request) => asked.push(request.url()));
  window = new Workbench(page, process.env['THOU_PICTURES'] ?? join(home, 'pictures'));
  await window.open(`http://${host.address}/`);
});

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('web-failed'));
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
});

test('findings are underlined, with the file in use and the table read through the editor', async () => {
  await window.pick('jig.thou');
  const marks = await window.waitForMarks((found) => found.some(({ line }) => line === lines.table));
  await window.picture('web-findings');
  expect(marks.filter(({ severity }) => severity === 'error').map(({ line }) => line)).toEqual([
    lines.stroke,
    lines.table,
  ]);
});

test('resting on a name tells what it stands for', async () => {
  const told = await window.hover(lines.table, 'bore');
  await window.picture('web-hover');
  expect(told).toContain('4.1');
});

test('beside the language stands how the build does', async () => {
  expect(await window.languageStatus(/to measure/)).toMatch(/\d+ hold · \d+ out/);
});

test('a table that is changed and saved is read again', async () => {
  await window.pick('bores.csv');
  await window.replace(2, '4.1000', '4.2500');
  await window.save();
  await window.pick('jig.thou');
  await window.waitForMarks((found) => !found.some(({ line }) => line === lines.table));
  await window.picture('web-mended');
});

test('the sheet stands beside the text', async () => {
  await window.command('Open Sheet to the Side');
  const sheet = window.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  await sheet.locator('h1', { hasText: 'jig' }).waitFor();
  await window.picture('web-sheet');
});

test('a server that is started again answers as before', async () => {
  await window.command('Restart language server');
  await window.waitForMarks((found) => found.length === 0);
  await window.waitForMarks((found) => found.some(({ line }) => line === lines.stroke));
});

test('nothing was asked of any other machine', () => {
  const own = `http://${host.address}/`;
  expect(asked.length).toBeGreaterThan(0);
  expect(asked.filter((url) => /^https?:/.test(url) && !url.startsWith(own))).toEqual([]);
});
