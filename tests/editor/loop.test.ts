/** The built extension in a real editor with an empty profile, used as a person uses it. One window for all tests, in their order. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startHost, type Host } from './host.ts';
import { browserFlags, chromiumPath } from './install.ts';
import { serverOf } from './server-process.ts';
import { Workbench } from './workbench.ts';

const top = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'thou-editor-'));
const pictures = process.env['THOU_PICTURES'] ?? join(home, 'pictures');
const folder = join(home, 'engines');

let host: Host;
let browser: Browser;
let window: Workbench;

beforeAll(async () => {
  cpSync(join(top, 'samples'), folder, { recursive: true });
  writeFileSync(join(folder, 'note.md'), 'Kept at the shop.\n\n```thou\nbuild spare { redline: 7000 rpm }\n```\n');
  const built = readdirSync(join(top, 'extension/dist')).find((name) => name.endsWith('.vsix'))!;
  host = await startHost(join(home, 'profile'), join(top, 'extension/dist', built));
  browser = await chromium.launch({ executablePath: chromiumPath, args: browserFlags });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  window = new Workbench(page, pictures);
  await window.open(host.urlOf(folder));
});

afterEach(async (context) => {
  if (context.task.result?.state === 'fail') console.log(await window.picture('failed'));
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
  rmSync(join(home, 'engines'), { recursive: true, force: true });
});

const saved = (file: string): string => readFileSync(join(folder, file), 'utf8');

const lineOf = (file: string, words: string): number =>
  readFileSync(join(top, 'samples', file), 'utf8')
    .split('\n')
    .findIndex((text) => text.includes(words)) + 1;
const gap = lineOf('tarn-427.thou', '0.0172');
const lobe = lineOf('tarn-427.thou', '103 deg');

test('findings are underlined where they come from', async () => {
  await window.show('tarn-427.thou', gap - 5, 1);
  const marks = await window.waitForMarks((found) => found.some(({ line }) => line === gap));
  await window.picture('findings');
  expect(marks).toContainEqual({ severity: 'error', line: gap, text: '0.0172' });
});

test('thou in Markdown has the colours of thou', async () => {
  await window.show('note.md', 4, 1);
  const colours = async (): Promise<number> => {
    const found = await window.coloursOf(4);
    return new Set(['build', 'spare', 'redline'].map((word) => found.get(word))).size;
  };
  await expect.poll(colours, { timeout: 10_000 }).toBe(3);
  await window.picture('markdown');
});

test('resting on an underlined figure tells what is wrong, why, and whose limit it is', async () => {
  await window.show('tarn-427.thou', gap, 1);
  await window.waitForMarks((found) => found.some(({ line }) => line === gap));
  const told = await window.hover(gap, '0.0172');
  await window.picture('hover');
  expect(told).toMatch(/Ring gap at cylinder 7 is 0\.0172 in: 0\.0014 in under the least, 0\.0186 in/);
  expect(told).toMatch(/Limits: ≥ 0\.0186 in/);
});

test('beside the language stands how the build does', async () => {
  await window.show('tarn-427.thou', gap, 1);
  const status = await window.languageStatus(/to measure/);
  await window.picture('status');
  expect(status).toMatch(/\d+ hold · \d+ out · \d+ at risk · \d+ to measure/);
});

test('a figure put right loses its underline, and what is saved is what was typed', async () => {
  await window.show('tarn-427.thou', gap, 1);
  await window.waitForMarks((found) => found.some(({ line }) => line === gap));
  await window.replace(lobe, '103 deg', '106 deg');
  // nothing is out there any more; that the wheel could tell it more finely is still a hint
  await window.waitForMarks((found) => !found.some(({ line, severity }) => line === lobe && severity !== 'hint'));
  await window.save();
  expect(saved('tarn-427.thou')).toBe(
    readFileSync(join(top, 'samples/tarn-427.thou'), 'utf8').replace('103 deg', '106 deg'),
  );
});

test('formatting sets blanks in order and leaves the rest', async () => {
  await window.show('gill-350.thou', 1, 1);
  const before = saved('gill-350.thou');
  const line = before.split('\n').findIndex((text) => /^ {2}\w+.*: /.test(text)) + 1;
  await window.goTo(line, 1);
  await window.page.keyboard.insertText('      ');
  await window.command('Format Document');
  await expect.poll(() => window.lineText(line), { timeout: 40_000 }).toMatch(/^ {2}\w/);
  await window.save();
  expect(saved('gill-350.thou')).toBe(before);
});

test('a name is changed in every file that uses it', async () => {
  await window.show('parts/tarn.thou', 1, 1);
  const text = saved('parts/tarn.thou').split('\n');
  const line = text.findIndex((each) => each.includes('part FT-1110D')) + 1;
  await window.goTo(line, text[line - 1]!.indexOf('FT-1110D') + 3);
  await window.page.keyboard.press('F2');
  const box = window.page.locator('.rename-box input');
  await box.waitFor();
  await box.fill('FT-1110X');
  await window.page.keyboard.press('Enter');
  await expect.poll(() => window.lineText(line), { timeout: 10_000 }).toContain('FT-1110X');
  await window.picture('renamed');
  await window.command('File: Save All Files');
  await expect.poll(() => saved('tarn-427.thou'), { timeout: 10_000 }).toContain('piston: FT-1110X');
  expect(saved('parts/tarn.thou')).toContain('part FT-1110X');
});

test('the definition of a name is found in the trade library', async () => {
  await window.show('fell-427.thou', 1, 1);
  const text = saved('fell-427.thou').split('\n');
  const line = text.findIndex((each) => each.includes('expect compression')) + 1;
  await window.goTo(line, text[line - 1]!.indexOf('compression') + 3);
  await window.page.keyboard.press('F12');
  await window.tab('stack-up.thou').waitFor();
  await window.picture('library');
  const status = await window.page.locator('.statusbar-item', { hasText: /Ln \d+, Col/ }).innerText();
  const at = Number(/Ln (\d+)/.exec(status)![1]);
  expect(await window.lineText(at)).toContain('derive compression');
});

test('a fix is taken, and the underline goes', async () => {
  await window.show('fell-427.thou', 1, 1);
  const text = saved('fell-427.thou').split('\n');
  const line = text.findIndex((each) => each.trimStart().startsWith('redline: 7000 rpm')) + 1;
  await window.replace(line, 'redline', 'redlin');
  await window.waitForMarks((found) => found.some((mark) => mark.line === line && mark.severity === 'error'));
  await window.goTo(line, 5);
  // the bulb says that there is something to be taken
  await window.editor.locator('.lightBulbWidget, [class*="codicon-gutter-lightbulb"]').first().waitFor();
  await window.openFixes('redline');
  await window.picture('fix');
  await window.page.keyboard.press('Enter');
  await window.waitForMarks((found) => !found.some((mark) => mark.line === line));
  expect(await window.lineText(line)).toContain('redline: 7000 rpm');
});

test('a server that is killed comes back by itself', async () => {
  const before = serverOf(home);
  expect(before).not.toBeNull();
  process.kill(before!, 'SIGKILL');
  await expect.poll(() => serverOf(home) ?? before, { timeout: 20_000 }).not.toBe(before);
  await window.show('skarn-998.thou', 1, 1);
  await window.show('tarn-427.thou', gap - 5, 1);
  await window.waitForMarks((found) => found.some(({ line }) => line === gap));
});

test('a server that hangs is got rid of by "Restart language server"', async () => {
  const before = serverOf(home)!;
  process.kill(before, 'SIGSTOP');
  await window.command('Thou: Restart language server');
  await expect.poll(() => serverOf(home) ?? before, { timeout: 20_000 }).not.toBe(before);
  await window.waitForMarks((found) => found.some(({ line }) => line === gap));
  await window.picture('restarted');
  expect(await window.page.locator('.notification-toast').count()).toBe(0);
});
