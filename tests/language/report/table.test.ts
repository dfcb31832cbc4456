import { describe, expect, it } from 'vitest';
import { cellAt, nested, nestedUnlessAlike, placesOf } from '../../../language/src/report/cells.ts';
import { aligned, paragraph, table } from '../../../language/src/report/table.ts';
import type { Axis } from '../../../language/src/semantics/evaluate/value.ts';

const axis = (id: number, size: number): Axis => ({
  id,
  name: `a${id}`,
  size,
  labels: null,
  coordinates: Float64Array.from({ length: size }, (_, at) => at + 1),
});

describe('tables in characters', () => {
  it('puts decimal points under each other', () => {
    expect(aligned(['7/16 in', '1.5', '-12.25', '≥ 0.080', '—', '427.6 in³ / 7007 cc'], 'point')).toEqual([
      '  7/16 in          ',
      '  1.5              ',
      '-12.25             ',
      '≥ 0.080            ',
      '—                  ',
      '427.6 in³ / 7007 cc',
    ]);
  });

  it('makes columns as wide as they need to be', () => {
    expect(
      table(
        [
          ['a', '1'],
          ['long', '22'],
        ],
        ['left', 'right'],
      ),
    ).toEqual(['a      1', 'long  22']);
  });

  it('breaks paragraphs at words and keeps a word that is too long', () => {
    expect(paragraph('  - ', 'one two three', 12)).toEqual(['  - one two', '    three']);
    expect(paragraph('', 'abcdefghijklmnop qr', 8)).toEqual(['abcdefghijklmnop', 'qr']);
  });
});

describe('cells along axes', () => {
  const axes = [axis(0, 2), axis(1, 3)];
  it('numbers them outermost first and back', () => {
    expect(Array.from({ length: 6 }, (_, cell) => placesOf(axes, cell))).toEqual([
      [0, 0],
      [0, 1],
      [0, 2],
      [1, 0],
      [1, 1],
      [1, 2],
    ]);
    for (let cell = 0; cell < 6; cell++) expect(cellAt(axes, placesOf(axes, cell))).toBe(cell);
  });

  it('nests them as rows', () => {
    expect(nested(axes, (cell) => cell)).toEqual([
      [0, 1, 2],
      [3, 4, 5],
    ]);
    expect(nested([], (cell) => cell)).toBe(0);
    expect(nestedUnlessAlike(axes, () => 'x')).toBe('x');
    expect(nestedUnlessAlike(axes, (cell) => (cell === 5 ? 'y' : 'x'))).toEqual([
      ['x', 'x', 'x'],
      ['x', 'x', 'y'],
    ]);
  });
});
