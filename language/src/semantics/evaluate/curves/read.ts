/** Reading a curve of the language: its pieces by kind, its ends, its derivatives; curves of two arguments row by row. */
import { straight } from './linear.ts';
import { crossing, derived, extreme, readPieces } from './pieces.ts';
import type { Pieces } from './pieces.ts';
import { quintic } from './quintic.ts';
import { steffen } from './steffen.ts';
import type { Curve } from '../value.ts';

/** Of the span: that far beyond an end still is the end. */
const tolerance = 1e-9;
const prepared = new WeakMap<Curve, readonly Pieces[]>();

/** C1 monotone where nothing is said of the kind; `log` is the same over the logarithm of the key. */
function piecesBy(kind: Curve['kind'], x: Float64Array, y: Float64Array): Pieces {
  switch (kind) {
    case 'linear':
      return straight(x, y);
    case 'monotone':
      return quintic(x, y);
    case 'log':
      return steffen(x.map(Math.log), y);
    default:
      return steffen(x, y);
  }
}

/** Function and first and second derivatives by the inner variable (the key, or its logarithm). */
function piecesOf(curve: Curve): readonly Pieces[] {
  const known = prepared.get(curve);
  if (known) return known;
  const made = [piecesBy(curve.kind, curve.keys[0]!, curve.values)];
  for (let order = 1; order <= curve.derivative; order++) made.push(derived(made[order - 1]!));
  prepared.set(curve, made);
  return made;
}

/** Null outside the data, unless the curve is clamped. */
export function readCurve(curve: Curve, x: number): number | null {
  const place = within(curve.keys[0]!, x, curve.clamped);
  if (place === null) return null;
  return place.beyond && curve.derivative > 0 ? 0 : derivativeAt(curve, piecesOf(curve), place.x);
}

function derivativeAt(curve: Curve, pieces: readonly Pieces[], x: number): number {
  if (curve.kind !== 'log') return readPieces(pieces[curve.derivative]!, x);
  const inner = Math.log(x);
  if (curve.derivative === 0) return readPieces(pieces[0]!, inner);
  const slope = readPieces(pieces[1]!, inner);
  return curve.derivative === 1 ? slope / x : (readPieces(pieces[2]!, inner) - slope) / (x * x);
}

function within(
  keys: Float64Array,
  x: number,
  clamped: boolean,
): { readonly x: number; readonly beyond: boolean } | null {
  const [first, last] = [keys[0]!, keys[keys.length - 1]!];
  const slack = tolerance * (last - first || Math.abs(first));
  if (x >= first && x <= last) return { x, beyond: false };
  if (clamped || (x >= first - slack && x <= last + slack)) {
    const beyond = x < first - slack || x > last + slack;
    return { x: Math.min(Math.max(x, first), last), beyond };
  }
  return null;
}

/** Rows are read at the second argument, then along the first. Only the rows near by bear on the answer. */
export function readTable(curve: Curve, x: number, z: number): number | null {
  const [rows, columns] = curve.keys as readonly [Float64Array, Float64Array];
  const row = within(rows, x, curve.clamped);
  const column = within(columns, z, curve.clamped);
  if (row === null || column === null) return null;
  if (row.beyond && curve.derivative > 0) return 0;
  let place = 0;
  while (place + 1 < rows.length - 1 && rows[place + 1]! <= row.x) place++;
  const from = Math.max(0, place - 3);
  const to = Math.min(rows.length, place + 5);
  const values = new Float64Array(to - from);
  for (let at = from; at < to; at++) {
    const own = curve.values.slice(at * columns.length, (at + 1) * columns.length);
    const pieces = piecesBy(curve.kind, columns, own);
    values[at - from] = readPieces(pieces, curve.kind === 'log' ? Math.log(column.x) : column.x);
  }
  const along: Curve = { ...curve, keys: [rows.slice(from, to)], values };
  return derivativeAt(along, piecesOf(along), row.x);
}

/** Where the curve crosses `level`: the first time upward, the last time downward. */
export function crossingOf(curve: Curve, level: number, way: 'up' | 'down'): number | null {
  if (!single(curve)) return null;
  const at = crossing(piecesOf(curve)[curve.derivative]!, level, way);
  return at !== null && curve.kind === 'log' ? Math.exp(at) : at;
}

export function extremeOf(curve: Curve, way: 'greatest' | 'least'): number | null {
  if (curve.keys.length === 2 && curve.derivative === 0)
    return way === 'greatest' ? Math.max(...curve.values) : Math.min(...curve.values);
  return single(curve) ? extreme(piecesOf(curve)[curve.derivative]!, way) : null;
}

/** Derivatives over a logarithm are no polynomials, and a table of two arguments has no one place. */
function single(curve: Curve): boolean {
  return curve.keys.length === 1 && (curve.kind !== 'log' || curve.derivative === 0);
}
