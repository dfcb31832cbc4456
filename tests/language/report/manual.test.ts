/** The reference manual: everything that is declared is in it, every link in it leads somewhere, and text of a file stays text. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ranked, type Findable } from '../../../language/src/report/manual/find.ts';
import { thou } from '../command-line/run.ts';
import { top } from '../../house/walls.ts';

const home = mkdtempSync(join(tmpdir(), 'thou-manual-'));
const [html, markdown, own] = ['html', 'markdown', 'own'].map((name) => join(home, name)) as [string, string, string];
const shop = `use prelude 1
/// <script>alert(1)</script> \`<b>\` & "quoted"
derive shop-figure: Length per cylinder as 0.000 in = block.bore * 2
/// The shop wants it even.
rule shop-rule: warning { expect shop-figure within >= 1 in, because "it </p> is", adjust block.bore }
practice "A <shop>" { quench-limits: 0.037..0.044 in }
`;

beforeAll(async () => {
  writeFileSync(join(home, 'rings.thou'), shop);
  expect((await thou('manual', '--format', 'html', '-o', html)).code).toBe(0);
  expect((await thou('manual', '-o', markdown)).code).toBe(0);
  expect((await thou('manual', join(home, 'rings.thou'), '--format', 'html', '-o', own)).code).toBe(0);
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

const read = (folder: string, name: string): string => readFileSync(join(folder, name), 'utf8');

/** Addresses that lead nowhere: `page → link`. */
function dead(folder: string, ending: string, id: RegExp, link: RegExp): string[] {
  const names = readdirSync(folder).filter((name) => name.endsWith(ending));
  const texts = new Map(names.map((name) => [name, read(folder, name)]));
  const ids = new Map([...texts].map(([name, text]) => [name, new Set([...text.matchAll(id)].map(([, one]) => one!))]));
  return [...texts].flatMap(([name, text]) =>
    [...text.matchAll(link)]
      .map(([, to]) => to!)
      .filter((to) => {
        const [file, place] = to.split('#');
        const at = file === '' ? name : file!;
        if (place === undefined) return !readdirSync(folder).includes(at);
        return ids.get(at)?.has(place) !== true;
      })
      .map((to) => `${name} → ${to}`),
  );
}

describe('what is declared', () => {
  it('has an entry of its own in the chapter that declares it, once', () => {
    for (const { file, text } of chapters()) {
      const page = read(html, `${file}.html`);
      const ids = [...page.matchAll(/<section class="entry" id="([^"]+)"/g)].map(([, id]) => id!);
      expect(new Set(ids).size, file).toBe(ids.length);
      const declared = [...text.matchAll(/^ *(?:derive|rule|function|component|axis) ([\w-]+)/gm)].map(
        ([, name]) => name!,
      );
      const lasts = new Set(ids.map((id) => id.split('.').at(-1)));
      expect(
        declared.filter((name) => !lasts.has(name)),
        file,
      ).toEqual([]);
    }
  });

  it('tells formula with links, unit, source, what uses it and what checks it', () => {
    const page = read(html, 'stack-up.html');
    const entry = page.slice(page.indexOf('id="Engine.compression"')).split('</section>')[0]!;
    expect(entry).toContain('<a href="#Engine.clearance-volume">clearance-volume</a>');
    expect(entry).toContain('shown as 0.00');
    expect(entry).toContain('definition, any engine textbook');
    expect(entry).toMatch(/Used by/);
    expect(entry).toContain('#Engine.rule.compression-for-fuel');
  });

  it('shows tables as tables, and components that no engine holds', () => {
    expect(read(html, 'films.html')).toMatch(/<th scope="col">e97<\/th>[^]*<td>0.00474<\/td>/);
    expect(read(html, 'instruments.html')).toContain('id="Instrument.resolution"');
  });
});

function chapters(): { readonly file: string; readonly text: string }[] {
  const folder = join(top, 'language/prelude');
  const { files } = JSON.parse(read(folder, 'edition.json')) as { readonly files: readonly string[] };
  return files.map((name) => ({ file: name.replace('.thou', ''), text: read(folder, name) }));
}

describe('links', () => {
  it('of the pages lead to something', () => {
    expect(dead(html, '.html', / id="([^"]+)"/g, / href="([^"]+)"/g)).toEqual([]);
    expect(dead(own, '.html', / id="([^"]+)"/g, / href="([^"]+)"/g)).toEqual([]);
  });

  it('of the Markdown lead to something', () => {
    expect(dead(markdown, '.md', /<a id="([^"]+)">/g, /\]\(([^)]+)\)/g)).toEqual([]);
  });
});

describe("a shop's own file", () => {
  it('has a chapter beside that of the same name, with what practice holds to where the figure stands', () => {
    const page = read(own, 'rings-2.html');
    expect(page).toContain('href="block.html#Block.bore"');
    expect(page).toContain('#Engine.rule.shop-rule');
    expect(read(own, 'ratio.html')).toContain('Practice, A &lt;shop&gt;: </span><code>0.037..0.044 in</code>');
  });

  it('stays text, in pages and in the search', () => {
    const page = read(own, 'rings-2.html');
    expect(page).not.toContain('<script>alert');
    expect(page).not.toContain('it </p> is');
    expect(page).toContain('<code>&lt;b&gt;</code>');
    expect(read(own, 'manual.js')).not.toContain('<script');
  });
});

it('is in the repository as it is made, with no page that is made no more', () => {
  const committed = readdirSync(join(top, 'language/docs/manual')).sort();
  expect(committed, 'npm run generate').toEqual(readdirSync(markdown).sort());
});

describe('finding', () => {
  const all: Findable[] = [
    ['clearance', 'property, Plate', 'a', 'Room between two plates.'],
    ['plate-clearance', 'worked out, Plate', 'b', ''],
    ['plate-clearance-limits', 'limits, Plate', 'c', ''],
    ['width', 'property, Plate', 'd', 'How wide it is: clearance not counted.'],
  ];

  it('puts the name itself first, then names that begin so, then sentences', () => {
    expect(ranked(all, 'clearance', 9)).toEqual([0, 1, 2, 3]);
    expect(ranked(all, 'Plate clear', 9).slice(0, 2)).toEqual([1, 2]);
  });

  it('wants every word somewhere, shows no more than asked, and nothing for nothing', () => {
    expect(ranked(all, 'wide counted', 9)).toEqual([3]);
    expect(ranked(all, 'plate zebra', 9)).toEqual([]);
    expect(ranked(all, 'plate', 2).length).toBe(2);
    expect(ranked(all, '  -- ', 9)).toEqual([]);
  });

  it('runs in the page as it is written here', () => {
    const script = read(html, 'manual.js');
    const search = `${script.slice(0, script.indexOf('const field'))}; ranked(entries, 'compression', 1).map((at) => entries[at][2]).join()`;
    const found = runInNewContext(search) as string;
    expect(found).toBe('stack-up.html#Engine.compression');
  });
});
