/** What stands in the documents and in the trade library as an example of the language is read and worked out by it. */
import { readdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { expect, test } from 'vitest';
import { library } from '../reference/library.ts';
import { run } from '../reference/run.ts';
import { textOf, top } from './walls.ts';

interface Example {
  readonly name: string;
  readonly text: string;
}

const documents = ['README.md', 'DEVELOPERS.md', 'samples/README.md'];

function examplesIn(name: string, markdown: string): Example[] {
  const fenced = [...markdown.matchAll(/^```thou\n([^]*?)^```$/gm)];
  if (fenced.length !== markdown.split('```thou').length - 1) throw new Error(`${name}: an example is not closed`);
  return fenced.map(([, text], i) => ({ name: `${name}, example ${i + 1}`, text: text! }));
}

/** Comments alone, without their marks; what parts one comment from the next is an empty line. */
const commentsOf = (text: string): string =>
  text
    .split('\n')
    .map((line) => /^\s*\/\/\/(?!\/) ?(.*)$/.exec(line)?.[1] ?? '')
    .join('\n');

/** Comments of both sorts, in one text. */
const commentsAlone = (text: string): string => [...text.matchAll(/\/\/.*$/gm)].map(([comment]) => comment).join('\n');

const inDocuments = documents.flatMap((file) => examplesIn(file, textOf(file)));
const inLibrary = library.files.flatMap(({ uri, text }) => examplesIn(uri, commentsOf(text)));

/** `name.thou` in running text; what stands fenced is an example with files of its own. */
const filesNamed = (text: string): string[] =>
  [...text.replaceAll(/^```[^]*?^```$/gm, '').matchAll(/[\w-]+\.thou\b/g)].map(([name]) => name);

const filesUnder = (folder: string): string[] =>
  readdirSync(join(top, folder), { recursive: true, encoding: 'utf8' }).map((file) => join(folder, file));

/** Names that stand for any file, and what a package without a name for it is asked for. */
const anyFile = new Set(['file.thou', 'index.thou']);

test('a file that a page, a comment or a reason of the library names is there', () => {
  const chapters = library.files.map(({ uri }) => basename(uri));
  const known = new Set([...chapters, ...filesUnder('samples').map((file) => basename(file)), ...anyFile]);
  const pages = [...documents, ...filesUnder('language/docs')].filter((file) => file.endsWith('.md'));
  for (const page of pages) {
    const text = textOf(page);
    const own = [...text.matchAll(/^```thou (\S+)$/gm)].map(([, name]) => basename(name!));
    for (const name of filesNamed(text)) expect([...known, ...own], page).toContain(name);
  }
  for (const { uri, text } of library.files)
    for (const name of filesNamed(commentsAlone(text))) expect(chapters, uri).toContain(name);
  expect(filesNamed(commentsAlone('x: 1 // Rings are in rings.thou.\n'))).toEqual(['rings.thou']);
});

test('there are examples to look at, also in the library', () => {
  expect(inDocuments.length).toBeGreaterThan(0);
  expect(inLibrary.length).toBeGreaterThan(0);
});

test.each(inDocuments)('$name has no slip and gives figures', ({ text }) => {
  const { slips, builds } = run(text);
  expect(slips).toEqual([]);
  expect(builds.length).toBeGreaterThan(0);
  for (const build of builds) expect(build.figures('compression').every(Number.isFinite)).toBe(true);
});

test.each(inLibrary)('$name has no slip', ({ text }) => {
  expect(text.trim()).not.toBe('');
  expect(run(text).slips).toEqual([]);
});

test('an example with a slip would be found', () => {
  expect(run(inDocuments[0]!.text.replace('bore:', 'boar:')).slips).not.toEqual([]);
  const [found] = examplesIn(
    'a comment',
    commentsOf('  /// So:\n  /// ```thou\n  /// part p: Pin { mas: 1 g }\n  /// ```\n'),
  );
  expect(run(found!.text).slips).toEqual([expect.stringContaining('name.not-inside')]);
  expect(() => examplesIn('a comment', commentsOf('/// ```thou\n/// part p: Pin { mass: 1 g }\n'))).toThrow(
    'not closed',
  );
});
