/** Brackets and roots against functions whose roots are known in closed form. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { firstEnough, narrowed } from '../../../language/src/semantics/solve/root.ts';

describe('root', () => {
  test('the square root of two, from below', () => {
    const root = narrowed((x) => x * x - 2, { near: 0, far: 4 }, 1e-12);
    expect(root).toBeGreaterThanOrEqual(Math.SQRT2 - 1e-15);
    expect(root - Math.SQRT2).toBeLessThanOrEqual(1e-12);
  });
  test('downwards as well, and on a step', () => {
    expect(narrowed((x) => -1 - x, { near: 0, far: -8 }, 1e-9)).toBeCloseTo(-1, 8);
    const step = narrowed((x) => (x < 3 ? -1 : 1), { near: 0, far: 100 }, 1e-9);
    expect(step).toBeGreaterThanOrEqual(3);
    expect(step).toBeLessThanOrEqual(3 + 1e-9);
  });
  test('a slow cubic in few runs', () => {
    let runs = 0;
    const root = narrowed((x) => (runs++, (x - 1) ** 3), { near: -10, far: 17 }, 1e-9);
    expect(root).toBeGreaterThanOrEqual(1);
    expect(root).toBeLessThanOrEqual(1 + 1e-9);
    expect(runs).toBeLessThanOrEqual(40);
  });
  test('a root anywhere, always on the side that is enough', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 99, noNaN: true }), fc.integer({ min: 1, max: 5 }), (at, power) => {
        const f = (x: number): number => Math.sign(x - at) * Math.abs(x - at) ** power;
        const root = narrowed(f, { near: 0, far: 100 }, 1e-7);
        expect(f(root)).toBeGreaterThanOrEqual(0);
        expect(root - at).toBeLessThanOrEqual(1e-7);
      }),
      { seed: 427, numRuns: 300 },
    );
  });
  test('the first candidate that is enough, with the one before it; none where there is none', () => {
    const f = (xs: readonly number[]): number[] => xs.map((x) => (x > 2 && x < 5 ? 1 : -1));
    expect(firstEnough(f, 0, [1, 2, 3, 4])).toEqual({ near: 2, far: 3 });
    expect(firstEnough(f, 0, [1, 6, 7])).toBeNull();
    expect(firstEnough((xs) => xs.map(() => NaN), 0, [1, 2])).toBeNull();
  });
});
