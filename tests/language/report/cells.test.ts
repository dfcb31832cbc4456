/** Places in words, as the headline of a finding has them. */
import { expect, test } from 'vitest';
import { cellsInWords } from '../../../language/src/report/cells.ts';
import type { Axis } from '../../../language/src/semantics/evaluate/value.ts';

const axis = (id: number, name: string, size: number, labels: readonly string[] | null = null): Axis => ({
  id,
  name,
  size,
  labels,
  coordinates: Float64Array.from({ length: size }, (_, at) => at + 1),
});
const stations = axis(0, 'station', 4);
const sides = axis(1, 'side', 2, ['left-side', 'right-side']);
const spots = axis(2, 'back-spot', 2, ['a', 'b']);

test.each([
  ['a number behind its axis', [stations], [[2]], 'station 3'],
  ['a label by itself', [stations, sides], [[2, 1]], 'station 3 right side'],
  ['a letter behind its axis', [stations, spots], [[2, 0]], 'station 3 back spot a'],
  [
    'all of them',
    [stations, spots],
    [0, 1, 2, 3].flatMap((at) => [
      [at, 0],
      [at, 1],
    ]),
    'each station and back spot',
  ],
])('%s', (_, axes, cells, words) => {
  expect(cellsInWords(axes, cells)).toBe(words);
});
