import { describe, expect, it } from 'vitest';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Expr, Reduction } from '../../../language/src/semantics/ir.ts';
import {
  along,
  apply,
  axis,
  bin,
  bind,
  call,
  coordinate,
  curve,
  local,
  n,
  product,
  reduce,
  run,
  slot,
  sum,
  valued,
} from './build.ts';

const degree = Math.PI / 180;
const angle = axis(0, 'angle', 181, -90 * degree, degree);
const part = axis(1, 'part', 3);
const world = { axes: [angle, part], stepped: [0] };
const at = coordinate(0);
const of = (fn: Reduction, expr: Expr, more: Parameters<typeof reduce>[3] = {}, over = [0]) =>
  reduce(fn, expr, over, more);
const minus = (left: Expr, right: Expr): Expr => bin(left, '-', right);

/** PV-01: C₀ + r(1 − cos θ) − A(1 − cos(θ − θ₀)), lengths in inches, angles in radians. */
const clearance = (turned: Expr): Expr =>
  minus(
    sum(n(0.3), product(n(2), minus(n(1), apply('cos', [turned])))),
    product(n(0.15), minus(n(1), apply('cos', [minus(turned, n(-20 * degree))]))),
  );

describe('least between the samples', () => {
  it('is that of PV-01 (closed form by phasors) to the last figures', () => {
    const closed = 0.3 + 2 - 0.15 - Math.hypot(2 - 0.15 * Math.cos(-20 * degree), 0.15 * Math.sin(-20 * degree));
    expect(run(of('least', clearance(at)), world).cells[0]).toBeCloseTo(closed, 14);
    expect(run(of('least', clearance(at)), world).cells[0]).toBeCloseTo(0.29024613791812, 13);
    const where = run(of('least-at', clearance(at)), world).cells[0] as number;
    expect(where / degree).toBeCloseTo(1.5807573, 7);
    const exact = -Math.atan2(0.15 * Math.sin(-20 * degree), 2 - 0.15 * Math.cos(-20 * degree));
    expect(Math.abs(where - exact)).toBeLessThan(1e-9 * degree);
  });

  it('is found for every cell at once, through slots and locals', () => {
    const shifts = [0.111, 0.222, -0.333];
    const cells = {
      ...world,
      slots: [
        valued([part], shifts),
        bin(minus(at, slot(0)), '^', n(2)),
        along('slope', sum(product(at, at, at), product(n(-0.5), at)), 0),
      ],
    };
    const found = run(of('least-at', slot(1)), cells).cells as number[];
    found.forEach((x, cell) => expect(x).toBeCloseTo(shifts[cell]!, 11));
    expect(run(of('least', slot(1)), cells).cells.every((y) => Math.abs(y as number) < 1e-22)).toBe(true);
    const throughLocal = bind(0, minus(at, slot(0)), of('most-at', bin(n(1), '-', product(local(0), local(0)))));
    (run(throughLocal, cells).cells as number[]).forEach((x, cell) => expect(x).toBeCloseTo(shifts[cell]!, 11));
  });

  it('narrows down on a corner too', () => {
    const corner = apply('abs', [minus(at, n(0.12345))]);
    const found = run(of('least-at', corner), world).cells[0] as number;
    expect(Math.abs(found - 0.12345)).toBeLessThan(1e-9 * degree);
  });

  it('stays at an end of the axis, which does not go round', () => {
    expect(run(of('least-at', at), world).cells[0]).toBe(angle.coordinates[0]);
    expect(run(of('most-at', at), world).cells[0]).toBe(angle.coordinates[180]);
  });

  it('keeps to where the condition holds', () => {
    const found = run(of('least-at', product(at, at), { where: bin(at, '>=', n(0.1)) }), world).cells[0] as number;
    expect(found).toBeCloseTo(0.1, 8);
  });

  it('takes the least along the other axes, and its coordinate', () => {
    const cells = { ...world, slots: [valued([part], [0.3, 0.1, 0.2])] };
    const bowl = sum(slot(0), bin(minus(at, slot(0)), '^', n(2)));
    expect(run(of('least', bowl, {}, [0, 1]), cells).cells[0]).toBeCloseTo(0.1, 12);
    expect(run(of('least-at', bowl, {}, [1, 0]), cells).cells[0]).toBeCloseTo(0.1, 9);
  });

  it('leaves what closes over the axis as it is', () => {
    const whole = minus(product(at, at), reduce('mean', product(at, at), [0]));
    const mean = [...angle.coordinates].reduce((total, x) => total + x * x, 0) / 181;
    expect(run(of('least', whole), world).cells[0]).toBeCloseTo(-mean, 12);
  });

  it('takes the slope between samples as it takes it at them', () => {
    const slope = along('slope', product(at, at, at), 0);
    expect(run(of('least', slope), world).cells[0]).toBeCloseTo(degree * degree, 9);
    expect(run(of('least-at', slope), world).cells[0]).toBeCloseTo(0, 9);
  });

  it('reads curves between samples', () => {
    const valley = call(
      curve([
        [-2, 4],
        [0.005, 0],
        [2, 4],
      ]),
      at,
    );
    expect(run(of('least-at', valley), world).cells[0]).toBeCloseTo(0.005, 8);
  });

  it('lets lanes through', () => {
    const lanes = axis(-1, 'lanes', 2);
    const cells = { ...world, slots: [valued([lanes], [0.25, -0.5])] };
    const found = run(of('least-at', bin(minus(at, slot(0)), '^', n(2))), cells);
    expect(found.axes).toEqual(['lanes']);
    (found.cells as number[]).forEach((x, lane) => expect(x).toBeCloseTo([0.25, -0.5][lane]!, 11));
  });
});

describe('least of readings', () => {
  const spots = axis(2, 'spots', 5, 0, 10);
  const readings = (cells: Parameters<typeof valued>[1]) => ({
    axes: [spots],
    stepped: [2],
    slots: [valued([spots], cells, Mark.measured)],
  });

  it('is that of the parabola through three of them', () => {
    const f = (x: number): number => 3 + (x - 17) ** 2 / 50;
    const cells = [0, 10, 20, 30, 40].map(f);
    const found = run(reduce('least-at', slot(0), [2]), readings(cells));
    expect(found.cells[0]).toBeCloseTo(17, 12);
    expect(found.marks).toEqual([Mark.measured]);
    expect(run(reduce('least', slot(0), [2]), readings(cells)).cells[0]).toBeCloseTo(3, 12);
    expect(run(reduce('most', slot(0), [2]), readings(cells)).cells).toEqual([cells[4]]);
  });

  it('is missing with one of them, and absent without any', () => {
    expect(run(reduce('least', slot(0), [2]), readings([1, 2, '_', 4, 5])).cells).toEqual(['_']);
    expect(run(reduce('least', slot(0), [2]), readings(['x', 'x', 'x', 'x', 'x'])).cells).toEqual(['x']);
    expect(run(reduce('least', slot(0), [2]), readings([5, 'x', 1, 4, 5])).cells).toEqual([1]);
  });

  it('on an axis that is only counted is the plain least', () => {
    expect(run(reduce('least-at', slot(0), [2]), { ...readings([3, 1, 2, 5, 9]), stepped: [] }).cells).toEqual([10]);
  });
});
