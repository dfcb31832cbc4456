/** What the trade library owes its readers: a meaning and a source for every figure, a doc for every rule, no name that is a word of the language. */
import { describe, expect, test } from 'vitest';
import { docOf, parseFile } from '../../language/src/grammar/file.ts';
import type { Declaration, Item } from '../../language/src/grammar/generated/ast.ts';
import { reservedWords } from '@thou/shared/words';
import { standardUnits } from '@thou/shared/unit/unit';
import { library } from './library.ts';

interface Declared {
  readonly where: string;
  readonly item: Item | Declaration;
}

const declared: readonly Declared[] = library.files.flatMap(({ uri, text }) =>
  parseFile(uri, text).blocks.flatMap(({ parsed: { item } }): Declared[] => {
    if (!item) return [];
    const where = uri.replace('prelude:/', '');
    if (item.$type !== 'Component' && item.$type !== 'Extend') return [{ where, item }];
    return [{ where, item }, ...(item.body?.declarations ?? []).map((declaration) => ({ where, item: declaration }))];
  }),
);
const nameOf = ({ where, item }: Declared): string => `${where}: ${'name' in item ? item.name : item.$type}`;
const without = (of: (declared: Declared) => boolean, word: RegExp): string[] =>
  declared.filter((one) => of(one) && !word.test(docOf(one.item) ?? '')).map(nameOf);

describe('the trade library', () => {
  test('every file is read without a slip', () => {
    for (const { uri, text } of library.files) expect(parseFile(uri, text).problems, uri).toEqual([]);
  });
  test('every derive and function says where it is from', () => {
    expect(
      without(({ item }) => item.$type === 'Derive' || item.$type === 'FunctionDeclaration', /(Source|Practice): \S/),
    ).toEqual([]);
  });
  test('every rule says what it is about and gives a reason', () => {
    expect(without(({ item }) => item.$type === 'Rule', /\w/)).toEqual([]);
    const silent = declared.filter(
      ({ item }) =>
        item.$type === 'Rule' &&
        !item.clauses.some(
          (clause) => clause.$type === 'Because' || (clause.$type === 'Expect' && clause.reason !== undefined),
        ),
    );
    expect(silent.map(nameOf)).toEqual([]);
  });
  test('every limit that has a figure is marked as practice or has a source', () => {
    expect(
      without(
        ({ item }) => item.$type === 'Property' && item.type?.limits === true && item.value !== undefined,
        /Practice[:,] |Source: /,
      ),
    ).toEqual([]);
  });
  test('no component, property or derive is a word of the language, no property is a unit', () => {
    const names = declared.flatMap(({ item }) => ('name' in item && item.name ? [item.name] : []));
    expect(names.filter((name) => reservedWords.has(name))).toEqual([]);
    const properties = declared.flatMap(({ item }) =>
      item.$type === 'Property' || item.$type === 'Derive' ? [item.name] : [],
    );
    expect(properties.filter((name) => standardUnits.get(name) !== undefined)).toEqual([]);
  });
});
