/** Making and reading tensors and values, one cell at a time or as a whole. Knows no expressions. */
import { mostCells } from './limits.ts';
import { Mark } from './value.ts';
import type { Axis, Curves, Numbers, Tensor, Value } from './value.ts';

export const noAxes: readonly Axis[] = Object.freeze([]);

/** Thrown where a result would have more cells than the tool takes; caught at the top of an evaluation. */
export class TooManyCells extends Error {}

/** Cells along `axes`; refuses more than the tool takes. */
export function cellsAlong(axes: readonly Axis[]): number {
  let cells = 1;
  for (const axis of axes) cells *= axis.size;
  if (cells > mostCells) throw new TooManyCells();
  return cells;
}

export function scalar(value: number): Tensor {
  return { axes: noAxes, data: Float64Array.of(value), mark: null };
}

export function numbers(tensor: Tensor, band: Numbers['band'] = null): Numbers {
  return { is: 'numbers', tensor, band };
}

/** A tensor without figures: missing, or absent. */
export function without(axes: readonly Axis[], mark: number = Mark.missing): Tensor {
  const cells = cellsAlong(axes);
  return { axes, data: new Float64Array(cells).fill(NaN), mark: new Uint8Array(cells).fill(mark) };
}

export function markAt(mark: Uint8Array | null, cell: number): number {
  return mark === null ? Mark.exact : mark[cell]!;
}

/** The figures of a value where one figure a cell is due; what is no figure (already reported) is missing. */
export function figures(value: Value): Tensor {
  return value.is === 'numbers' ? value.tensor : without(noAxes);
}

/** Of limits: the worse of both ends. */
export function marksOf(value: Value): Uint8Array | null {
  if (value.is === 'numbers') return value.tensor.mark;
  return value.is === 'limits' ? worse(value.low.mark, value.high.mark) : value.mark;
}

/** The greater mark of each cell; shared arrays are never written to again. */
export function worse(a: Uint8Array | null, b: Uint8Array | null): Uint8Array | null {
  if (a === b || b === null) return a;
  if (a === null) return b;
  const out = new Uint8Array(a.length);
  for (let cell = 0; cell < out.length; cell++) out[cell] = a[cell]! > b[cell]! ? a[cell]! : b[cell]!;
  return out;
}

/** A mark for every cell, ready to be written to. */
export function ownMarks(mark: Uint8Array | null, cells: number): Uint8Array {
  return mark === null ? new Uint8Array(cells) : mark.slice();
}

/** Null where every cell is exact. */
export function tidyMarks(mark: Uint8Array): Uint8Array | null {
  for (const one of mark) if (one !== Mark.exact) return mark;
  return null;
}

export function isCurves(value: Value): value is Curves {
  return value.is === 'curves';
}
