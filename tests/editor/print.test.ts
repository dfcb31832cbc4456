/** Sheets on paper, by a real browser's print: nothing leaves the page, no title stands alone at its foot, no table goes on without its heads. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './install.ts';

const top = join(import.meta.dirname, '../..');
const pictures = process.env['THOU_PICTURES'] ?? mkdtempSync(join(tmpdir(), 'thou-print-'));
const jobs = [
  ['tarn-427', 'tarn-427'],
  ['skarn-998', 'skarn-998'],
  ['gill-350', 'gill-350'],
] as const;
const kinds = ['whole', 'machine-shop', 'bench', 'assembly', 'orders'];
/** In points: 1/72 in. */
const sizes = { A4: [595, 842], Letter: [612, 792] } as const;
/** Narrower than the margin of the page, which is 12 mm. */
const edge = 30;

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
  readonly rowNames: readonly string[];
}

async function printed(page: string, size: keyof typeof sizes): Promise<Printed> {
  const tab = await browser.newPage();
  await tab.goto(pathToFileURL(page).href);
  const paper = page.replace(/\.html$/, `-${size}.pdf`);
  writeFileSync(paper, await tab.pdf({ format: size, printBackground: true }));
  const texts = (selector: string): Promise<string[]> =>
    tab.locator(selector).evaluateAll((all) => all.map((each) => (each.textContent ?? '').replace(/\s+/g, ' ').trim()));
  const titles = new Set([...(await texts('h2')), ...(await texts('h3'))]);
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
  return { pages, words, titles, rowNames };
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
        const { pages, words, titles, rowNames } = await printed(page, size);
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
          // a drawing begins with its title and the build
          const isRow = !first.endsWith(build) && rowNames.some((name) => first.startsWith(name) && !titles.has(first));
          expect(isRow && !first.startsWith('Figure'), `${size} page ${at + 1} begins with "${first}"`).toBe(false);
        }
      }
    },
    180_000,
  );
});
