/** What the trade library owes its readers: a meaning and a source for every figure, a doc for every rule, no name that is a word of the language. */
import { describe, expect, test } from 'vitest';
import { format } from '../../language/src/format/format.ts';
import { docOf, parseFile } from '../../language/src/grammar/file.ts';
import { reservedWords } from '@thou/shared/words';
import { standardUnits } from '@thou/shared/unit/unit';
import { declared, limitsNotRead, nameOf, notHeld, type Declared } from './held.ts';
import { library } from './library.ts';
import { projectOf } from './memory.ts';

const labelOf = (one: Declared): string => `${one.file}: ${nameOf(one)}`;
const without = (of: (declared: Declared) => boolean, word: RegExp): string[] =>
  declared.filter((one) => of(one) && !word.test(docOf(one.item) ?? '')).map(labelOf);

/** Kinds that are shown without a unit. */
const unitless = new Set(['Flag', 'Count', 'Text', 'Date']);

describe('the trade library', () => {
  test('every file is read without a slip', () => {
    for (const { uri, text } of library.files) expect(parseFile(uri, text).problems, uri).toEqual([]);
  });
  test('every file is laid out as the formatter has it', () => {
    for (const { uri, text } of library.files) expect(format(text), uri).toEqual({ text });
  });
  test('no file means what it cannot mean', () => {
    const project = projectOf(new Map());
    for (const { uri } of library.files) {
      const slips = project.check(uri).problems.filter(({ severity }) => severity !== 'hint');
      expect(
        slips.map(({ code, message }) => `${code}: ${message}`),
        uri,
      ).toEqual([]);
    }
  });
  test('every derive and limit that has a dimension says in which unit it is shown', () => {
    const bare = declared.filter(({ item }) => {
      if (item.$type !== 'Derive' && !(item.$type === 'Property' && item.type?.limits === true)) return false;
      const { type } = item;
      const named = type?.of?.$type === 'TypeName' ? type.of.name : null;
      const needsNone = named !== null && (unitless.has(named) || /^[a-z]/.test(named));
      if (!type || needsNone || type.choices.length > 0 || type.against.length > 0) return false;
      return type.shown.length === 0 || (named !== 'Ratio' && type.shown.some(({ unit }) => unit === undefined));
    });
    expect(bare.map(labelOf)).toEqual([]);
  });
  test('every derive, function and rule is held by a test, which is its example too', () => {
    expect(notHeld()).toEqual([]);
  });
  test('every limit is read by a rule or a derive', () => expect(limitsNotRead()).toEqual([]));
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
    expect(silent.map(labelOf)).toEqual([]);
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
