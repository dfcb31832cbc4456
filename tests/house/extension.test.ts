/** What the extension declares: every text and file it names exists, it colours just the words that the language keeps, and its snippets can be read. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { reservedWords } from '@thou/shared/words';
import { noticesFor } from '../../extension/build/notices.ts';
import { Crashes } from '../../extension/src/crashes.ts';
import { tokenSorts } from '../../language/src/services/semantic-tokens.ts';
import { parseFile } from '../../language/src/grammar/file.ts';

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
  const named = [...new Set([...read('package.json').matchAll(/"%([^%"]+)%"/g)].map((match) => match[1]!))];
  expect(named.length).toBeGreaterThan(0);
  expect(Object.keys(JSON.parse(read('package.nls.json')) as object).toSorted(byName)).toEqual(named.toSorted(byName));
});

test('every file that the manifest names is there', () => {
  const named = [...read('package.json').matchAll(/"(?:path|configuration|icon|light|dark)": "([^"$]+)"/g)].map(
    (match) => match[1]!,
  );
  expect(named).toHaveLength(7);
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

describe('snippets', () => {
  const snippets = JSON.parse(read('snippets/thou.json')) as Readonly<
    Record<string, { readonly prefix: string; readonly body: readonly string[] }>
  >;
  const inABuild = new Set(['machining', 'measured', 'expect', 'accept']);

  /** The snippet as it stands when every place is left as it comes. */
  function asItComes(body: readonly string[]): string {
    return body
      .join('\n')
      .replaceAll(/\$CURRENT_YEAR-\$CURRENT_MONTH-\$CURRENT_DATE/g, '2026-02-20')
      .replaceAll(/\$\{\d+:([^}]*)\}/g, '$1')
      .replaceAll(/\$\d/g, '');
  }

  test.each(Object.entries(snippets))('%s is read without a problem, as it comes', (_, { prefix, body }) => {
    const text = asItComes(body);
    expect(text).not.toContain('$');
    const whole = inABuild.has(prefix) ? `build x {\n${text}\n}` : text;
    const { problems } = parseFile('file:///snippet.thou', `${whole}\n`);
    expect(problems.map(({ message }) => message)).toEqual([]);
  });
});

describe('notices', () => {
  test('each packed package once, with the words of its licence', () => {
    const text = noticesFor(
      ['node_modules/vscode-uri/lib/umd/index.js', 'node_modules/vscode-uri/x.js', 'a.ts'],
      join(folder, '..'),
    );
    expect(text.match(/^vscode-uri 3\.1\.0 \(MIT\)$/gm)).toHaveLength(1);
    expect(text).toContain('Permission is hereby granted');
  });

  test('a licence that nobody has looked at is refused', () => {
    // lightningcss is MPL-2.0, by its own manifest
    expect(() => noticesFor(['node_modules/lightningcss/node/index.js'], join(folder, '..'))).toThrow(/MPL-2\.0/);
  });
});

test('a server that stops is started again four times in three minutes, then no more until it is forgotten or long ago', () => {
  const crashes = new Crashes();
  const minutes = [0, 0.5, 1, 1.5, 2].map((minute) => crashes.oneMore(minute * 60_000));
  expect(minutes).toEqual([true, true, true, true, false]);
  expect(crashes.oneMore(4.2 * 60_000)).toBe(true);
  for (let time = 0; time < 9; time++) crashes.oneMore(5 * 60_000);
  crashes.forget();
  expect(crashes.oneMore(5 * 60_000)).toBe(true);
});

test('the sorts of words that the server colours are declared, each with a colour for every theme', () => {
  const { contributes } = JSON.parse(read('package.json')) as {
    readonly contributes: {
      readonly semanticTokenTypes: readonly { readonly id: string; readonly superType: string }[];
      readonly semanticTokenScopes: readonly { readonly scopes: Readonly<Record<string, readonly string[]>> }[];
    };
  };
  const texts = JSON.parse(read('package.nls.json')) as Readonly<Record<string, string>>;
  expect(
    contributes.semanticTokenTypes.map(({ id, superType }) => ({ id, superType, description: texts[`token.${id}`] })),
  ).toEqual(tokenSorts);
  expect(Object.keys(contributes.semanticTokenScopes[0]!.scopes)).toEqual(tokenSorts.map(({ id }) => id));
});
