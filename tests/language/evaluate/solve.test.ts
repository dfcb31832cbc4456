import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import { apply, axis, bin, bind, gap, iff, local, n, product, run, slot, solve, sum, valued } from './build.ts';

const x = local(0);
const y = local(1);
const z = local(2);
const row = axis(0, 'row', 3);

describe('one unknown', () => {
  it('is found to the last digits', () => {
    expect(run(solve([[0, 2]], [[product(x, x), n(2)]])).cells[0]).toBeCloseTo(Math.SQRT2, 15);
    expect(run(solve([[0, 1]], [[apply('cos', [x]), x]])).cells[0]).toBeCloseTo(0.7390851332151607, 15);
  });

  it('is the first upward of several, on the grid too', () => {
    expect(run(solve([[1, 100]], [[apply('sin', [x]), n(0)]])).cells[0]).toBeCloseTo(Math.PI, 14);
    expect(run(solve([[0, 64]], [[bin(x, '-', n(3)), n(0)]])).cells).toEqual([3]);
    expect(run(solve([[2, 0]], [[product(x, x), n(1)]])).cells[0]).toBeCloseTo(1, 15);
  });

  it('passes over a leap to infinity and a jump', () => {
    expect(run(solve([[-1, 2]], [[bin(n(1), '/', bin(x, '-', n(0.3))), n(1)]])).cells[0]).toBeCloseTo(1.3, 14);
    const jump = iff(bin(x, '<', n(0.5)), n(-1), n(1));
    expect(run(solve([[0, 2]], [[jump, n(0)]])).cells).toEqual(['_']);
  });

  it('without a root is missing, and says between what', () => {
    const { cells, reasons } = run(solve([[0, 2]], [[product(x, x), n(-1)]]));
    expect(cells).toEqual(['_']);
    expect(reasons).toEqual(['no x between 0 and 2']);
  });

  it('is as good as what it is made of, cell by cell', () => {
    const world = { axes: [row], slots: [valued([row], [4, '_', 9], Mark.measured)] };
    const found = run(solve([[0, 10]], [[product(x, x), slot(0)]]), world);
    expect(found.cells[0]).toBeCloseTo(2, 14);
    expect(found.cells[1]).toBe('_');
    expect(found.cells[2]).toBeCloseTo(3, 14);
    expect(found.marks).toEqual([Mark.measured, Mark.missing, Mark.measured]);
    expect(found.reasons).toEqual([]);
    expect(run(solve([[0, 10]], [[sum(x, gap), n(1)]])).reasons).toEqual([]);
  });

  it('stands inside other locals and other searches', () => {
    const inner = solve([[0, 10]], [[bin(local(2), '^', n(2)), local(1)]], 2);
    const outer = bind(0, n(16), solve([[0, 100]], [[inner, bin(local(0), '/', n(4))]], 1));
    expect(run(outer).cells[0]).toBeCloseTo(16, 12);
  });

  it('undoes any rising cubic', () => {
    const figure = fc.double({ min: 0.1, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        figure,
        figure,
        fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 3, maxLength: 3 }),
        (a, b, roots) => {
          const cubic = (at: number): number => a * at ** 3 + b * at;
          const world = { axes: [row], slots: [valued([row], roots.map(cubic))] };
          const { cells } = run(solve([[-10, 10]], [[sum(product(n(a), x, x, x), product(n(b), x)), slot(0)]]), world);
          cells.forEach((found, cell) =>
            expect(Math.abs((found as number) - roots[cell]!)).toBeLessThan(
              1e-12 * Math.max(1, Math.abs(roots[cell]!)),
            ),
          );
        },
      ),
      { seed: 17, numRuns: 100 },
    );
  });
});

describe('several unknowns', () => {
  it('meet where two circles cross, within the bounds', () => {
    const circle = (a: number, b: number, r: number) =>
      [sum(bin(bin(x, '-', n(a)), '^', n(2)), bin(bin(y, '-', n(b)), '^', n(2))), n(r * r)] as const;
    const found = (xs: [number, number], ys: [number, number]) =>
      run(solve([xs, ys], [[...circle(0, 0, 5)], [...circle(6, 0, 5)]]));
    expect(found([0, 9], [0, 9]).cells[0]).toBeCloseTo(3, 12);
    expect(found([0, 9], [-9, 0]).cells[0]).toBeCloseTo(3, 12);
    expect(found([4, 9], [0, 9])).toMatchObject({
      cells: ['_'],
      reasons: ['no x between 4 and 9 with y between 0 and 9'],
    });
  });

  it('fit three equations, cell by cell, the same each time', () => {
    const world = { axes: [row], slots: [valued([row], [6, 7, '_'], Mark.ordered)] };
    const three = solve(
      [
        [0, 5],
        [0, 5],
        [0, 5],
      ],
      [
        [sum(x, y, z), slot(0)],
        [product(x, y), n(2)],
        [bin(z, '-', product(x, n(3))), n(0)],
      ],
    );
    const found = run(three, world);
    // 4x² − sx + 2 = 0
    expect([(6 + 2) / 8, (6 - 2) / 8].some((root) => Math.abs(root - (found.cells[0] as number)) < 1e-12)).toBe(true);
    expect(
      [(7 + Math.sqrt(17)) / 8, (7 - Math.sqrt(17)) / 8].some(
        (root) => Math.abs(root - (found.cells[1] as number)) < 1e-12,
      ),
    ).toBe(true);
    expect(found.cells[2]).toBe('_');
    expect(found.marks.slice(0, 2)).toEqual([Mark.ordered, Mark.ordered]);
    expect(run(three, world).cells).toEqual(found.cells);
  });
});
