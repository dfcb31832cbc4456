/** The sheet beside the text in a real editor: opened, followed, clicked, read by an axe. */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Frame, type Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startHost, type Host } from './host.ts';
import { browserFlags, chromiumPath } from './install.ts';
import { Workbench } from './workbench.ts';

const top = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'thou-sheet-'));
const pictures = process.env['THOU_PICTURES'] ?? join(home, 'pictures');
const folder = join(home, 'engines');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let host: Host;
let browser: Browser;
let window: Workbench;

beforeAll(async () => {
  cpSync(join(top, 'samples'), folder, { recursive: true });
  const built = readdirSync(join(top, 'extension/dist')).find((name) => name.endsWith('.vsix'))!;
  host = await startHost(join(home, 'profile'), join(top, 'extension/dist', built));
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags });
  const page = await browser.newPage({ viewport: { width: 1600, height: 900 } });
  page.setDefaultTimeout(60_000);
  window = new Workbench(page, pictures);
  await window.open(host.urlOf(folder));
});

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('sheet-failed'));
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
  rmSync(join(home, 'engines'), { recursive: true, force: true });
});

/** The page of the sheet, once it shows a build. */
async function sheet(): Promise<Frame> {
  const inside = window.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  const article = inside.locator('article.sheet');
  await article.waitFor({ timeout: 120_000 });
  return (await (await article.elementHandle())!.ownerFrame())!;
}

test('opens beside the text, which keeps the focus', async () => {
  await window.show('tarn-427.thou', 30, 1);
  await window.waitForMarks((marks) => marks.length > 0, 60_000);
  await window.command('Thou: Open Sheet to the Side');
  const frame = await sheet();
  expect(await frame.locator('h1').innerText()).toMatch(/^Build sheet: tarn-427/);
  expect(await window.tab('tarn-427.thou').count()).toBe(1);
}, 150_000);

/** Unfolds a chapter by its title. */
async function unfold(frame: Frame, title: string): Promise<void> {
  const chapter = frame.locator('section', { has: frame.locator('h2', { hasText: new RegExp(`^${title}$`) }) });
  await chapter.locator('summary').first().click();
  await chapter.locator('table').first().waitFor();
}

test('chapters are folded; one that is opened leads from a figure to the text, which leads back without taking the focus', async () => {
  const frame = await sheet();
  expect(await frame.locator('a[data-path="redline"]').count()).toBe(0);
  await unfold(frame, 'Engine: layout');
  await frame.locator('a[data-path="redline"]').click();
  const line = 1 + lineWith(/\bredline:/);
  await window.page.locator('.statusbar-item', { hasText: `Ln ${line},` }).waitFor({ timeout: 15_000 });
  await frame.locator('tr.here', { hasText: 'Redline' }).waitFor();
  expect(await frame.evaluate(() => document.hasFocus())).toBe(false);
});

test('the chapter of the figure at the cursor opens by itself, and closes when the cursor goes on', async () => {
  const frame = await sheet();
  await window.goTo(1 + lineWith(/^ {2}small-end-target:/), 5);
  await frame.locator('tr.here', { hasText: 'Small end target' }).waitFor();
  await window.goTo(1 + lineWith(/\bredline:/), 5);
  await frame.locator('tr.here', { hasText: 'Redline' }).waitFor();
  await frame.locator('tr', { hasText: 'Small end target' }).waitFor({ state: 'detached' });
});

function lineWith(wanted: RegExp): number {
  return readFileSync(join(folder, 'tarn-427.thou'), 'utf8')
    .split('\n')
    .findIndex((text) => wanted.test(text));
}

test('keeps its place when the text changes, and shows the new figure', async () => {
  const frame = await sheet();
  await frame.evaluate(() => globalThis.scrollTo(0, 900));
  await window.replace(
    Number((await window.page.locator('.statusbar-item', { hasText: /^Ln / }).first().innerText()).match(/\d+/)![0]),
    'redline: ',
    'redline:  ',
  );
  await frame.locator('article.sheet').waitFor();
  await window.page.waitForTimeout(1500);
  expect(await frame.evaluate(() => globalThis.scrollY)).toBeGreaterThan(700);
});

test('a figure opens into what it is made of and what uses it, branch by branch, by the keys alone; it stays open when the text changes', async () => {
  const frame = await sheet();
  await unfold(frame, 'Stack-up and compression');
  const button = frame.locator('button.apart[data-opens="clearance-volume"]');
  await button.focus();
  await window.page.keyboard.press('Enter');
  expect(await button.getAttribute('aria-expanded')).toBe('true');
  const tree = frame.locator('.apart-of [data-node="clearance-volume"]');
  const branch = (inside: Locator, figure: string): Locator =>
    inside.locator(`details[data-apart="${figure}"]`).first();
  const first = branch(tree, 'clearance-volume[1]');
  await first.waitFor();
  await first.locator('summary').first().focus();
  await window.page.keyboard.press('Enter');
  const made = first.locator('[aria-label="Made of"]').first();
  await made.waitFor();
  const deeper = made.locator('details > summary').first();
  await deeper.focus();
  await window.page.keyboard.press('Enter');
  await made.locator('details[open] .tree').first().waitFor();
  expect(await first.locator('[aria-label="Used by"]').first().innerText()).toContain('compression[1] = ');
  await first.scrollIntoViewIfNeeded();
  await window.picture('sheet-apart');
  await window.page.locator('.monaco-editor .view-line').first().click();
  await window.goTo(1, 1);
  await window.page.keyboard.insertText('\n');
  await frame.locator('.apart-of').first().waitFor();
  await expect.poll(() => made.locator('details[open] .tree').count(), { timeout: 20_000 }).toBeGreaterThan(0);
  await window.page.keyboard.press('Control+Z');
  await button.click();
  await tree.waitFor({ state: 'detached' });
});

test('a drawing leads to the figures that it shows, into a chapter that is folded too, and each of them back to it', async () => {
  const frame = await sheet();
  const drawing = frame.locator('figure[data-drawing="stack-up"]');
  if ((await drawing.count()) === 0) await unfold(frame, 'Stack-up and compression');
  await drawing.locator('a[data-in]', { hasText: 'Block deck' }).click();
  const row = frame.locator('tr[data-row="block.deck"]');
  await row.and(frame.locator(':focus')).waitFor();
  await window.picture('sheet-drawn');
  await row.locator('a[data-in]', { hasText: 'Stack-up' }).focus();
  await window.page.keyboard.press('Enter');
  await drawing.and(frame.locator(':focus')).waitFor();
});

const themes = [
  ['Light Modern', 'vscode-light'],
  ['Dark Modern', 'vscode-dark'],
  ['Dark High Contrast', 'vscode-high-contrast'],
  ['Light High Contrast', 'vscode-high-contrast-light'],
] as const;

test.each(themes)(
  '%s: is sound to an axe and to the eye',
  async (theme, look) => {
    await choose(theme);
    const frame = await sheet();
    await frame.locator(`body.${look}`).waitFor({ timeout: 20_000 });
    if ((await frame.locator('figure').count()) === 0) await unfold(frame, 'Pistons and pins');
    await frame.locator('figure').first().waitFor();
    const opener = frame.locator('button.apart').first();
    if ((await opener.getAttribute('aria-expanded')) !== 'true') await opener.click();
    await frame.locator('.apart-of .tree').first().waitFor();
    const name = look.replace('vscode-', '');
    await frame.evaluate(() => globalThis.scrollTo(0, 0));
    await window.picture(`sheet-${name}`);
    await frame.locator('figure').first().scrollIntoViewIfNeeded();
    await window.picture(`sheet-drawing-${name}`);
    expect(await foundByAxe(frame)).toEqual([]);
  },
  60_000,
);

/** As a person does it: by name, in the list of themes. */
async function choose(theme: string): Promise<void> {
  // the keys belong to the text, not to the sheet
  await window.page.locator('.monaco-editor .view-line').first().click();
  await window.page.keyboard.press('Control+K');
  await window.page.keyboard.press('Control+T');
  const list = window.page.locator('.quick-input-list .monaco-list-row');
  await list.first().waitFor();
  await window.page.locator('.quick-input-widget input').first().fill(theme);
  await window.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: theme }).first().waitFor();
  await window.page.keyboard.press('Enter');
}

/** Serious and critical ones. */
async function foundByAxe(frame: Frame): Promise<string[]> {
  await frame.evaluate(axe);
  return frame.evaluate(async () => {
    const run = (
      globalThis as unknown as {
        axe: {
          run(options: object): Promise<{
            violations: { id: string; impact: string; nodes: { html: string; failureSummary: string }[] }[];
          }>;
        };
      }
    ).axe;
    const { violations } = await run.run({ resultTypes: ['violations'] });
    return violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 160)} ${nodes[0]!.failureSummary}`);
  });
}

test('is a page to be printed, saved where the editor cannot open a browser', async () => {
  const frame = await sheet();
  await frame.locator('#kind').selectOption('machine-shop');
  await frame.locator('h1', { hasText: 'Order to the machine shop' }).waitFor();
  expect(await foundByAxe(frame)).toEqual([]);
  await window.picture('sheet-machine-shop');
  await frame.locator('#print').click();
  const path = window.page.locator('.quick-input-widget input').first();
  await expect.poll(() => path.inputValue(), { timeout: 15_000 }).toMatch(/tarn-427-machine-shop\.html$/);
  await window.page.keyboard.press('Enter');
  const saved = join(folder, 'tarn-427-machine-shop.html');
  const text = (): string => (existsSync(saved) ? readFileSync(saved, 'utf8') : '');
  await expect.poll(text, { timeout: 15_000 }).toMatch(/^<!doctype html>[^]*Order to the machine shop: tarn-427/);
}, 60_000);

/** The editor writes down what it shows every five seconds, and then only once it has nothing else to do. */
async function restart(): Promise<void> {
  await window.page.waitForTimeout(20_000);
  await window.page.reload();
}

test('is there again after a restart, with what was chosen', async () => {
  await restart();
  const frame = await sheet();
  await frame.locator('h1', { hasText: 'Order to the machine shop' }).waitFor({ timeout: 60_000 });
  expect(await frame.locator('#kind').inputValue()).toBe('machine-shop');
}, 150_000);

/** Figures that are open, in the order of the page. */
function apart(frame: Frame): Promise<(string | undefined)[]> {
  return frame
    .locator('button.apart[aria-expanded="true"]')
    .evaluateAll((all) => all.map((each) => (each as HTMLElement).dataset['opens']));
}

test('figures that were taken apart are open again after a restart, branch by branch; those that were closed are not', async () => {
  const opener = (frame: Frame, figure: string): Locator => frame.locator(`button.apart[data-opens="${figure}"]`);
  const tree = (frame: Frame): Locator => frame.locator('.apart-of [data-node="clearance-volume"]');
  const branch = (frame: Frame): Locator => tree(frame).locator('details[data-apart="clearance-volume[1]"]').first();
  const before = await sheet();
  await before.locator('#kind').selectOption('whole');
  await before.locator('h1', { hasText: 'Build sheet' }).waitFor();
  await opener(before, 'clearance-volume')
    .or(before.locator('h2', { hasText: /^Stack-up and/ }))
    .first()
    .waitFor();
  if ((await opener(before, 'clearance-volume').count()) === 0) await unfold(before, 'Stack-up and compression');
  for (const figure of ['clearance-volume', 'compression']) await opener(before, figure).click();
  await branch(before).locator('summary').first().click();
  await branch(before).locator('.tree').first().waitFor();
  await opener(before, 'compression').click();
  const opened = await apart(before);
  expect(opened).toContain('clearance-volume');
  await restart();
  const after = await sheet();
  await branch(after).locator('.tree').first().waitFor({ timeout: 60_000 });
  expect(await opener(after, 'clearance-volume').getAttribute('aria-expanded')).toBe('true');
  expect(await branch(after).evaluate((element) => (element as HTMLDetailsElement).open)).toBe(true);
  expect(await opener(after, 'compression').getAttribute('aria-expanded')).toBe('false');
  expect(await apart(after)).toEqual(opened);
  await opener(after, 'clearance-volume').click();
  await tree(after).waitFor({ state: 'detached' });
}, 180_000);
