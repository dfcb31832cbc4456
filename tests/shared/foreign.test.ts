/** Figures as other programs write them: read with every digit, and only in the ways in which they can be meant. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { plainFigure } from '@thou/shared/number/foreign';

test.each([
  // written, with a decimal point, with a decimal comma
  ['4.1206', '4.1206', null],
  ['4,1206', null, '4.1206'],
  ['0,125', null, '0.125'],
  ['1,234', '1234', '1.234'],
  ['1.234', '1.234', '1234'],
  ['1,234.50', '1234.50', null],
  ['1.234,50', null, '1234.50'],
  ['1 234,5', null, '1234.5'],
  ['1\u202f234.5', '1234.5', null],
  ["12'500", '12500', '12500'],
  ['.039', '0.039', null],
  ['-0.002', '-0.002', null],
  ['−3', '-3', '-3'],
  ['+3', '3', '3'],
  ['1.2E-03', '1.2E-03', null],
  ['1,23,456', null, null],
  ['12,34.5', null, null],
  ['1.2.3', null, null],
  ['', null, null],
  ['-', null, null],
  ['.', null, null],
  ['#REF!', null, null],
  ['2026-03-02', null, null],
  ['4 1/2', null, null],
])('%s', (written, point, comma) => {
  expect([plainFigure(written, '.'), plainFigure(written, ',')]).toEqual([point, comma]);
});

test('what a spreadsheet shows of a figure is read back as that figure, in both habits', () => {
  const figure = fc.tuple(fc.integer({ min: 0, max: 9_999_999 }), fc.integer({ min: 0, max: 99_999 }));
  fc.assert(
    fc.property(figure, fc.boolean(), ([whole, part], isGrouped) => {
      const decimals = String(part).padStart(5, '0');
      const digits = isGrouped ? whole.toLocaleString('en-GB') : String(whole);
      const due = `${whole}.${decimals}`;
      expect(plainFigure(`${digits}.${decimals}`, '.')).toBe(due);
      expect(plainFigure(`${digits.replaceAll(',', '.')},${decimals}`, ',')).toBe(due);
    }),
    { seed: 7, numRuns: 500 },
  );
});
