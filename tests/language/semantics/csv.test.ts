/** Cells of readings against an outside reader of the same text (npm csv-parse 7.0.3). */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCsv } from '../../../language/src/semantics/types/csv.ts';

function ours(text: string): string[][] {
  const read = parseCsv(text);
  if ('problem' in read) throw new Error(read.problem);
  return [[...read.header], ...read.rows.map((row) => row.map((cell) => cell.text))];
}

/** Blank rows are no rows here; the outside reader keeps those that hold separators. */
function theirs(text: string, delimiter: ',' | ';'): string[][] {
  const rows = parse(text, { bom: true, delimiter, relax_column_count: true, skip_empty_lines: true });
  return (rows as string[][]).filter((row) => row.some((cell) => cell.trim() !== ''));
}

const cell = fc.oneof(
  fc.constantFrom(
    '4.1250',
    '',
    '_',
    '4,1250',
    'front',
    ' 3 ',
    '"',
    'a "b" c',
    'two\nlines',
    'two\r\nlines',
    ';',
    ',',
    '-0.5e-3',
    '°',
    '½',
  ),
  fc.string({ maxLength: 6 }).map((text) => text.replaceAll('\0', '')),
);

const written = (text: string, separator: string, quote: boolean): string =>
  quote || /["\r\n]/.test(text) || text.includes(separator) || text.includes('\uFEFF')
    ? `"${text.replaceAll('"', '""')}"`
    : text;

describe('comma-separated text', () => {
  it('reads as csv-parse does', () => {
    const table = fc.record({
      rows: fc.array(fc.array(fc.tuple(cell, fc.boolean()), { minLength: 1, maxLength: 4 }), {
        minLength: 1,
        maxLength: 6,
      }),
      separator: fc.constantFrom(',' as const, ';' as const),
      lineEnd: fc.constantFrom('\n', '\r\n'),
      mark: fc.constantFrom('', '\uFEFF'),
      last: fc.boolean(),
    });
    fc.assert(
      fc.property(table, ({ rows, separator, lineEnd, mark, last }) => {
        const heading = ['row', 'level', 'figure [mm]'].join(separator);
        const lines = [
          heading,
          ...rows.map((row) => row.map(([text, quote]) => written(text, separator, quote)).join(separator)),
        ];
        const text = mark + lines.join(lineEnd) + (last ? lineEnd : '');
        expect(ours(text)).toEqual(theirs(text, separator));
      }),
      { seed: 427, numRuns: 2_000 },
    );
  });

  it('tells the line of a cell, also behind a cell of two lines', () => {
    const read = parseCsv('row,figure\n1,"a\nb"\n2,c\n');
    expect('rows' in read && read.rows.map((row) => row[0]!.line)).toEqual([2, 4]);
  });

  it('refuses what is no text, and what is too large', () => {
    expect(parseCsv('a,b\0')).toEqual({ problem: 'it is not a text' });
    expect(parseCsv('')).toEqual({ problem: 'it has no heading line' });
    expect(parseCsv(`a\n${'1\n'.repeat(100_001)}`)).toEqual({ problem: 'it has more than 100000 cells' });
  });
});
