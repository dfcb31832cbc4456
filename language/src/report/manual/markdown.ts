// The manual as Markdown: a page a chapter, the contents, and all names in order. Every entry has an address of its own.
import { labelWords } from './docs.ts';
import {
  Entries,
  titleOf,
  type Manual,
  type ManualChapter,
  type ManualEntry,
  type Paragraph,
  type Table,
} from './model.ts';

/** Pages by their names. */
export function markdownPages(manual: Manual): ReadonlyMap<string, string> {
  const entries = new Entries(manual);
  return new Map([
    ['README.md', contents(manual)],
    ...manual.chapters.map(
      (chapter) => [`${chapter.file}.md`, page(chapterLines(chapter, entries, linkTo(entries, chapter)))] as const,
    ),
    ['names.md', names(entries)],
  ]);
}

/** All of it in one text. */
export function markdownWhole(manual: Manual): string {
  const entries = new Entries(manual);
  return page([
    `# ${titleOf(manual)}`,
    ...manual.chapters.flatMap((chapter) => chapterLines(chapter, entries, linkWithin, '#')),
    '## Units',
    tableText(manual.units),
    '## Cautions',
    manual.cautions.map((caution) => `- ${caution}`).join('\n'),
  ]);
}

type LinkTo = (entry: ManualEntry) => string;

const linkWithin: LinkTo = ({ id }) => `#${id}`;

function linkTo(entries: Entries, from: ManualChapter): LinkTo {
  return ({ id }) => {
    const file = entries.get(id)?.chapter.file;
    return file === undefined || file === from.file ? `#${id}` : `${file}.md#${id}`;
  };
}

function page(blocks: readonly string[]): string {
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function contents(manual: Manual): string {
  return page([
    `# ${titleOf(manual)}`,
    'Every property, formula, limit and rule, with its source and with what uses it, read off the library itself. [All names in order](names.md).',
    '## Chapters',
    manual.chapters.map(({ file, title }) => `- [${title}](${file}.md)`).join('\n'),
    '## Cautions',
    manual.cautions.map((caution) => `- ${caution}`).join('\n'),
    '## Units',
    tableText(manual.units),
  ]);
}

function names(entries: Entries): string {
  const byLetter = new Map<string, string[]>();
  for (const { entry, chapter } of entries.inOrder()) {
    const letter = entry.name.charAt(0).toUpperCase();
    const whose = entry.owner === null ? entry.sort : entry.owner;
    byLetter.set(letter, [
      ...(byLetter.get(letter) ?? []),
      `- [${entry.name}](${chapter.file}.md#${entry.id}), ${whose}`,
    ]);
  }
  return page(['# All names', ...[...byLetter].flatMap(([letter, lines]) => [`## ${letter}`, lines.join('\n')])]);
}

/** `deeper`: signs before those of each heading. */
function chapterLines(chapter: ManualChapter, entries: Entries, link: LinkTo, deeper = ''): string[] {
  return [
    `${deeper}# ${chapter.title}`,
    ...paragraphs(chapter.intro),
    ...chapter.groups.flatMap(({ title, entries: own }) => [
      `${deeper}## ${title}`,
      ...own.flatMap((entry) => entryLines(entry, entries, link)),
    ]),
  ];
}

function entryLines(entry: ManualEntry, entries: Entries, link: LinkTo): string[] {
  const { id, name, sort, takes, shown, doc, formulas, facts, given, table, uses, usedBy, checkedBy } = entry;
  const head = [sort, takes, shown === '' ? '' : `shown as ${shown}`].filter((part) => part !== '').join('; ');
  const refs = (label: string, ids: readonly string[]): string => {
    const known = ids.flatMap((one) => entries.get(one)?.entry ?? []);
    return known.length === 0 ? '' : `*${label}:* ${known.map((one) => `[${one.name}](${link(one)})`).join(', ')}`;
  };
  return [
    `<a id="${id}"></a>\n**${name}** (${head})`,
    ...paragraphs(doc),
    ...formulas.map(({ label, pieces }) => formulaText(label, pieces.map(({ text }) => text).join(''))),
    ...given.map(({ by, value }) => `Practice, ${by}: ${code(value)}`),
    ...facts,
    table ? tableText(table) : '',
    refs('Made of', uses),
    refs('Used by', usedBy),
    refs('Checked by', checkedBy),
  ];
}

function paragraphs(all: readonly Paragraph[]): string[] {
  return all.map(({ label, text, isCode }) =>
    isCode
      ? fenced(text)
      : label === null
        ? text
        : label === 'Caution'
          ? `**Caution:** ${text}`
          : `*${labelWords(label)}:* ${text}`,
  );
}

function formulaText(label: string, text: string): string {
  return text.includes('\n') ? `${label}:\n\n${fenced(text)}` : `${label}: ${code(text)}`;
}

function fenced(text: string): string {
  return `\`\`\`\n${text}\n\`\`\``;
}

/** Formulas as code; a back-tick inside takes a longer fence. */
function code(text: string): string {
  return text.includes('`') ? `\`\` ${text} \`\`` : `\`${text}\``;
}

function tableText({ heads, rows }: Table): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(heads), line(heads.map(() => '---')), ...rows.map(line)].join('\n');
}
