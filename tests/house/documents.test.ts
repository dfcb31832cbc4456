/** What stands in the documents and in the trade library as an example of the language is read and worked out by it. */
import { expect, test } from 'vitest';
import { library } from '../reference/library.ts';
import { run } from '../reference/run.ts';
import { textOf } from './walls.ts';

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

const inDocuments = documents.flatMap((file) => examplesIn(file, textOf(file)));
const inLibrary = library.files.flatMap(({ uri, text }) => examplesIn(uri, commentsOf(text)));

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
