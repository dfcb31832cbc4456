// Figures in and out: lexemes, decimal rounding, significant digits, exact factors, nearest names.
import fc from 'fast-check';
import Fraction from 'fraction.js';
import { describe, expect, it } from 'vitest';
import { decimalsOf, fixed, formatSI, significant } from '@thou/shared/number/format';
import { distance, nearest } from '@thou/shared/number/nearest';
import { parseNumber } from '@thou/shared/number/parse';
import { multiplied, piExact, raisedTo, rational, rationalOf, toNumber } from '@thou/shared/unit/rational';
import { standardUnits, toSI } from '@thou/shared/unit/unit';

describe('figures as typed', () => {
  it.each([
    ['.039', 0.039],
    ['7/16', 0.4375],
    ['1 7/16', 1.4375],
    ['1  1/2', 1.5],
    ['1e-6', 1e-6],
    ['2.5E+3', 2500],
    ['4.125', 4.125],
    ['0', 0],
    ['007', 7],
  ])('%s is %d', (lexeme, value) => expect(parseNumber(lexeme)).toBe(value));

  it.each([
    '',
    '1.',
    '1/0',
    '0/0',
    '1e999',
    '-1',
    '+1',
    '1,5',
    '0x10',
    ' 1',
    '1 ',
    '1/2/3',
    'Infinity',
    '1 2',
    '1.5/2',
  ])('"%s" is no figure', (lexeme) => expect(parseNumber(lexeme)).toBeNaN());

  it('reads what a double writes, and every fraction to the nearest double (fraction.js)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parseNumber(String(value))).toBe(value);
      }),
      { seed: 31 },
    );
    const figure = fc.integer({ min: 0, max: 9999 });
    fc.assert(
      fc.property(figure, figure, fc.integer({ min: 1, max: 9999 }), (whole, above, below) => {
        const exact = new Fraction(whole).add(new Fraction(above, below));
        expect(parseNumber(`${whole} ${above}/${below}`)).toBe(exact.valueOf());
      }),
      { seed: 32 },
    );
  });
});

describe('rounding', () => {
  it.each([
    [1.005, 2, '1.01'],
    [-1.005, 2, '-1.01'],
    [0.0025, 3, '0.003'],
    [0.00249999999999999, 3, '0.003'],
    [0.0024999, 3, '0.002'],
    [2.5, 0, '3'],
    [-2.5, 0, '-3'],
    [-0.0001, 2, '0.00'],
    [-0, 3, '0.000'],
    [1e21, 1, '1000000000000000000000.0'],
    [1e-7, 4, '0.0000'],
    [1.5e-7, 7, '0.0000002'],
    [99.9996, 3, '100.000'],
    [4.125, 4, '4.1250'],
    [5e-324, 3, '0.000'],
    [Number.NaN, 2, '—'],
    [Infinity, 2, '—'],
  ])('%d to %d decimals is %s', (value, decimals, text) => expect(fixed(value, decimals)).toBe(text));

  it('is that of the typed digits, halves away from zero, whatever the double', () => {
    const digits = fc.integer({ min: 0, max: 9_999_999 });
    fc.assert(
      fc.property(digits, fc.integer({ min: 1, max: 6 }), fc.boolean(), (figure, decimals, below) => {
        // figure / 10^(decimals + 1): the last digit alone decides
        const text = `${String(figure).padStart(decimals + 2, '0')}`;
        const typed = `${text.slice(0, -decimals - 1)}.${text.slice(-decimals - 1)}`;
        const rounded = String(Math.floor((figure + 5) / 10)).padStart(decimals + 1, '0');
        const due = `${rounded.slice(0, -decimals)}.${rounded.slice(-decimals)}`;
        const sign = below && Number(rounded) !== 0 ? '-' : '';
        expect(fixed(below ? -Number(typed) : Number(typed), decimals)).toBe(sign + due);
      }),
      { seed: 33, numRuns: 1000 },
    );
  });

  it('never shows an exponent or a minus zero, and is never off by more than half a place and a thousandth', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (value, decimals) => {
          const text = fixed(value, decimals);
          expect(text).toMatch(decimals > 0 ? new RegExp(`^-?\\d+\\.\\d{${decimals}}$`) : /^-?\d+$/);
          expect(text).not.toMatch(/^-[0.]*$/);
          expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(
            0.5011 * 10 ** -decimals + 1e-15 * Math.abs(value),
          );
        },
      ),
      { seed: 34, numRuns: 1000 },
    );
  });

  it.each([
    [12345, 2, '12000'],
    [9.996, 3, '10.0'],
    [0.00123456, 3, '0.00123'],
    [-99.95, 3, '-100'],
    [0, 3, '0.00'],
    [1e-10, 2, '0.00000000010'],
    [6.02e23, 3, '602000000000000000000000'],
    [1, 4, '1.000'],
  ])('%d to %d digits is %s', (value, digits, text) => expect(significant(value, digits)).toBe(text));

  it('agrees with toPrecision on the value where no half is near', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), fc.integer({ min: -9, max: 3 }), (figure, scale) => {
        const value = Number(`${figure}e${scale}`);
        const rest = Number(`0.${String(figure).slice(4)}`);
        fc.pre(Math.abs(rest - 0.5) > 1e-3);
        expect(Number(significant(value, 4))).toBe(Number(value.toPrecision(4)));
      }),
      { seed: 35, numRuns: 500 },
    );
  });

  it('counts the decimals of a pattern', () => {
    expect(['0.0000', '0', '0.0', '0.00'].map(decimalsOf)).toEqual([4, 0, 1, 2]);
  });
});

describe('SI in a unit', () => {
  const unit = (text: string) => {
    const read = standardUnits.parse(text);
    if (!('unit' in read)) throw new Error(text);
    return read.unit;
  };

  it.each([
    [0.0254 * 0.0025, '0.0000', 'in', '0.0025 in'],
    [7.0057e-3, '0.0', 'in^3', '427.5 in³'],
    [288.15, '0', 'degF', '59 °F'],
    [300, '0.0', 'K', '300.0 K'],
    [0.4, '0', '%', '40 %'],
  ])('%d as %s %s is %s', (si, pattern, text, shown) => expect(formatSI(si, pattern, unit(text))).toBe(shown));

  it('leaves the zero out of a difference and the unit off a plain number', () => {
    expect(formatSI(10, '0.0', unit('degF'), 'difference')).toBe('18.0 °F');
    expect(formatSI(10.6149, '0.00', null)).toBe('10.61');
  });

  it('shows a typed figure as it was typed, through SI and back', () => {
    const single = standardUnits.symbols().filter((symbol) => standardUnits.get(symbol)!.offset === 0);
    fc.assert(
      fc.property(fc.constantFrom(...single), fc.integer({ min: 0, max: 99_999_999 }), (symbol, figure) => {
        const typed = `${Math.floor(figure / 10000)}.${String(figure % 10000).padStart(4, '0')}`;
        const u = unit(symbol);
        expect(formatSI(toSI(parseNumber(typed), u), '0.0000', u).split(' ')[0]).toBe(typed);
        // and with a figure less, the half that was typed is still a half
        const half = `${Math.floor(figure / 10000)}.${String(figure % 1000).padStart(3, '0')}5`;
        expect(formatSI(toSI(parseNumber(half), u), '0.000', u).split(' ')[0]).toBe(fixed(parseNumber(half), 3));
      }),
      { seed: 36, numRuns: 1000 },
    );
  });
});

describe('exact factors', () => {
  const small = fc.integer({ min: -9999, max: 9999 }).filter((n) => n !== 0);

  it('multiply and raise as fraction.js does', () => {
    fc.assert(
      fc.property(small, small, small, small, fc.integer({ min: -4, max: 4 }), (a, b, c, d, n) => {
        const ours = multiplied(divide(a, b), divide(c, d));
        const theirs = new Fraction(a, b).mul(new Fraction(c, d));
        expect(ours.above).toBe(theirs.s * theirs.n);
        expect(ours.below).toBe(theirs.d);
        expect(toNumber(raisedTo(divide(a, b), n))).toBe(
          toNumber(divideBig(BigInt(a) ** BigInt(Math.abs(n)), BigInt(b) ** BigInt(Math.abs(n)), n)),
        );
      }),
      { seed: 37, numRuns: 300 },
    );
  });

  const divide = (a: number, b: number) => multiplied(rational(String(a)), raisedTo(rational(String(b)), -1));
  const divideBig = (a: bigint, b: bigint, n: number) =>
    n < 0
      ? multiplied(rational(String(b)), raisedTo(rational(String(a)), -1))
      : multiplied(rational(String(a)), raisedTo(rational(String(b)), -1));

  it('fold to the nearest double: as one division of doubles does, and back to the double they came from', () => {
    fc.assert(
      fc.property(small, small, (a, b) => {
        expect(toNumber(divide(a, b))).toBe(a / b);
      }),
      { seed: 38, numRuns: 1000 },
    );
    const normal = fc.double({ min: 1e-300, max: 1e300, noNaN: true });
    fc.assert(
      fc.property(normal, (value) => {
        expect(toNumber(rationalOf(value))).toBe(value);
      }),
      { seed: 39, numRuns: 500 },
    );
  });

  it('look past the half: 1 + 2^-53 and a trifle is the next double, 1 + 2^-53 alone is 1', () => {
    const [half, whole] = [2n ** 80n + 2n ** 27n, 2n ** 80n];
    expect(toNumber(rational(`${half + 1n}/${whole}`))).toBe(1 + 2 ** -52);
    expect(toNumber(rational(`${half}/${whole}`))).toBe(1);
  });

  it('hold π by its powers: Machin, π/4 = 4 arctan 1/5 − arctan 1/239, in whole numbers', () => {
    const scale = 10n ** 60n;
    const arctan = (n: bigint): bigint => {
      let [term, sum, sign] = [scale / n, 0n, 1n];
      for (let k = 1n; term !== 0n; k += 2n, term /= n * n, sign = -sign) sum += (sign * term) / k;
      return sum;
    };
    const pi = 4n * (4n * arctan(5n) - arctan(239n));
    const ours = (piExact.above * 10n ** 50n) / piExact.below;
    const apart = ours - pi / 10n ** 10n;
    expect([0n, 1n]).toContain(apart < 0n ? -apart : apart);
    expect(toNumber(rational('1 pi'))).toBe(Math.PI);
    expect(toNumber(raisedTo(rational('1 pi'), 2))).toBeCloseTo(Math.PI ** 2, 14);
    expect(toNumber(multiplied(rational('2 pi'), raisedTo(rational('1 pi'), -1)))).toBe(2);
  });
});

describe('nearest names', () => {
  it.each([
    ['compresion', ['compression', 'bore', 'stroke'], ['compression']],
    ['storke', ['stroke', 'strobe'], ['stroke', 'strobe']],
    ['RPM', ['rpm', 'ram'], ['rpm', 'ram']],
    ['Psi', ['pSI', 'psi'], ['psi', 'pSI']],
    ['bore', ['bore'], []],
    ['zzz', ['bore', 'stroke'], []],
    ['x'.repeat(65), ['x'.repeat(64)], []],
  ])('%s among %j: %j', (word, candidates, found) => expect(nearest(word, candidates)).toEqual(found));

  it('gives at most so many, each once', () => {
    expect(nearest('aaaa', ['aaab', 'aaac', 'aaad', 'aaab'], 2)).toEqual(['aaab', 'aaac']);
  });

  it('measures a distance: none to itself, the same both ways, one for each slip', () => {
    const word = fc.string({ minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        expect(distance(a, a)).toBe(0);
        expect(distance(a, b)).toBe(distance(b, a));
        expect(distance(a, b)).toBeLessThanOrEqual(Math.max(a.length, b.length));
        expect(distance(a, b) === 0).toBe(a === b);
        expect(distance(a, `${a}!`)).toBe(1);
      }),
      { seed: 40, numRuns: 300 },
    );
    expect(distance('form', 'from')).toBe(1);
    expect(distance('kitten', 'sitting')).toBe(3);
  });
});
