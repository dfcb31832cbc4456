/** After any edit the file is read as from scratch, and only the blocks that changed are read again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseFile, parseOn, type SourceFile } from '../../../language/src/grammar/file.ts';
import { fixtures } from './fixtures.ts';
import { readingOf } from './shape.ts';

const snippets = fc.constantFrom(
  '',
  ' ',
  '\n',
  '\r\n',
  '{',
  '}',
  '[',
  ']',
  '(',
  ')',
  ',',
  ':',
  '=',
  '"',
  '/*',
  '*/',
  '//',
  '///',
  '.',
  '-',
  '+',
  '±',
  '1',
  '4.125 in',
  'in',

  'build x {\n',
  'part p: P { a: 1 }\n',
  '\nuse "a"\n',
  'derive',
  'rule',
  'where',
  'solve',
  '<<<<<<<',
  '>>>>>>>\n',
  '§',
  '\u00a0',
  'at 21 degC',
);
const edit = fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), length: fc.nat({ max: 12 }), text: snippets });
const texts = fixtures.map(({ text }) => text);

function edited(text: string, { at, length, text: insert }: { at: number; length: number; text: string }): string {
  const start = Math.floor(at * text.length);
  return text.slice(0, start) + insert + text.slice(start + length);
}

let carriedOn = 0;

describe('reading again after an edit', () => {
  it('gives what reading from scratch gives, after any edits', () => {
    fc.assert(
      fc.property(fc.constantFrom(...texts), fc.array(edit, { minLength: 1, maxLength: 6 }), (start, edits) => {
        let text = start;
        let file = parseFile('test.thou', text);
        for (const one of edits) {
          text = edited(text, one);
          file = parseFile('test.thou', text, file);
          expect(readingOf(file)).toEqual(readingOf(parseFile('test.thou', text)));
        }
      }),
      { seed: 427, numRuns: 150 },
    );
  });

  it('never fails on any text, and every problem stands inside the text', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(snippets, fc.string({ maxLength: 8 })), { maxLength: 40 }), (parts) => {
        const text = parts.join(' ');
        const { problems, blocks } = parseFile('test.thou', text);
        for (const { start, end } of problems) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeGreaterThanOrEqual(start);
          expect(end).toBeLessThanOrEqual(text.length);
        }
        readingOf({ uri: '', text, problems, blocks });
      }),
      { seed: 427, numRuns: 1500 },
    );
  });

  it('takes over every block that did not change, also when it moved', () => {
    const before = parseFile('test.thou', texts.join('\n'));
    const text = before.text.replace('redline: 7000 rpm', 'redline: 7200 rpm\n  // moved');
    const after = parseFile('test.thou', text, before);
    const known = new Set(before.blocks.map(({ parsed }) => parsed));
    expect(after.blocks.filter(({ parsed }) => !known.has(parsed)).map(({ parsed }) => parsed.item?.$type)).toEqual([
      'Build',
    ]);
    expect(after.blocks.map(({ offset, parsed }) => text.slice(offset, offset + parsed.text.length))).toEqual(
      after.blocks.map(({ parsed }) => parsed.text),
    );
  });

  it('carries a tree on where another figure was written, with the places of all that follows', () => {
    const figures = ['7', '7200', '4.25', '.5', '1/2', '4 1/2', '6e3', '12.0625'];
    const rest = ['', ' in', '4', '/8', '.', ' 1/2', ' and', '-8', '"'];
    fc.assert(
      fc.property(
        fc.constantFrom(...texts.filter((text) => /^build /m.test(text))),
        fc.array(
          fc.record({
            at: fc.nat(),
            figure: fc.constantFrom(...figures),
            rest: fc.oneof(
              { weight: 6, arbitrary: fc.constant('') },
              { weight: 1, arbitrary: fc.constantFrom(...rest) },
            ),
          }),
          { minLength: 1, maxLength: 8 },
        ),
        (start, edits) => {
          let text = start;
          let file = parseFile('test.thou', text);
          for (const { at, figure, rest: behind } of edits) {
            const found = [...text.matchAll(/(?<![\w.-])(\d+ )?\d+([./]\d+)?/g)];
            const one = found[at % found.length]!;
            text = text.slice(0, one.index) + figure + behind + text.slice(one.index + one[0].length);
            const known = readingOf(parseFile('test.thou', text));
            file = parseOn(file, text);
            carriedOn += file.blocks.filter(({ parsed }) => parsed.before !== undefined).length;
            expect(readingOf(file)).toEqual(known);
          }
        },
      ),
      { seed: 427, numRuns: 200 },
    );
    expect(carriedOn).toBeGreaterThan(200);
  });

  it('leaves the tree as it is where nobody said that it may be used up', () => {
    const before = parseFile('test.thou', 'build b {\n  a: 1 in\n}\n');
    const known = readingOf(before);
    parseFile('test.thou', before.text.replace('1', '2.5'), before);
    expect(readingOf(before)).toEqual(known);
  });

  it('gives each of two blocks with the same text a tree of its own, again and again', () => {
    const text = 'part p: P { a: 1 in }\n'.repeat(3);
    let file: SourceFile = parseFile('test.thou', text);
    for (let i = 0; i < 3; i += 1) {
      expect(new Set(file.blocks.map(({ parsed }) => parsed)).size).toBe(3);
      file = parseFile('test.thou', text, file);
    }
  });

  it('shares no tree between two files', () => {
    const one = parseFile('one.thou', 'part p: P\n');
    expect(parseFile('two.thou', 'part p: P\n', one).blocks[0]?.parsed).not.toBe(one.blocks[0]?.parsed);
  });
});
