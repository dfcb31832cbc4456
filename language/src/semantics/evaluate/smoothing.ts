/** Weights of local quadratics: the value, slope and curvature at a point as sums of figures round it (Savitzky and Golay, 1964). */

/** For figures at distances `at` from the point, of a quadratic by least squares; order 0 its value, 1 its slope, 2 its second derivative. */
export function smoothingWeights(at: Float64Array, order: number): Float64Array {
  const scale = at.reduce((most, x) => Math.max(most, Math.abs(x)), 0) || 1;
  const t = at.map((x) => x / scale);
  const moment = (power: number): number => t.reduce((sum, x) => sum + x ** power, 0);
  const m = [0, 1, 2, 3, 4].map(moment) as [number, number, number, number, number];
  const row = inverseRow(m, order);
  const factor = (order === 2 ? 2 : 1) / scale ** order;
  return t.map((x) => factor * (row[0] + row[1] * x + row[2] * x * x));
}

/** `y` at each of the rising places `x`, by the quadratic through `half` neighbours on either side; at the ends the window is looked at off its middle. */
export function localQuadratics(x: Float64Array, y: Float64Array, half: number, order: number): Float64Array {
  const width = Math.min(x.length, 2 * half + 1);
  return x.map((place, at) => {
    const from = Math.min(Math.max(0, at - half), x.length - width);
    const weights = smoothingWeights(
      x.slice(from, from + width).map((near) => near - place),
      order,
    );
    return weights.reduce((sum, weight, step) => sum + weight * y[from + step]!, 0);
  });
}

/** Row `order` of the inverse of the normal equations of a quadratic, by its moments. */
function inverseRow(
  [m0, m1, m2, m3, m4]: [number, number, number, number, number],
  order: number,
): [number, number, number] {
  const c00 = m2 * m4 - m3 * m3;
  const c01 = m2 * m3 - m1 * m4;
  const c02 = m1 * m3 - m2 * m2;
  const determinant = m0 * c00 + m1 * c01 + m2 * c02;
  const rows: [number, number, number][] = [
    [c00, c01, c02],
    [c01, m0 * m4 - m2 * m2, m1 * m2 - m0 * m3],
    [c02, m1 * m2 - m0 * m3, m0 * m2 - m1 * m1],
  ];
  const [a, b, c] = rows[order]!;
  return [a / determinant, b / determinant, c / determinant];
}

/** The slope at distance 0 of the parabola through two or three figures. */
export function slopeWeights(at: Float64Array): Float64Array {
  if (at.length === 2) {
    const width = at[1]! - at[0]!;
    return Float64Array.of(-1 / width, 1 / width);
  }
  return at.map((x, own) => {
    const others = at.filter((_, other) => other !== own);
    const [p, q] = others as unknown as [number, number];
    return -(p + q) / ((x - p) * (x - q));
  });
}
