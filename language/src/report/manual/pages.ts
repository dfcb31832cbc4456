// The manual as pages to browse: a page a chapter, contents, all names, and a search that needs no server. Opens from the disk.
import { escaped } from '@thou/shared/drawing/svg';
import { made, plainTable, tag, type Markup } from '../html/markup.ts';
import { entryMarkup, paragraphMarkup } from './entry-page.ts';
import { findScript } from './find.ts';
import { Entries, titleOf, type Manual, type ManualChapter } from './model.ts';
import { manualRules } from './rules.ts';

/** Files by their names: the pages, their one style, their one script. */
export function htmlPages(manual: Manual): ReadonlyMap<string, string> {
  const entries = new Entries(manual);
  return new Map([
    ['index.html', page(manual, 'index', titleOf(manual), contents(manual))],
    ...manual.chapters.map(
      (chapter) =>
        [`${chapter.file}.html`, page(manual, chapter.file, chapter.title, chapterParts(chapter, entries))] as const,
    ),
    ['names.html', page(manual, 'names', 'All names', names(entries))],
    ['manual.css', manualRules],
    ['manual.js', findScript(manual)],
  ]);
}

function page(manual: Manual, file: string, title: string, parts: readonly Markup[]): string {
  const whole = file === 'index' ? title : `${title}: ${titleOf(manual).toLowerCase()}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(whole)}</title>
<link rel="stylesheet" href="manual.css">
<script src="manual.js" defer></script>
</head>
<body>
${jump.html}
${header(manual, file).html}
<div class="columns">
${chaptersNav(manual, file).html}
${tag('main', { id: 'content', tabindex: -1 }, tag('h1', {}, title), parts).html}
</div>
</body>
</html>
`;
}

const jump = tag('a', { class: 'jump', href: '#content' }, 'To the text');

function header(manual: Manual, file: string): Markup {
  return tag(
    'header',
    {},
    navLink('index', titleOf(manual), file),
    tag(
      'div',
      { class: 'search', role: 'search' },
      tag('label', { for: 'find' }, 'Find'),
      made(
        '<input id="find" type="search" autocomplete="off" role="combobox" aria-expanded="false" aria-controls="found" aria-autocomplete="list" title="The key / leads here">',
      ),
      tag('span', { id: 'count', role: 'status' }),
      made('<ul id="found" role="listbox" aria-label="Found" hidden></ul>'),
    ),
    navLink('names', 'All names', file),
  );
}

function chaptersNav({ chapters }: Manual, here: string): Markup {
  return tag(
    'nav',
    { class: 'chapters', 'aria-label': 'Chapters' },
    tag(
      'ul',
      {},
      chapters.map(({ file, title }) => tag('li', {}, navLink(file, title, here))),
    ),
  );
}

function navLink(file: string, title: string, here: string): Markup {
  return tag('a', { href: `${file}.html`, 'aria-current': file === here ? 'page' : null }, title);
}

function contents({ chapters, cautions, units }: Manual): Markup[] {
  return [
    tag(
      'p',
      {},
      'Every property, formula, limit and rule, with its source and with what uses it, read off the library itself.',
    ),
    tag('h2', {}, 'Chapters'),
    tag(
      'dl',
      {},
      chapters.map(({ file, title, intro }) => [
        tag('dt', {}, tag('a', { href: `${file}.html` }, title)),
        tag('dd', {}, intro[0]?.text ?? ''),
      ]),
    ),
    tag('h2', { id: 'cautions' }, 'Cautions'),
    tag(
      'ul',
      {},
      cautions.map((caution) => tag('li', {}, caution)),
    ),
    tag('h2', { id: 'units' }, 'Units'),
    plainTable('Units, by what they measure', ['Measures', 'Units'], units.rows),
  ];
}

function chapterParts({ file, intro, groups }: ManualChapter, entries: Entries): Markup[] {
  return [
    ...intro.map(paragraphMarkup),
    ...groups.flatMap(({ title, entries: own }) => [
      tag('h2', {}, title),
      ...own.map((entry) => entryMarkup(entry, entries, file)),
    ]),
  ];
}

function names(entries: Entries): Markup[] {
  const byLetter = new Map<string, Markup[]>();
  for (const { entry, chapter } of entries.inOrder()) {
    const letter = entry.name.charAt(0).toUpperCase();
    const line = tag(
      'li',
      {},
      tag('a', { href: `${chapter.file}.html#${entry.id}` }, entry.name),
      `, ${entry.owner ?? entry.sort}`,
    );
    byLetter.set(letter, [...(byLetter.get(letter) ?? []), line]);
  }
  return [...byLetter].flatMap(([letter, lines]) => [tag('h2', {}, letter), tag('ul', { class: 'plain' }, lines)]);
}
