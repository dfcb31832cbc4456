/** Cubics with a continuous slope, rising and falling only where the points do (M. Steffen, Astronomy and Astrophysics 239, 1990). */
import { straight } from './linear.ts';
import type { Pieces } from './pieces.ts';

export function steffen(x: Float64Array, y: Float64Array): Pieces {
  const n = x.length;
  if (n < 3) return straight(x, y);
  const h = Float64Array.from({ length: n - 1 }, (_, at) => x[at + 1]! - x[at]!);
  const d = Float64Array.from({ length: n - 1 }, (_, at) => (y[at + 1]! - y[at]!) / h[at]!);
  const m = new Float64Array(n);
  m[0] = endSlope(d[0]!, d[1]!, h[0]!, h[1]!);
  m[n - 1] = endSlope(d[n - 2]!, d[n - 3]!, h[n - 2]!, h[n - 3]!);
  for (let at = 1; at < n - 1; at++) {
    const [left, right] = [d[at - 1]!, d[at]!];
    const through = (left * h[at]! + right * h[at - 1]!) / (h[at - 1]! + h[at]!);
    m[at] = (Math.sign(left) + Math.sign(right)) * Math.min(Math.abs(left), Math.abs(right), Math.abs(through) / 2);
  }
  const coefficients = new Float64Array((n - 1) * 4);
  for (let at = 0; at < n - 1; at++) {
    const [rise, from, to] = [y[at + 1]! - y[at]!, h[at]! * m[at]!, h[at]! * m[at + 1]!];
    coefficients.set([y[at]!, from, 3 * rise - 2 * from - to, from + to - 2 * rise], at * 4);
  }
  return { breaks: x, degree: 3, coefficients };
}

/** Of the parabola through the last three points, no steeper than twice the chord and never against it. */
function endSlope(near: number, far: number, hNear: number, hFar: number): number {
  const slope = near * (1 + hNear / (hNear + hFar)) - (far * hNear) / (hNear + hFar);
  if (slope * near <= 0) return 0;
  return Math.abs(slope) > 2 * Math.abs(near) ? 2 * near : slope;
}
