/** Straight lines between the points. */
import type { Pieces } from './pieces.ts';

export function straight(x: Float64Array, y: Float64Array): Pieces {
  if (x.length === 1) return { breaks: x, degree: 0, coefficients: y };
  const coefficients = new Float64Array((x.length - 1) * 2);
  for (let at = 0; at + 1 < x.length; at++) {
    coefficients[2 * at] = y[at]!;
    coefficients[2 * at + 1] = y[at + 1]! - y[at]!;
  }
  return { breaks: x, degree: 1, coefficients };
}
