/** A function made of polynomials between breaks: reading, deriving, crossings of a level. Knows no curves of the language. */
import { rootsInUnit } from './polynomial.ts';

/** Piece i runs from breaks[i] to breaks[i + 1]; its `degree + 1` coefficients are of powers of t = (x − breaks[i]) / width, from 0 to 1. */
export interface Pieces {
  readonly breaks: Float64Array;
  readonly degree: number;
  readonly coefficients: Float64Array;
}

/** The piece that holds x; the first or last one beyond the ends. */
function pieceAt({ breaks }: Pieces, x: number): number {
  let low = 0;
  let high = Math.max(0, breaks.length - 2);
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (breaks[middle]! <= x) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** x lies within the breaks. */
export function readPieces(pieces: Pieces, x: number): number {
  const { breaks, degree, coefficients } = pieces;
  if (breaks.length === 1) return coefficients[0]!;
  const piece = pieceAt(pieces, x);
  const start = piece * (degree + 1);
  const t = (x - breaks[piece]!) / (breaks[piece + 1]! - breaks[piece]!);
  let sum = coefficients[start + degree]!;
  for (let power = degree - 1; power >= 0; power--) sum = sum * t + coefficients[start + power]!;
  return sum;
}

/** The derivative: discontinuous where the function's slope is. */
export function derived({ breaks, degree, coefficients }: Pieces): Pieces {
  if (breaks.length === 1 || degree === 0)
    return { breaks, degree: 0, coefficients: new Float64Array(Math.max(1, breaks.length - 1)) };
  const out = new Float64Array((breaks.length - 1) * degree);
  for (let piece = 0; piece < breaks.length - 1; piece++) {
    const width = breaks[piece + 1]! - breaks[piece]!;
    for (let power = 1; power <= degree; power++) {
      out[piece * degree + power - 1] = (power * coefficients[piece * (degree + 1) + power]!) / width;
    }
  }
  return { breaks, degree: degree - 1, coefficients: out };
}

/** Where the function comes up through `level` for the first time, or goes down through it for the last; null where it does not. */
export function crossing(pieces: Pieces, level: number, way: 'up' | 'down'): number | null {
  const { breaks } = pieces;
  const span = breaks[breaks.length - 1]! - breaks[0]!;
  const points = [...breaks, ...rootsOf(pieces, level)].sort((a, b) => a - b);
  const scale = pieces.coefficients.reduce((most, one) => Math.max(most, Math.abs(one)), Math.abs(level));
  const side = (x: number): number => {
    const above = readPieces(pieces, x) - level;
    return Math.abs(above) <= 1e-13 * scale ? 0 : Math.sign(above);
  };
  const signs: { readonly from: number; readonly sign: number }[] = [];
  for (let at = 0; at + 1 < points.length; at++) {
    const [from, to] = [points[at]!, points[at + 1]!];
    if (to - from <= 1e-12 * span) continue;
    signs.push({ from, sign: side((from + to) / 2) });
  }
  let found: number | null = null;
  const end = breaks[breaks.length - 1]!;
  for (let at = 0; at <= signs.length; at++) {
    const before = at === 0 ? side(breaks[0]!) : signs[at - 1]!.sign;
    const after = at === signs.length ? side(end) : signs[at]!.sign;
    const here = at === signs.length ? end : signs[at]!.from;
    if (way === 'up' && before <= 0 && after > 0 && (at > 0 || before === 0)) return here;
    if (way === 'down' && before > 0 && after <= 0 && (at < signs.length || after === 0)) found = here;
  }
  return found;
}

function rootsOf({ breaks, degree, coefficients }: Pieces, level: number): number[] {
  const roots: number[] = [];
  for (let piece = 0; piece + 1 < breaks.length; piece++) {
    const own = coefficients.slice(piece * (degree + 1), (piece + 1) * (degree + 1));
    own[0]! -= level;
    const width = breaks[piece + 1]! - breaks[piece]!;
    for (const t of rootsInUnit(own)) roots.push(breaks[piece]! + t * width);
  }
  return roots;
}

/** The greatest or least value anywhere. */
export function extreme(pieces: Pieces, way: 'greatest' | 'least'): number {
  const { breaks } = pieces;
  const points = [...breaks, ...rootsOf(derived(pieces), 0)];
  const values = points.map((x) => readPieces(pieces, x));
  return way === 'greatest' ? Math.max(...values) : Math.min(...values);
}
