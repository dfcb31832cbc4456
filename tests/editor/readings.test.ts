/** Readings brought in and checks gone through in a real editor: pasted, typed, kept in a table; seen above the build, in a view, as tests, in comparisons. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { startHost, type Host } from './host.ts';
import { chromiumPath } from './install.ts';
import { Workbench } from './workbench.ts';

const top = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'thou-readings-'));
const pictures = process.env['THOU_PICTURES'] ?? join(home, 'pictures');
const folder = join(home, 'engines');
const browserFlags =
  '--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync';

const engine = `use prelude 1

build one {
  layout: inline-4
  redline: 7000 rpm
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket { bore: 82 mm, thickness: 0.9 mm }
  quench-limits: 1.2..1.8 mm
  expect redline within <= 7200 rpm

  measured on 2026-03-02 by "A. H." {
    piston.compression-height:
  }
}

variant thin of one { head-gasket.thickness: 0.5 mm }
`;
const lineOf = (words: string): number => engine.split('\n').findIndex((text) => text.includes(words)) + 1;
/** What is out is underlined here. */
const deck = lineOf('deck-height');
const measured = lineOf('measured on') + 1;
/** The lines that one test or another changes. */
const touched = [lineOf('redline: 7000'), deck, lineOf('thickness: 0.9'), measured];

vi.setConfig({ testTimeout: 240_000, hookTimeout: 300_000 });

let host: Host;
let browser: Browser;
let window: Workbench;

const git = (...words: readonly string[]): void => {
  execFileSync('git', ['-c', 'user.name=A. H.', '-c', 'user.email=a@bench.example', ...words], { cwd: folder });
};

beforeAll(async () => {
  mkdirSync(folder, { recursive: true });
  git('init', '-q');
  writeFileSync(join(folder, 'one.thou'), engine.replace('thickness: 0.9', 'thickness: 1.2'));
  git('add', '.');
  git('commit', '-qm', 'As it came');
  writeFileSync(join(folder, 'one.thou'), engine);
  git('commit', '-qam', 'A thinner gasket');
  const built = readdirSync(join(top, 'extension/dist')).find((name) => name.endsWith('.vsix'))!;
  host = await startHost(join(home, 'profile'), join(top, 'extension/dist', built));
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags.split(' ') });
  const context = await browser.newContext({
    viewport: { width: 1400, height: 850 },
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  // a machine that does other things too is slow to open a window
  context.setDefaultTimeout(120_000);
  window = new Workbench(await context.newPage(), pictures);
  await window.open(host.urlOf(folder));
  await window.show('one.thou', 1, 1);
  await window.waitForMarks(
    (marks) => marks.some(({ line, severity }) => line === deck && severity === 'warning'),
    90_000,
  );
});

/** Each test begins with the text as it was. */
beforeEach(async () => {
  writeFileSync(join(folder, 'one.thou'), engine);
  await window.show('one.thou', 1, 1);
  await window.command('File: Revert File');
  const shown = async (): Promise<string[]> => Promise.all(touched.map((line) => window.lineText(line)));
  await expect.poll(shown, { timeout: 40_000 }).toEqual(touched.map((line) => engine.split('\n')[line - 1]!));
});

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('readings-failed'));
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const input = (): Locator =>
  window.page.locator('.quick-input-widget input[type="text"], .quick-input-widget input:not([type])').first();

async function paste(text: string): Promise<void> {
  await window.page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
  await window.page.keyboard.press('Control+V');
}

/** Waits for a box with this title, types, and takes it. */
async function answer(title: string | RegExp, typed?: string): Promise<void> {
  await window.page.locator('.quick-input-titlebar', { hasText: title }).waitFor();
  if (typed !== undefined) await input().fill(typed);
  await window.page.keyboard.press('Enter');
}

test('a column of figures with decimal commas becomes the list of its axis; one that does not fit is refused with a reason', async () => {
  await window.goTo(measured, 31);
  await paste('30,01\n29,99\n30,00\n30,02\n');
  await expect
    .poll(() => window.lineText(measured), { timeout: 40_000 })
    .toBe('    piston.compression-height: [30.01, 29.99, 30.00, 30.02] mm');
  await window.picture('pasted');
  await window.page.keyboard.press('Control+Z');
  const shown = async (): Promise<string[]> => Promise.all(touched.map((line) => window.lineText(line)));
  await expect.poll(shown, { timeout: 40_000 }).toEqual(touched.map((line) => engine.split('\n')[line - 1]!));
  await paste('30,01\n29,99\n30,00\n');
  const refused = window.page.locator('.notification-toast', { hasText: '3 cells are on the clipboard' });
  await refused.waitFor();
  await window.picture('paste-refused');
  expect(await window.lineText(measured)).toBe('    piston.compression-height:');
  expect(await window.lineText(measured + 1)).toBe('  }');
  await window.command('Notifications: Clear All Notifications');
});

test('readings are taken one by one: looked at while they are typed, each written as one change', async () => {
  await window.goTo(1, 1);
  await window.command('Thou: Take the Readings That Are Due');
  await answer('who measures');
  await answer(/: when/, '2026-03-02');
  await answer('with what');
  const titles = window.page.locator('.quick-input-titlebar', { hasText: /^1 of \d+: / });
  await titles.waitFor();
  await input().fill('30,01');
  await window.page.locator('.quick-input-message', { hasText: 'Write a decimal point: 30.01.' }).waitFor();
  await window.picture('reading-refused');
  await input().fill('80.01 mm');
  await window.page.locator('.quick-input-message', { hasText: 'Write a decimal point' }).waitFor({ state: 'hidden' });
  await window.picture('reading');
  await window.page.keyboard.press('Enter');
  await window.page.locator('.quick-input-titlebar', { hasText: /^2 of \d+: / }).waitFor();
  await window.picture('reading-next');
  await window.page.keyboard.press('Escape');
  const line = await window.lineText(measured + 1);
  expect(line).toMatch(/^ {4}[\w.-]+: \[80\.01, _, _, _(, _)*\] mm/);
  await window.goTo(1, 1);
  await window.page.keyboard.press('Control+Z');
  await expect.poll(() => window.lineText(measured + 1), { timeout: 40_000 }).toBe('  }');
});

test('above the build stands how it does; from there to the view, and from a finding to the text', async () => {
  const lens = window.editor
    .locator('.codelens-decoration a', { hasText: /\d+ hold · \d+ out · \d+ to measure/ })
    .first();
  await lens.waitFor({ timeout: 40_000 });
  await window.picture('lens');
  await lens.click();
  const view = window.page.locator('.pane', { hasText: 'Engine Build' });
  const focused = (words: string): Locator => view.locator('.monaco-list-row.focused', { hasText: words });
  await view.locator('.monaco-list-row', { hasText: 'Quench clearance' }).first().waitFor();
  await window.page.keyboard.press('Home');
  await focused('one').waitFor();
  await window.page.keyboard.press('ArrowDown');
  await focused('Findings').waitFor();
  await window.page.keyboard.press('ArrowDown');
  await focused('Quench clearance').waitFor();
  await window.picture('view');
  await window.page.keyboard.press('Enter');
  await window.page.locator('.statusbar-item', { hasText: `Ln ${deck},` }).waitFor();
});

/** Opens a row of a tree by its twistie, as often as the tree forgets it while it is still being filled. */
async function unfold(row: Locator): Promise<void> {
  await row.waitFor({ timeout: 40_000 });
  const opened = async (): Promise<string | null> => {
    if ((await row.getAttribute('aria-expanded')) !== 'true') await row.locator('.monaco-tl-twistie').click();
    return row.getAttribute('aria-expanded');
  };
  await expect.poll(opened, { timeout: 40_000, interval: 500 }).toBe('true');
}

test('checks stand as tests, and follow the text without being run', async () => {
  await window.command('Testing: Focus on Test Explorer View');
  const tree = window.page.locator('.test-explorer');
  const row = (level: number, words: string | RegExp): Locator =>
    tree.locator(`.monaco-list-row[aria-level="${level}"]`, { hasText: words }).first();
  await unfold(row(1, 'one.thou'));
  await row(2, 'thin').waitFor({ timeout: 40_000 });
  await unfold(row(2, /^one/));
  const redline = row(3, 'Expect redline');
  const clearance = row(3, 'Quench clearance');
  await expect.poll(() => redline.getAttribute('aria-label'), { timeout: 40_000 }).toMatch(/Passed/);
  await expect.poll(() => clearance.getAttribute('aria-label'), { timeout: 40_000 }).toMatch(/Failed/);
  await window.picture('tests');
  // what is underlined already is not told a second time beside the line
  expect(await window.page.locator('.test-message-inline-content').count()).toBe(0);
  await window.goTo(lineOf('redline: 7000'), 1);
  await window.replace(lineOf('redline: 7000'), '7000', '7300');
  await expect.poll(() => redline.getAttribute('aria-label'), { timeout: 40_000 }).toMatch(/Failed/);
  await window.editor
    .locator('.codelens-decoration', { hasText: / 2 out / })
    .first()
    .waitFor({ timeout: 40_000 });
  await window.picture('tests-after-edit');
  expect(await window.page.locator('.part.panel:visible').count()).toBe(0);
  await window.command('View: Show Explorer');
});

test('a fix is looked at as a comparison, then taken', async () => {
  await window.goTo(deck, engine.split('\n')[deck - 1]!.indexOf('206') + 2);
  await window.command('Thou: Look at a Fix Before It Is Taken');
  await window.page.locator('.quick-input-titlebar', { hasText: 'Which fix' }).waitFor({ timeout: 60_000 });
  await window.picture('fixes');
  await window.page.keyboard.press('Enter');
  await window.page.locator('.monaco-diff-editor .line-insert').first().waitFor();
  await window.picture('fix-compared');
  await window.command('Thou: Take This Fix');
  await window.tab('one.thou').waitFor();
  await window.waitForMarks((marks) => !marks.some(({ line, severity }) => line === deck && severity === 'warning'));
  await window.picture('fix-taken');
});

test('the room to a limit stands whole beside the figure that is turned for it', async () => {
  const gasket = lineOf('thickness: 0.9');
  await window.goTo(gasket, 1);
  await window.replace(gasket, '0.9', '0.78');
  const shown = async (): Promise<string> => (await window.editor.innerText()).replaceAll('\u00a0', ' ');
  await expect.poll(shown, { timeout: 40_000 }).toMatch(/ mm ?0\.020 under 1\.800 mm: quench cylinder 1/);
  await window.picture('hint');
});

test('a table for many readings is made beside the text, and read by it', async () => {
  rmSync(join(folder, 'bores.csv'), { force: true });
  await window.command('Thou: Make a Table for Readings (CSV)');
  await window.page.locator('.quick-input-titlebar', { hasText: 'Table of readings for one' }).waitFor();
  await input().fill('block.bore');
  await window.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: 'Block bore' }).waitFor();
  await window.picture('table-which');
  await window.page.keyboard.press('Enter');
  await answer('name of the file', 'bores.csv');
  await answer('who measures');
  await answer(/: when/, '2026-03-05');
  await answer('with what');
  await window.tab('bores.csv').waitFor();
  await window.picture('table');
  expect(readFileSync(join(folder, 'bores.csv'), 'utf8')).toMatch(/^cylinder,bore \[mm\]\n1,\n2,\n3,\n4,\n$/);
  await window.command('View: Close All Editors in Group');
  await window.page.locator('.tab[data-resource-name="bores.csv"]').waitFor({ state: 'detached' });
  await window.tab('one.thou').waitFor();
  await expect
    .poll(() => window.lineText(measured + 3), { timeout: 40_000 })
    .toMatch(/ {4}block\.bore: from "bores\.csv"/);
});

test('what changed since an earlier commit is a text', async () => {
  await window.command('Thou: Compare with an Earlier Commit');
  await window.page.locator('.quick-input-list .monaco-list-row', { hasText: 'As it came' }).first().waitFor();
  await window.picture('commits');
  await input().fill('As it came');
  await window.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: 'As it came' }).waitFor();
  await window.page.keyboard.press('Enter');
  await window.page.locator('.tab.active', { hasText: /one\.thou since [0-9a-f]{8}/ }).waitFor();
  await expect.poll(() => window.editor.innerText(), { timeout: 40_000 }).toMatch(/head-gasket\[1\]\.thickness/);
  await window.picture('since-commit');
});
