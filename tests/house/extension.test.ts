/** What the extension declares: every text it names exists, every file it names exists, and it colours just the words that the language keeps. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { reservedWords } from '@thou/shared/words';

const folder = join(import.meta.dirname, '../../extension');

function read(file: string): string {
  return readFileSync(join(folder, file), 'utf8');
}

interface Grammar {
  readonly repository: Readonly<Record<string, { readonly match?: string }>>;
}

const byName = (a: string, b: string): number => a.localeCompare(b, 'en');

const colours = JSON.parse(read('syntaxes/thou.tmLanguage.json')) as Grammar;

function pattern(name: string): RegExp {
  const match = colours.repository[name]?.match;
  if (match === undefined) throw new Error(`no pattern "${name}"`);
  return new RegExp(match, 'g');
}

test('every text that the manifest names is there, and no other', () => {
  const named = [...read('package.json').matchAll(/"%([^%"]+)%"/g)].map((match) => match[1]!);
  expect(named.length).toBeGreaterThan(0);
  expect(Object.keys(JSON.parse(read('package.nls.json')) as object).toSorted(byName)).toEqual(named.toSorted(byName));
});

test('every file that the manifest names is there', () => {
  const named = [...read('package.json').matchAll(/"(?:path|configuration|icon)": "([^"]+)"/g)].map(
    (match) => match[1]!,
  );
  expect(named).toHaveLength(3);
  expect(named.filter((file) => !existsSync(join(folder, file)))).toEqual([]);
});

test('the picture is a square PNG of 256', () => {
  const picture = readFileSync(join(folder, 'media/icon.png'));
  expect(picture.subarray(1, 4).toString()).toBe('PNG');
  expect([picture.readUInt32BE(16), picture.readUInt32BE(20)]).toEqual([256, 256]);
});

test('the words in colour are the reserved words', () => {
  const listed = /\(\?:([a-z|-]+)\)/.exec(colours.repository['words']?.match ?? '')?.[1]?.split('|') ?? [];
  expect(listed.toSorted(byName)).toEqual([...reservedWords].toSorted(byName));
});

test.each([
  ['build fell-427 {', ['build']],
  ['part-number: 3, no-build: 2', []],
  ['x.part: 4 in', []],
  ['expect quench within 0.036..0.044 in', ['expect', 'within']],
])('words in colour in "%s"', (line, words) => {
  expect(line.match(pattern('words')) ?? []).toEqual(words);
});

test.each([
  ['0.036..0.044', ['0.036', '0.044']],
  ['1..8', ['1', '8']],
  ['.039 in', ['.039']],
  ['4.1205 in +0.0005/-0', ['4.1205', '0.0005', '0']],
  ['1e-6', ['1e-6']],
])('numbers in colour in "%s"', (line, numbers) => {
  expect(line.match(pattern('numbers')) ?? []).toEqual(numbers);
});
