/** Every example of the guides is written, run and compared; every link in them leads somewhere; every caution is on its page. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { format } from '../../../language/src/format/format.ts';
import { blocksOf, guideNames, guides, runGuide, textOfGuide } from './guides.ts';

/** Files of a job, what is run, and what only shows how another program is set up. */
const kinds = new Set([
  'thou',
  'csv',
  'json',
  'yaml',
  'console',
  'sh',
  'lua',
  'elisp',
  'toml',
  'vim',
  'text',
  'markdown',
]);

describe.each(guideNames)('%s', (name) => {
  const page = textOfGuide(name);

  it('says what the tool says', async () => {
    for (const { now, block, code } of await runGuide(page)) {
      expect(block.body, `npm run pages ${name}`).toBe(now);
      expect(code, now).toBe(Number(/exit=(\d)/.exec(block.name)?.[1] ?? 0));
    }
  }, 120_000);

  it('has blocks that are closed and of a known kind, and texts as the formatter sets them', () => {
    const blocks = blocksOf(page);
    expect([...page.matchAll(/^```/gm)].length).toBe(2 * blocks.length);
    for (const { kind, body } of blocks) {
      expect([...kinds]).toContain(kind);
      if (kind === 'thou') expect(format(body)).toEqual({ text: body });
    }
  });

  it('leads only to what is there', () => {
    const links = [...page.matchAll(/\]\(([^)#]+)(#[^)]*)?\)/g)].map(([, to]) => to!);
    expect(links.filter((to) => !to.startsWith('https:') && !existsSync(new URL(to, guides)))).toEqual([]);
  });
});

test('a page that says something else is found', async () => {
  const page = '```thou a.thou\nuse prelude 1\n```\n```console\n$ thou check a.thou\nOne file: 2 errors.\n```\n';
  const [ran] = await runGuide(page);
  expect(ran).toMatchObject({ asTold: false, code: 0 });
  expect(ran!.now).toBe('$ thou check a.thou\nOne file: nothing wrong.\n');
  const [short] = await runGuide(page.replace('One file: 2 errors.\n', '…\n'));
  expect(short).toMatchObject({ asTold: true });
});

test('the page of cautions has every caution of the library', () => {
  const page = textOfGuide('cautions.md').replace(/\s+/g, ' ');
  const lines = readFileSync(new URL('../prelude/cautions.txt', guides), 'utf8').split('\n');
  for (const line of lines.filter((one) => one.trim() !== '')) expect(page).toContain(line.trim());
});
