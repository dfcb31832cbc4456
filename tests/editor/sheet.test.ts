/** The sheet beside the text in a real editor: opened, followed, clicked, read by an axe. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Frame } from 'playwright-core';
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
  await article.waitFor({ timeout: 40_000 });
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

test('a figure leads to the text, and the cursor to the figure, without taking the focus', async () => {
  const frame = await sheet();
  await frame.locator('a[data-path="redline"]').click();
  await expect
    .poll(
      async () =>
        (
          await window.page
            .locator('.statusbar-item', { hasText: /^Ln \d+/ })
            .first()
            .innerText()
        ).trim(),
      {
        timeout: 15_000,
      },
    )
    .toMatch(/Ln \d+, Col \d+/);
  const line = readFileSync(join(folder, 'tarn-427.thou'), 'utf8')
    .split('\n')
    .findIndex((text) => /\bredline:/.test(text));
  await window.page.locator('.statusbar-item', { hasText: `Ln ${line + 1},` }).waitFor();
  await frame.locator('tr.here', { hasText: 'Redline' }).waitFor();
  expect(await frame.evaluate(() => document.hasFocus())).toBe(false);
});

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

test('is sound to an axe and to the eye', async () => {
  const frame = await sheet();
  await frame.evaluate(axe);
  const found = await frame.evaluate(async () => {
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
      .map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 120)} ${nodes[0]!.failureSummary}`);
  });
  await window.picture('sheet');
  await frame.locator('figure').first().scrollIntoViewIfNeeded();
  await window.picture('sheet-drawing');
  expect(found).toEqual([]);
});
