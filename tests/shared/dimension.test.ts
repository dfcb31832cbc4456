// The algebra of dimensions on bases that mean nothing (A, B, C), and how they are put into words.
import fc from 'fast-check';
import { describe as group, expect, it } from 'vitest';
import {
  baseOnly,
  describe,
  differsOnlyByAngle,
  dimension,
  isMoney,
  isNone,
  none,
  over,
  power,
  times,
} from '@thou/shared/dimension/dimension';
import type { Dimension } from '@thou/shared/dimension/dimension';

const exponent = fc.oneof(
  fc.integer({ min: -6, max: 6 }),
  fc.tuple(fc.integer({ min: -12, max: 12 }), fc.constantFrom(2, 3, 4, 6)).map(([up, under]) => up / under),
);
const any: fc.Arbitrary<Dimension> = fc
  .record({ A: exponent, B: exponent, C: exponent })
  .map((exponents) => dimension(exponents));
const whole = fc.integer({ min: -5, max: 5 });
const settings = { seed: 20, numRuns: 500 };

group('the algebra of dimensions', () => {
  it('is that of a commutative group, in which equal is the same object', () => {
    fc.assert(
      fc.property(any, any, any, (a, b, c) => {
        expect(times(a, b)).toBe(times(b, a));
        expect(times(times(a, b), c)).toBe(times(a, times(b, c)));
        expect(times(a, none)).toBe(a);
        expect(over(a, a)).toBe(none);
        expect(over(times(a, b), b)).toBe(a);
        expect(over(a, b)).toBe(times(a, power(b, -1)));
      }),
      settings,
    );
  });

  it('has powers that add and multiply, roots among them', () => {
    fc.assert(
      fc.property(any, any, whole, whole, (a, b, m, n) => {
        expect(times(power(a, m), power(a, n))).toBe(power(a, m + n));
        expect(power(power(a, m), n)).toBe(power(a, m * n));
        expect(power(times(a, b), n)).toBe(times(power(a, n), power(b, n)));
        expect(power(a, 0)).toBe(none);
        expect(power(a, 1)).toBe(a);
        for (const root of [2, 3, 5]) expect(power(power(a, 1 / root), root)).toBe(a);
      }),
      settings,
    );
  });

  it('tells unlike dimensions apart', () => {
    fc.assert(
      fc.property(any, any, (a, b) => {
        const same = ['A', 'B', 'C'].every((base) => {
          return Math.abs((a.exponents.get(base) ?? 0) - (b.exponents.get(base) ?? 0)) < 1e-9;
        });
        expect(a === b).toBe(same);
        expect(a.key === b.key).toBe(same);
      }),
      settings,
    );
  });

  it('takes what is within 1e-9 as the same exponent, and keeps no zero', () => {
    expect(dimension({ A: 1 / 3 + 1e-12 })).toBe(dimension({ A: 1 / 3 }));
    expect(dimension({ A: 0.5 })).not.toBe(dimension({ A: 0.5001 }));
    expect(dimension({ A: 1e-12, B: 0 })).toBe(none);
    expect(dimension({ A: 1, B: 2 })).toBe(
      dimension(
        new Map([
          ['B', 2],
          ['A', 1],
        ]),
      ),
    );
    expect(isNone(over(baseOnly('A'), baseOnly('A')))).toBe(true);
  });

  it('takes any name, and refuses what is none', () => {
    expect(baseOnly('__proto__')).not.toBe(none);
    expect(baseOnly('__proto__').exponents.get('__proto__')).toBe(1);
    expect(baseOnly('constructor')).not.toBe(baseOnly('toString'));
    expect(() => baseOnly('A B')).toThrow(RangeError);
    for (const wrong of [Number.NaN, Infinity]) expect(() => power(baseOnly('A'), wrong)).toThrow(RangeError);
  });
});

group('dimensions in words', () => {
  it.each([
    [{ mass: 1, length: 1, time: -2 }, 'mass × length / time²'],
    [{ mass: 1, length: -1, time: -2 }, 'mass / (length × time²)'],
    [{ length: 3 }, 'length³'],
    [{ temperature: -1 }, '1 / temperature'],
    [{ length: 0.5 }, 'length^(1/2)'],
    [{ angle: 1, time: -1 }, 'angle / time'],
    [{ 'money:EUR': 1, mass: -1 }, 'EUR / mass'],
    [{ length: 12 }, 'length¹²'],
    [{}, 'a plain number'],
  ])('%j is %s', (exponents, words) => {
    expect(describe(dimension(exponents as Record<string, number>))).toBe(words);
  });
});

group('angles and money', () => {
  it('sees that only a turn or a radian is left over', () => {
    const turning = dimension({ angle: 1, time: -1 });
    expect(differsOnlyByAngle(turning, dimension({ time: -1 }))).toBe(true);
    expect(differsOnlyByAngle(dimension({ time: -1 }), power(turning, 1))).toBe(true);
    expect(differsOnlyByAngle(dimension({ length: 1 }), dimension({ length: 1, angle: -2 }))).toBe(true);
    expect(differsOnlyByAngle(turning, turning)).toBe(false);
    expect(differsOnlyByAngle(turning, dimension({ time: -2 }))).toBe(false);
  });

  it('knows money of one currency', () => {
    expect(isMoney(baseOnly('money:EUR'))).toBe(true);
    expect(isMoney(baseOnly('money'))).toBe(true);
    expect(isMoney(power(baseOnly('money:EUR'), 2))).toBe(false);
    expect(isMoney(times(baseOnly('money:EUR'), baseOnly('money:GBP')))).toBe(false);
    expect(isMoney(none)).toBe(false);
  });
});
