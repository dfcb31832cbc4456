/** Texts made to hold a reader up: a message and no failure, in work that grows no faster than the text. */
import { describe, expect, it } from 'vitest';
import { parseFile } from '../../../language/src/grammar/file.ts';
import { membersOfEntry } from './shape.ts';

const shapes: Readonly<Record<string, (n: number) => string>> = {
  'unclosed comments': (n) => `build x { a: 1 }\n${'/* x '.repeat(n)}`,
  'unclosed texts, one a line': (n) => `build x {\n${'a: "\n'.repeat(n)}}`,
  'unclosed texts on one line': (n) => `build x { a: ${'" '.repeat(n)}`,
  'open braces': (n) => `build x ${'{ '.repeat(n)}`,
  'open brackets': (n) => `build x { a: ${'['.repeat(n)}`,
  'open brackets, one a line': (n) => `build x {\n${'a: [\n'.repeat(n)}`,
  'open parentheses': (n) => `build x { a: ${'('.repeat(n)}`,
  'closing braces': (n) => `build x { a: 1 ${'}\n'.repeat(n)}`,
  'closing brackets': (n) => `build x { a: ${']'.repeat(n)}`,
  'brackets crossed': (n) => `build x { a: ${'[)'.repeat(n)}`,
  'empty lines': (n) => `build x { a: 1${'\n'.repeat(n)}}`,
  'signs in a row': (n) => `build x { a: ${'-'.repeat(n)}1 }`,
  'a sum': (n) => `build x { a: 1${' + 1'.repeat(n)} }`,
  'a sum over lines': (n) => `build x { a: 1${' +\n 1'.repeat(n)} }`,
  powers: (n) => `build x { a: 1${' ^ 1'.repeat(n)} }`,
  'if in if': (n) => `build x { a: ${'if a then b else '.repeat(n)}c }`,
  'a path': (n) => `build x { a${'.a'.repeat(n)}: 1 }`,
  'a list': (n) => `build x { a: [${'4.125, '.repeat(n)}1] in }`,
  'members on lines': (n) => `build x {\n${'  a: 4.125 in\n'.repeat(n)}}`,
  'members on one line': (n) => `build x {${'  a: 4.125 in'.repeat(n)} }`,
  'doc lines': (n) => `${'/// a\n'.repeat(n)}build x { a: 1 }`,
  'half a derived value': (n) => `component X { derive a: L\n${'5\n'.repeat(n)}}`,
  'unknown characters': (n) => `build x {\n${'§ $ ?\n'.repeat(n)}}`,
  'merge markers': (n) => `${'<<<<<<< a\n'.repeat(n)}build x { a: 1 }`,
  'a long unit': (n) => `build x { a: 5 a*(${'b*'.repeat(n)} }`,
  'a long name': (n) => `build x { a: ${'b-'.repeat(n)}c }`,
};

/** Processor time in ms, the least of three: other programs on the machine do not count. */
function workOf(text: string): number {
  let least = Infinity;
  for (let run = 0; run < 3; run += 1) {
    const before = process.cpuUsage();
    parseFile('test.thou', text);
    least = Math.min(least, process.cpuUsage(before).user / 1000);
  }
  return least;
}

describe('the work grows with the text', () => {
  it.each(Object.entries(shapes))('%s', (name, make) => {
    const size = /members|list|one a line|characters/.test(name) ? 1250 : 5000;
    workOf(make(500));
    // eight times the text: linear is 8, quadratic 64; small figures are noise, and a busy machine gets another look
    let growth = Infinity;
    for (let look = 0; look < 5 && growth >= 24; look++) {
      growth = Math.min(growth, workOf(make(8 * size)) / Math.max(workOf(make(size)), 2));
    }
    expect(growth).toBeLessThan(24);
  });
});

describe('what is too much is refused with a message', () => {
  const codesOf = (text: string): string[] => parseFile('test.thou', text).problems.map(({ code }) => code);

  it.each([
    ['5,000 parentheses', `derive x: L = ${'('.repeat(5000)}1${')'.repeat(5000)}\n`, ['syntax.too-deep']],
    ['5,000 terms', `derive x: L = 1${' + 1'.repeat(5000)}\n`, ['syntax.too-long']],
    ['5,000 terms over lines', `derive x: L = 1${'\n  + 1'.repeat(5000)}\n`, ['syntax.too-long']],
    ['5,000 signs', `derive x: L = ${'-'.repeat(5000)}1\n`, ['syntax.too-deep']],
    ['5,000 powers', `derive x: L = 1${' ^ 2'.repeat(5000)}\n`, ['syntax.too-deep']],
    ['5,000 ifs', `derive x: L = ${'if a then b else '.repeat(5000)}c\n`, ['syntax.too-deep']],
    ['5,000 bodies', `build x ${'{ a '.repeat(5000)}${'}'.repeat(5000)}\n`, ['syntax.too-deep']],
  ])('%s', (_, text, codes) => expect(codesOf(text)).toEqual(codes));

  it.each([
    ['64 brackets', `derive x: L = ${'('.repeat(63)}[1]${')'.repeat(63)}\n`],
    ['1,000 terms', `derive x: L = 1${' + 1'.repeat(999)}\n`],
    ['60 ifs in a row', `derive x: L = ${'if a then b else '.repeat(60)}c\n`],
    ['many ifs beside each other', `derive x: L = [${'1: if a then b else c, '.repeat(500)}]\n`],
    ['20,000 entries of a list', `build x { a: [${'4.125, '.repeat(20_000)}1] in }\n`],
  ])('%s are read', (_, text) => expect(codesOf(text)).toEqual([]));

  it('reads the rest of the file', () => {
    const file = parseFile('test.thou', `derive x: L = ${'('.repeat(5000)}\nbuild b { a: 1 in }\n`);
    expect(file.problems.map(({ code }) => code)).toEqual(['syntax.too-deep']);
    expect(file.blocks.map(({ parsed }) => parsed.item?.$type)).toEqual([undefined, 'Build']);
  });
});

describe('names that mean something to JavaScript', () => {
  const names = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', 'valueOf'];
  it.each(names)('%s is a name like any other', (name) => {
    const text = `part ${name}: ${name} of ${name} {\n  ${name}.${name}: ${name}(1 over ${name})\n}\n`;
    const file = parseFile(name, text);
    expect(file.problems).toEqual([]);
    const item = file.blocks[0]?.parsed.item;
    expect(item === undefined ? [] : membersOfEntry(item)).toEqual([`${name}.${name}: ${name}(1 over ${name})`]);
    expect(parseFile(name, text, file).blocks[0]?.parsed).toBe(file.blocks[0]?.parsed);
  });
});

describe('texts as they come', () => {
  const text = 'use "a.thou"\n/// One.\nbuild b {\n  a: 8 µm ± 1 µm // 😀\n  c: 2 in\n}\n';

  it('reads Windows and old Mac line ends, and a byte order mark, without a word', () => {
    for (const own of [text.replaceAll('\n', '\r\n'), text.replaceAll('\n', '\r'), `\uFEFF${text}`]) {
      const file = parseFile('test.thou', own);
      expect(file.problems).toEqual([]);
      expect(file.blocks.map(({ parsed }) => parsed.item?.$type)).toEqual(['Use', 'Build']);
    }
  });

  it('has no entry in an empty file, or in one of comments', () => {
    for (const empty of ['', '\n\n', '// a\n/* b */\n', '\uFEFF']) {
      const file = parseFile('test.thou', empty);
      expect(file.problems).toEqual([]);
      expect(file.blocks.filter(({ parsed }) => parsed.item !== undefined)).toEqual([]);
    }
  });

  it('refuses a file over 2 MB and reads one just under', () => {
    const line = '// a line of a comment that fills the file up to the brim\n';
    const most = Math.floor((2 * 1024 * 1024) / line.length) - 1;
    const file = parseFile('test.thou', `${line.repeat(most)}build b { }\n`);
    expect([file.problems, file.blocks.map(({ parsed }) => parsed.item?.$type)]).toEqual([[], ['Build']]);
    expect(parseFile('test.thou', line.repeat(most + 2)).problems.map(({ code }) => code)).toEqual([
      'syntax.file-too-large',
    ]);
  });
});
