/** The manual's pages in a real browser, from the disk: found by typing, walked by keys, read by an axe in light and dark. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { chromiumPath } from './install.ts';

const top = join(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'thou-manual-'));
const pictures = process.env['THOU_PICTURES'];
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser: Browser;
let page: Page;

beforeAll(async () => {
  const made = spawnSync(
    process.execPath,
    [join(top, 'language/bin/thou.js'), 'manual', '--format', 'html', '-o', folder],
    { cwd: top, encoding: 'utf8' },
  );
  expect(made).toMatchObject({ status: 0, stderr: expect.stringContaining('files are written into') as string });
  browser = await chromium.launch({ executablePath: chromiumPath, args: ['--no-sandbox', '--disable-gpu'] });
  page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
});

afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

const addressOf = (file: string): string => pathToFileURL(join(folder, file)).href;

test('what is typed is found and led to, by keys alone', async () => {
  await page.goto(addressOf('index.html'));
  await page.keyboard.press('/');
  await page.keyboard.type('deck clear');
  expect(await page.locator('#found [aria-selected=true] b').innerText()).toBe('deck-clearance');
  expect(await page.locator('#count').innerText()).toMatch(/found$/);
  if (pictures) await page.screenshot({ path: join(pictures, 'manual-found.png') });
  await page.keyboard.press('Enter');
  await page.waitForURL(/stack-up\.html#Engine\.deck-clearance$/);
  const shown = page.locator('[id="Engine.deck-clearance"]');
  const { y } = (await shown.boundingBox())!;
  expect(y).toBeGreaterThanOrEqual(0);
  expect(y).toBeLessThan(500);
  await page.keyboard.press('/');
  await page.keyboard.type('no such thing at all');
  expect(await page.locator('#count').innerText()).toBe('nothing found');
  await page.keyboard.press('Escape');
  expect(await page.locator('#find').inputValue()).toBe('');
});

test('a name in a formula leads to what it stands for', async () => {
  await page.goto(`${addressOf('stack-up.html')}#Engine.compression`);
  await page.locator('[id="Engine.compression"] pre a', { hasText: 'swept-volume' }).click();
  expect(new URL(page.url()).hash).toBe('#Engine.swept-volume');
});

test.each(['light', 'dark'] as const)('an axe finds nothing serious, %s', async (colorScheme) => {
  await page.emulateMedia({ colorScheme });
  for (const file of ['index.html', 'films.html']) {
    await page.goto(addressOf(file));
    await page.evaluate(axe);
    const serious = await page.evaluate(async () => {
      const run = (globalThis as unknown as { axe: { run(): Promise<AxeResult> } }).axe.run();
      return (await run).violations
        .filter(({ impact }) => impact === 'serious' || impact === 'critical')
        .map(
          ({ id, nodes }) =>
            `${id}: ${nodes
              .slice(0, 3)
              .map(({ html }) => html)
              .join(' … ')}`,
        );
    });
    expect(serious, file).toEqual([]);
    if (pictures) await page.screenshot({ path: join(pictures, `manual-${colorScheme}-${file}.png`) });
  }
});

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly impact: string;
    readonly nodes: readonly { readonly html: string }[];
  }[];
}
