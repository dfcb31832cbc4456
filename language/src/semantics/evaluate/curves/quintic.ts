/**
 * Quintics with continuous slope and curvature that rise and fall only where the points do: slopes by Fritsch and Butland, second
 * derivatives clipped so that every piece's Bernstein coefficients stay in order. Level at both ends, as a lift table is; no curvature
 * at an end whose figure is 0 (where lift starts), elsewhere that of the table mirrored at its end.
 */
import { straight } from './linear.ts';
import type { Pieces } from './pieces.ts';

export function quintic(x: Float64Array, y: Float64Array): Pieces {
  const n = x.length;
  if (n < 2) return straight(x, y);
  const h = Float64Array.from({ length: n - 1 }, (_, at) => x[at + 1]! - x[at]!);
  const d = Float64Array.from({ length: n - 1 }, (_, at) => (y[at + 1]! - y[at]!) / h[at]!);
  const m = slopes(h, d);
  const s = curvatures(y, h, d, m);
  const coefficients = new Float64Array((n - 1) * 6);
  for (let at = 0; at < n - 1; at++) {
    const width = h[at]!;
    const rise = y[at + 1]! - y[at]!;
    const [m0, m1] = [width * m[at]!, width * m[at + 1]!];
    const [s0, s1] = [width * width * s[at]!, width * width * s[at + 1]!];
    coefficients.set(
      [
        y[at]!,
        m0,
        s0 / 2,
        10 * rise - 6 * m0 - 4 * m1 - 1.5 * s0 + 0.5 * s1,
        -15 * rise + 8 * m0 + 7 * m1 + 1.5 * s0 - s1,
        6 * rise - 3 * (m0 + m1) - 0.5 * (s0 - s1),
      ],
      at * 6,
    );
  }
  return { breaks: x, degree: 5, coefficients };
}

/** 0 at the ends and where the points turn; elsewhere the weighted harmonic mean, at most 1.25 of the flatter chord. */
function slopes(h: Float64Array, d: Float64Array): Float64Array {
  const m = new Float64Array(d.length + 1);
  for (let at = 1; at < d.length; at++) {
    const [left, right] = [d[at - 1]!, d[at]!];
    if (left * right <= 0) continue;
    const w1 = 2 * h[at]! + h[at - 1]!;
    const w2 = h[at]! + 2 * h[at - 1]!;
    const mean = (w1 + w2) / (w1 / left + w2 / right);
    const most = 1.25 * Math.min(Math.abs(left), Math.abs(right));
    m[at] = Math.sign(mean) * Math.min(Math.abs(mean), most);
  }
  return m;
}

/** One second derivative a point, in the interval that keeps the pieces on both sides in order; 0 always is. */
function curvatures(y: Float64Array, h: Float64Array, d: Float64Array, m: Float64Array): Float64Array {
  const last = d.length;
  const s = new Float64Array(last + 1);
  s[0] = y[0] === 0 ? 0 : (2 * d[0]!) / h[0]!;
  s[last] = y[last] === 0 ? 0 : (-2 * d[last - 1]!) / h[last - 1]!;
  for (let at = 1; at < last; at++) s[at] = (2 * (d[at]! - d[at - 1]!)) / (h[at]! + h[at - 1]!);
  for (let at = 0; at <= last; at++) {
    let [low, high] = [-Infinity, Infinity];
    for (const piece of [at - 1, at]) {
      if (piece < 0 || piece >= last) continue;
      const [from, to] = room(piece, at === piece, h, d, m);
      low = Math.max(low, from);
      high = Math.min(high, to);
    }
    s[at] = Math.min(Math.max(s[at]!, low), high);
  }
  return s;
}

/** What a piece allows at its start, or at its end. */
function room(
  piece: number,
  atStart: boolean,
  h: Float64Array,
  d: Float64Array,
  m: Float64Array,
): readonly [number, number] {
  const width = h[piece]!;
  const rising = Math.sign(d[piece]!);
  if (rising === 0) return [0, 0];
  const [m0, m1] = [rising * m[piece]!, rising * m[piece + 1]!];
  const half = Math.max(0, (10 / (width * width)) * (rising * d[piece]! * width - (2 * width * (m0 + m1)) / 5));
  const [low, high] = atStart ? [(-4 * m0) / width, half] : [-half, (4 * m1) / width];
  return rising > 0 ? [low, high] : [-high, -low];
}
