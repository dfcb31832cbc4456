/** Words for the user of the editor's side: none stands where it could not be put into another language, and the other language has them all. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { sourcesUnder, textOf, top } from './walls.ts';

type Texts = Readonly<Record<string, string>>;
const read = (file: string): unknown => JSON.parse(readFileSync(join(top, 'extension', file), 'utf8'));

interface Literal {
  readonly text: string;
  readonly before: string;
}

/** The texts in quotes of a source, its comments and imports left out, with what stands before each. */
function literalsOf(source: string): Literal[] {
  const found: Literal[] = [];
  const token = /\/\*[^]*?\*\/|\/\/[^\n]*|'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g;
  for (const { 0: quoted, index } of source.matchAll(token)) {
    if (quoted.startsWith('/')) continue;
    found.push({ text: quoted.slice(1, -1).replaceAll("\\'", "'"), before: source.slice(0, index).trimEnd() });
  }
  return found.filter(({ before }) => !/\b(from|import)$/.test(before));
}

const isMarked = ({ before }: Literal): boolean => /\bl10n\.t\($/.test(before);

/** A sentence, or a word that begins like one; what stands between the places of a template counts. */
function readsLikeWords({ text }: Pick<Literal, 'text'>): boolean {
  const said = text.replaceAll(/\$\{[^}]*\}/g, '').trim();
  return /[A-Za-zÀ-ž]{2,} [A-Za-zÀ-ž]{2,}/.test(said) || /^[A-ZÀ-Ž][a-zà-ž]{2,}/.test(said);
}

/** Of the language, of protocols, and of drawing: nobody would translate them. */
const noWords: readonly RegExp[] = [
  /^quench = 0\.040 in$/,
  /^use prelude 1$/,
  /^build \$\{1:name\} \{$/,
  /^Thou$/,
  /^FileNotFound$/,
  /^text\/[a-z]+$/,
  / per $/,
  /^default-src 'none';/,
];
/** A page's frame: its own test looks at what stands between its marks. */
const frame = 'extension/src/sheet/page.ts';
const clientSources = sourcesUnder('extension/src').concat(sourcesUnder('extension/view'));

test('a text that is not marked would be found', () => {
  const plain = literalsOf(
    "import x from 'Not this one'; // 'Nor this'\nshow('Not marked', l10n.t('Marked so'), `a ${b} of them`);",
  );
  expect(plain.map((one) => [one.text, isMarked(one), readsLikeWords(one)])).toEqual([
    ['Not marked', false, true],
    ['Marked so', true, true],
    ['a ${b} of them', false, true],
  ]);
});

test.each(clientSources.filter((file) => file !== frame))('every word for the user is marked in %s', (file) => {
  const bare = literalsOf(textOf(file)).filter((one) => !isMarked(one) && readsLikeWords(one));
  expect(bare.map(({ text }) => text).filter((text) => !noWords.some((one) => one.test(text)))).toEqual([]);
});

test('in the frame of a page stands no word of its own', () => {
  const html = /`(<!doctype html>[^]*?<\/html>)`/
    .exec(textOf(frame))![1]!
    .replaceAll(/<(style|script)[^]*?<\/\1>/g, '');
  const between = html.replaceAll(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, '').replaceAll(/<[^>]*>/g, '\n');
  expect(
    between
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '' && line !== 'Thou'),
  ).toEqual([]);
});

/** Fields of the manifest that are read by a person, wherever they stand. */
const forPeople = new Set([
  'displayName',
  'description',
  'title',
  'markdownDescription',
  'enumDescriptions',
  'altText',
  'label',
  'contents',
  'userDescription',
  'name',
  'contextualTitle',
  'markdownDeprecationMessage',
  'deprecationMessage',
  'placeholder',
]);
/** Of a file, for machines, or a name that is the same everywhere. */
const namesAlone =
  /^\/(name|publisher)$|\/languageModelTools\/\d+\/(name|inputSchema\/)|\/languages\/|\/taskDefinitions\/\d+\/type|\/problemMatchers\/\d+\/name/;

function* wordsOf(value: unknown, path = '', key = ''): Generator<readonly [path: string, text: string]> {
  if (typeof value === 'string') {
    if (forPeople.has(key) && !namesAlone.test(path)) yield [path, value];
  } else if (Array.isArray(value)) {
    for (const [at, one] of value.entries()) yield* wordsOf(one, `${path}/${at}`, key);
  } else if (typeof value === 'object' && value !== null) {
    for (const [name, one] of Object.entries(value)) yield* wordsOf(one, `${path}/${name}`, name);
  }
}

test('the manifest names its texts by keys', () => {
  const words = [...wordsOf(read('package.json'))];
  expect(words.length).toBeGreaterThan(50);
  expect(words.filter(([, text]) => !/^%[^%]+%$/.test(text))).toEqual([]);
});

describe('German', () => {
  const [english, german] = [read('package.nls.json') as Texts, read('package.nls.de.json') as Texts];
  const bundle = read('l10n/bundle.l10n.de.json') as Texts;
  const marked = [
    ...new Set(
      clientSources.flatMap((file) =>
        literalsOf(textOf(file))
          .filter(isMarked)
          .map(({ text }) => text),
      ),
    ),
  ];
  /** What must stand in both: places to be filled in, commands, names in code. */
  const kept = (text: string): string[] =>
    (text.match(/\{\d+\}|\(command:[^)]*\)|`[^`]*`/g) ?? [])
      .map((one) => (one.startsWith('`Thou:') ? '`Thou`' : one))
      .toSorted((a, b) => a.localeCompare(b, 'en'));
  const sorted = (names: Iterable<string>): string[] => [...names].toSorted((a, b) => a.localeCompare(b, 'en'));

  test('has every text of the manifest, and no other', () => {
    expect(sorted(Object.keys(german))).toEqual(sorted(Object.keys(english)));
  });

  test('has every text of the client, and no other', () => {
    expect(marked.length).toBeGreaterThan(10);
    expect(sorted(Object.keys(bundle))).toEqual(sorted(marked));
  });

  test('keeps what is filled in, run and named', () => {
    for (const [key, text] of Object.entries(english))
      expect([key, kept(german[key] ?? '')]).toEqual([key, kept(text)]);
    for (const [text, other] of Object.entries(bundle)) expect([text, kept(other)]).toEqual([text, kept(text)]);
  });

  test('is another language', () => {
    const same = Object.entries({
      ...bundle,
      ...Object.fromEntries(Object.keys(english).map((key) => [english[key]!, german[key]!])),
    }).filter(([text, other]) => text === other);
    expect(same.map(([text]) => text).filter((text) => text !== 'Thou')).toEqual([]);
  });
});
