/** The one layout of a text: what changes, what stays, and that nothing is lost. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { format } from '../../../language/src/format/format.ts';
import { parseFile } from '../../../language/src/grammar/file.ts';
import { scan } from '../../../language/src/grammar/scanner.ts';
import { fixtures } from '../grammar/fixtures.ts';
import { shape } from '../grammar/shape.ts';

function laidOut(text: string): string {
  const result = format(text);
  if ('refused' in result) throw new Error(result.refused);
  return result.text;
}

const lines = (...all: string[]): string => `${all.join('\n')}\n`;

describe('blanks', () => {
  it.each([
    ['build  b{a:1 in,c:2 in}', 'build b { a: 1 in, c: 2 in }'],
    ['build b { a : 1 in , c :  2 in }', 'build b { a: 1 in, c: 2 in }'],
    ['build b { a: 1 in c: 2 in d { e: 1 } }', 'build b { a: 1 in   c: 2 in   d { e: 1 } }'],
    ['derive x: L=a+b*-c-( d )', 'derive x: L = a + b*-c - (d)'],
    ['derive x: L = a*b ^ 2/c', 'derive x: L = a*b ^ 2/c'],
    ['derive x: L = - a - -b', 'derive x: L = -a - -b'],
    [
      'derive x:L/T^2 per c as 0.0 in/ 0 mm = [ 1,2 ]  in->cfm by d',
      'derive x: L/T^2 per c as 0.0 in / 0 mm = [1, 2] in -> cfm by d',
    ],
    ['derive x: L = (a)[ 2 ]+max( a [ 1 ] over  b,c )', 'derive x: L = (a)[2] + max(a[1] over b, c)'],
    ['derive x: L = 1 in .. 2 in', 'derive x: L = 1 in..2 in'],
    ['derive x: L = 428± 0.5 g', 'derive x: L = 428 ± 0.5 g'],
    ['derive x: L = 4.1 in  +0.0005/-0', 'derive x: L = 4.1 in +0.0005/-0'],
    ['derive x: L = 2% otherwise 90° otherwise 2  %', 'derive x: L = 2% otherwise 90° otherwise 2 %'],
    ['derive x: L = if a>=1 and not b then>=2 else<3', 'derive x: L = if a >= 1 and not b then >= 2 else < 3'],
    ['component C { a: T ? , b: x|y=x }', 'component C { a: T?, b: x | y = x }'],
    ['build b { a: 1 in // so\t\n}', 'build b { a: 1 in // so\n}'],
    ['build b { a: 1 in /* so */,c: 2 }', 'build b { a: 1 in /* so */, c: 2 }'],
  ])('%s', (before, after) => expect(laidOut(before)).toBe(`${after}\n`));
});

describe('lines', () => {
  it('indents by braces, and what goes on by as much again', () => {
    const written = [
      'component C {',
      'a: L',
      '      derive b: L =',
      'a',
      '+ c',
      'where {',
      'd = 1',
      '   }',
      ' rule r: error {',
      'when a',
      '      because "so"',
      '}',
      '  }',
    ];
    const read = [
      'component C {',
      '  a: L',
      '  derive b: L =',
      '    a',
      '    + c',
      '    where {',
      '      d = 1',
      '    }',
      '  rule r: error {',
      '    when a',
      '    because "so"',
      '  }',
      '}',
    ];
    expect(laidOut(lines(...written))).toBe(lines(...read));
  });

  it('keeps one empty line at most, and none at the ends of a body or of the file', () => {
    expect(laidOut('\n\nbuild b {\n\n\n  a: 1\n\n\n\n  c: 2\n\n}\n\n\n\n// end\n\n\n')).toBe(
      'build b {\n  a: 1\n\n  c: 2\n}\n\n// end\n',
    );
  });

  it('pulls an opening brace up to its head', () => {
    expect(laidOut('build b\n{\n a: 1\n}\n')).toBe('build b {\n  a: 1\n}\n');
  });

  it('keeps the rows of a list where they stand beside its bracket', () => {
    const written = [
      'build b {',
      'abc: [1, 2,',
      '      3, 4] in',
      'd:   [1,',
      '      2]',
      'e: [',
      '1,',
      '  2',
      ']',
      '}',
    ];
    const read = [
      'build b {',
      '  abc: [1, 2,',
      '        3, 4] in',
      '  d: [1,',
      '      2]',
      '  e: [',
      '    1,',
      '    2',
      '  ]',
      '}',
    ];
    expect(laidOut(lines(...written))).toBe(lines(...read));
  });

  it('indents comments with what follows them and leaves their words alone', () => {
    const written = [
      '// top',
      'build b {',
      '// one',
      '   /* two',
      '      lines */',
      'a: 1      // far   off',
      '      // last',
      '}',
    ];
    const read = [
      '// top',
      'build b {',
      '  // one',
      '  /* two',
      '      lines */',
      '  a: 1      // far   off',
      '  // last',
      '}',
    ];
    expect(laidOut(lines(...written))).toBe(lines(...read));
  });

  it('keeps Windows line ends and a byte order mark', () => {
    expect(laidOut('\uFEFFbuild b {\r\na: 1\r\n}\r\n')).toBe('\uFEFFbuild b {\r\n  a: 1\r\n}\r\n');
  });

  it('leaves an empty file empty', () => {
    expect(laidOut('')).toBe('');
    expect(laidOut('\n\n')).toBe('');
  });
});

it('refuses a text with a mistake, with its place', () => {
  expect(format('build b {\n  a:\n}\n')).toEqual({
    refused: 'line 2, column 4: a figure or a name is missing after :',
  });
});

describe('nothing is lost', () => {
  it.each(fixtures)('$name keeps its lines', ({ text }) => {
    const once = laidOut(text);
    const trimmed = (all: string): string[] => all.split('\n').map((line) => line.trim());
    expect(laidOut(once)).toBe(once);
    expect(trimmed(once)).toEqual(trimmed(text));
  });

  const gaps = fc.array(fc.constantFrom('', ' ', '  ', '\t', '     '), { minLength: 40, maxLength: 40 });

  it('whatever the blanks were: same words, same comments, same tree, and twice is once', () => {
    fc.assert(
      fc.property(fc.constantFrom(...fixtures.map(({ text }) => text)), gaps, gaps, (text, indents, ends) => {
        const indented = (line: string, i: number): string =>
          /^\S/.test(line) ? line : (indents[i % 40] || ' ') + line.trimStart();
        const messy = text
          .split('\n')
          .map((line, i) => indented(line, i) + (ends[i % 40] ?? ''))
          .join('\n');
        const once = laidOut(messy);
        expect(laidOut(once)).toBe(once);
        expect(wordsOf(once)).toEqual(wordsOf(messy));
        expect(treesOf(once)).toEqual(treesOf(messy));
      }),
      { seed: 427, numRuns: 100 },
    );
  });

  it('after random edits: laid out the same twice, or refused', () => {
    const inserts = fc.constantFrom('\n', ' ', '', '// x\n', '/* y */', '\n\n\n', ',', '  \n', '/* a\n b */', '\t');
    const edit = fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), inserts);
    let formatted = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...fixtures.map(({ text }) => text)),
        fc.array(edit, { maxLength: 3 }),
        (start, edits) => {
          const text = edits.reduce((now, [at, insert]) => {
            const place = Math.floor(at * now.length);
            return now.slice(0, place) + insert + now.slice(place);
          }, start);
          const result = format(text);
          if ('refused' in result) return;
          formatted += 1;
          expect(wordsOf(result.text)).toEqual(wordsOf(text));
          expect(format(result.text)).toEqual(result);
        },
      ),
      { seed: 427, numRuns: 400 },
    );
    expect(formatted).toBeGreaterThan(100);
  });
});

function wordsOf(text: string): string[] {
  const { tokens, comments } = scan(text);
  const words = tokens.map(({ image }) => image).filter((image) => !/^[\r\n]/.test(image));
  return [...words, ...comments.map(({ start, end }) => text.slice(start, end).replace(/[ \t]+$/gm, ''))];
}

function treesOf(text: string): string[] {
  return parseFile('test.thou', text).blocks.map(({ parsed }) => (parsed.item === undefined ? '' : shape(parsed.item)));
}
