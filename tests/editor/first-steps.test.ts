/** The walk of somebody who has never seen it: from a window as it comes to the first finding put right, then on. Each step is what a hand does. */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startHost, type Host } from './host.ts';
import { chromiumPath } from './install.ts';
import { layOutProbe } from './probe.ts';
import { Workbench } from './workbench.ts';

const top = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'thou-first-'));
const pictures = process.env['THOU_PICTURES'] ?? join(home, 'pictures');
const folder = join(home, 'engines');
const browserFlags =
  '--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync';
const sample = readFileSync(join(top, 'extension/media/walkthrough/first-steps.thou'), 'utf8');

let host: Host;
let browser: Browser;
let window: Workbench;
const walked: string[] = [];
let begun = 0;

/** One thing that a hand does, and how long it was since the window opened when its effect was to be seen. */
function step(what: string): void {
  walked.push(`${walked.length + 1}. ${what}: ${((Date.now() - begun) / 1000).toFixed(1)} s`);
}

beforeAll(async () => {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'first.thou'), sample);
  const built = readdirSync(join(top, 'extension/dist')).find((name) => name.endsWith('.vsix'))!;
  const beside = layOutProbe(join(home, 'probe'));
  host = await startHost(join(home, 'profile'), join(top, 'extension/dist', built), { bare: true, beside });
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags.split(' ') });
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(90_000);
  window = new Workbench(page, pictures);
  begun = Date.now();
  await window.open(host.urlOf(folder));
}, 240_000);

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('first-failed'));
});

afterAll(async () => {
  console.log(walked.join('\n'));
  await browser?.close();
  await host?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const steps = (): Locator => window.page.locator('.gettingStartedContainer');
/** A step is opened by a click on it; its button runs it. */
async function take(title: string, button: string): Promise<void> {
  const category = steps().locator('.getting-started-step', { hasText: title });
  if (!(await category.getAttribute('class'))?.includes('expanded')) await category.click();
  await category.locator('.button-container .monaco-button, a', { hasText: button }).first().click();
}
const text = (): Locator => window.page.locator('.monaco-editor[data-uri^="untitled:"]');

test('the first steps stand on the page that the window begins with', async () => {
  await window.page.locator('.gettingStartedContainer button', { hasText: 'Get started with Thou' }).click();
  await steps().locator('.getting-started-step', { hasText: 'Open a sample engine' }).waitFor();
  step('"Get started with Thou" on the welcome page');
  await window.picture('first-1-steps');
}, 180_000);

test('the sample opens beside them, with its finding underlined', async () => {
  await take('Open a sample engine', 'Open the sample');
  await text().locator('.view-overlays [class*="squiggly-"]').first().waitFor({ timeout: 60_000 });
  step('"Open the sample"');
  await window.picture('first-2-sample');
  expect(await steps().isVisible()).toBe(true);
}, 180_000);

test('what does not hold is said in the text', async () => {
  await take('See what does not hold', 'Go to the finding');
  await text().locator('.peekview-widget', { hasText: 'Quench is 1.150 mm' }).waitFor();
  step('"See what does not hold", "Go to the finding"');
  await window.picture('first-3-finding');
}, 180_000);

test('a fix is taken, and nothing is out any more', async () => {
  await take('Take a fix that was worked out', 'Show the fixes');
  const fixes = window.page.locator('.action-widget .monaco-list-row', { hasText: /quench 1\.\d+ mm/ });
  await fixes.first().waitFor();
  await window.picture('first-4-fixes');
  await window.page.keyboard.press('Enter');
  await expect
    .poll(() => text().locator('.view-overlays [class*="squiggly-warning"]').count(), { timeout: 20_000 })
    .toBe(0);
  step('"Take a fix", "Show the fixes", Enter');
  await window.picture('first-5-fixed');
}, 180_000);

test('the sheet shows, and a figure explains itself', async () => {
  await take('Look at the sheet', 'Open the sheet');
  await window.page
    .frameLocator('iframe.webview >> nth=-1')
    .frameLocator('iframe#active-frame')
    .locator('article.sheet')
    .waitFor({ timeout: 40_000 });
  step('"Look at the sheet", "Open the sheet"');
  await window.picture('first-6-sheet');
}, 180_000);

test('in a file of the folder: explained as a tree that folds and leads to the text', async () => {
  const line = sample.split('\n').findIndex((one) => one.includes('expect compression')) + 1;
  await window.command('View: Close All Editors');
  await window.dismiss();
  await window.show('first.thou', line, 12);
  await window.command('Thou: Explain This Figure');
  const told = window.page.locator('.monaco-editor[data-uri^="thou-report:"]');
  await told.locator('.view-line', { hasText: /^Made\sof/ }).waitFor({ timeout: 30_000 });
  await window.picture('explained');
  expect(await told.locator('.view-line', { hasText: 'swept-volume' }).count()).toBeGreaterThan(0);
  expect(await told.locator('.detected-link').count()).toBeGreaterThan(3);
  expect(await told.locator('.codicon-folding-expanded').count()).toBeGreaterThan(0);
}, 180_000);

test('the code of a finding leads to its page, shown as a page', async () => {
  const line = sample.split('\n').findIndex((one) => one.includes('214.15')) + 1;
  await window.show('first.thou', line, 20);
  await window.waitForMarks((marks) => marks.some((one) => one.line === line));
  await window.hover(line, '214.15');
  await window.page.locator('.monaco-hover a.code-link, .monaco-hover .code-link').first().click();
  await window.page.locator('.tab', { hasText: 'rule.md' }).waitFor();
  const page = window.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  await page.locator('h1', { hasText: 'rule' }).waitFor({ timeout: 20_000 });
  await window.picture('page-of-a-code');
}, 180_000);

test('a language model gets the four tools, and answers from them', async () => {
  await window.command('Probe: Tools');
  const file = join(folder, 'probe.json');
  await expect.poll(() => existsSync(file), { timeout: 60_000 }).toBe(true);
  const { none, names, told } = JSON.parse(readFileSync(file, 'utf8')) as {
    none?: true;
    names: string[];
    told: Record<string, string>;
  };
  expect(none).toBeUndefined();
  expect(names.toSorted()).toEqual(['thou_check', 'thou_explain', 'thou_solve', 'thou_to_measure']);
  expect(told['thou_check']).toMatch(/first: 1 out of limits/);
  expect(told['thou_explain']).toMatch(/^compression.* = 9\.40/);
  expect(told['thou_to_measure']).toMatch(/Still to be measured/);
  expect(told['thou_solve']).toMatch(/brings quench to 1\.00/);
}, 180_000);
