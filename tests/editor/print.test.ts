/**
 * Sheets on paper, by a real browser's print: nothing leaves the page, no letter is smaller than can be read, no title stands alone at the
 * foot of a page, no table goes on without its heads, and cautions stand before the work or with what they end, never alone.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './install.ts';

const top = join(import.meta.dirname, '../..');
const pictures = process.env['THOU_PICTURES'] ?? mkdtempSync(join(tmpdir(), 'thou-print-'));
const jobs = [
  ['fell-427', 'fell-427'],
  ['tarn-427', 'tarn-427'],
  ['skarn-998', 'skarn-998'],
  ['gill-350', 'gill-350'],
] as const;
const kinds = ['whole', 'machine-shop', 'bench', 'assembly', 'orders'];
/** In points: 1/72 in. */
const sizes = { A4: [595, 842], Letter: [612, 792] } as const;
/** Narrower than the margin of the page, which is 12 mm. */
const edge = 30;
/** Both margins of a page, in points. */
const margins = (2 * 12 * 72) / 25.4;
/** In points; what a reader at a bench makes out. */
const leastLetters = 8;
/** Those that somebody works from: cautions stand before the work. */
const worked: ReadonlySet<string> = new Set(['machine-shop', 'bench', 'assembly']);
/** A page's points in the pixels of a browser. */
const pixels = 96 / 72;

let browser: Browser;

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await chromium.launch({ executablePath: chromiumPath, args: ['--no-sandbox', '--disable-gpu'] });
});

afterAll(async () => {
  await browser?.close();
});

interface Printed {
  /** Lines of each page from top to bottom, without the foot. */
  readonly pages: readonly (readonly string[])[];
  readonly words: readonly {
    readonly page: number;
    readonly left: number;
    readonly right: number;
    readonly text: string;
  }[];
  readonly titles: ReadonlySet<string>;
  /** The first of each row of blanks. */
  readonly blanks: readonly string[];
  readonly rowNames: readonly string[];
  /** In points, as printed. */
  readonly smallest: number;
}

async function printed(page: string, size: keyof typeof sizes): Promise<Printed> {
  const width = Math.floor((sizes[size][0] - margins) * pixels);
  const tab = await browser.newPage({ viewport: { width, height: 900 } });
  await tab.emulateMedia({ media: 'print' });
  await tab.goto(pathToFileURL(page).href);
  const smallest = await smallestLetters(tab, width);
  const paper = page.replace(/\.html$/, `-${size}.pdf`);
  writeFileSync(paper, await tab.pdf({ format: size, printBackground: true }));
  const texts = (selector: string): Promise<string[]> =>
    tab.locator(selector).evaluateAll((all) => all.map((each) => (each.textContent ?? '').replace(/\s+/g, ' ').trim()));
  const titles = new Set([...(await texts('h2')), ...(await texts('h3'))]);
  const blanks = await texts('ul.blanks li:first-child');
  const rowNames = (await texts('table.grid th[scope=row]')).filter((name) => name.length > 5);
  await tab.close();
  const read = (...options: string[]): string =>
    execFileSync('pdftotext', [...options, paper, '-'], { encoding: 'utf8', maxBuffer: 64e6 });
  const pages = read('-layout')
    .split('\f')
    .map((text) => text.split('\n').map((line) => line.replace(/\s+/g, ' ').trim()))
    .map((lines) => lines.filter((line) => line !== '').slice(0, -1))
    .filter((lines) => lines.length > 0);
  const words: Printed['words'][number][] = [];
  for (const [at, body] of read('-bbox').split('<page ').slice(1).entries())
    for (const [, left, right, text] of body.matchAll(
      /<word xMin="([\d.-]+)" yMin="[\d.-]+" xMax="([\d.-]+)" yMax="[\d.-]+">([^<]*)/g,
    ))
      words.push({ page: at + 1, left: Number(left), right: Number(right), text: text! });
  return { pages, words, titles, blanks, rowNames, smallest };
}

/** In points. A page that is too wide is printed smaller as a whole. */
async function smallestLetters(tab: Page, width: number): Promise<number> {
  const { letters, wide } = await tab.evaluate(() => {
    const sizesOf = (element: Element): number[] => {
      const holdsText = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent!.trim() !== '');
      if (!holdsText || !element.checkVisibility() || element.closest('.told')) return [];
      const size = parseFloat(getComputedStyle(element).fontSize);
      const matrix = element instanceof SVGGraphicsElement ? element.getScreenCTM() : null;
      return [size * (matrix?.a ?? 1)];
    };
    const all = [...document.querySelectorAll('main *:not(title, desc)')].flatMap(sizesOf);
    return { letters: Math.min(...all), wide: document.documentElement.scrollWidth };
  });
  return (letters / pixels) * Math.min(1, width / wide);
}

describe.each(jobs)('%s', (file, build) => {
  it.each(kinds)(
    '%s',
    async (kind) => {
      const page = join(pictures, `${build}-${kind}.html`);
      const thou = join(top, 'language/bin/thou.js');
      const asked = [
        'sheet',
        `samples/${file}.thou`,
        '--build',
        build,
        '--format',
        'html',
        '--sheet',
        kind,
        '-o',
        page,
      ];
      try {
        execFileSync(process.execPath, [thou, ...asked], { cwd: top });
      } catch (problem) {
        // 1: there are findings, and the page was written
        if ((problem as { status?: number }).status !== 1) throw problem;
      }
      for (const size of ['A4', 'Letter'] as const) {
        const { pages, words, titles, blanks, rowNames, smallest } = await printed(page, size);
        expect(smallest, `${size}: the smallest letters`).toBeGreaterThanOrEqual(leastLetters - 0.01);
        const cautions = pages.findIndex((lines) => lines.some((line) => line.startsWith('Cautions')));
        expect(cautions, `${size}: cautions`).toBe(worked.has(kind) ? 0 : pages.length - 1);
        expect(pages.at(-1)![0], `${size}: the last page begins`).not.toMatch(/^Cautions/);
        const out = words.filter(({ left, right }) => left < edge || right > sizes[size][0] - edge);
        expect(out.map(({ page: at, text }) => `${size} ${at}: ${text}`)).toEqual([]);
        for (const [at, lines] of pages.entries()) {
          const [first, last] = [lines[0]!, lines.at(-1)!];
          const isAlone = [...titles].some(
            (title) => last === title || (last.startsWith(`${title} `) && /figures?\b/.test(last)),
          );
          expect(
            isAlone || /^(Figure Unit|by [a-z ]+ 1 )/.test(last),
            `${size} page ${at + 1} ends with "${last}"`,
          ).toBe(false);
          // what is filled in belongs to what stands above it
          expect(
            blanks.some((name) => first.startsWith(`${name} `)),
            `${size} page ${at + 1} begins with "${first}"`,
          ).toBe(false);
          // a drawing begins with its title and the build
          const isRow = !first.endsWith(build) && rowNames.some((name) => first.startsWith(name) && !titles.has(first));
          expect(isRow && !first.startsWith('Figure'), `${size} page ${at + 1} begins with "${first}"`).toBe(false);
        }
      }
    },
    180_000,
  );
});
