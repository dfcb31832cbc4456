/** Two operands brought to one shape, and where their result may be written. */
import type { Expr } from '../ir.ts';
import { expand, expandMarks, sameAxes, unionAxes } from './broadcast.ts';
import { cellsAlong, worse } from './tensor.ts';
import type { Axis, Tensor } from './value.ts';

/** `a` and `b` hold one figure or one a cell: step 0 or 1. */
export interface Pair {
  readonly axes: readonly Axis[];
  readonly cells: number;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly stepA: 0 | 1;
  readonly stepB: 0 | 1;
  readonly mark: Uint8Array | null;
  /** Fresh figures of an operand that nobody else holds, else new ones. */
  readonly out: Float64Array;
}

/** Results that no one but the reader holds: their figures may be written over. */
export function isFresh(expr: Expr): boolean {
  switch (expr.op) {
    case 'binary':
      return expr.operator !== 'otherwise';
    case 'negate':
      return true;
    case 'apply':
      return rewritten.has(expr.function);
    default:
      return false;
  }
}
const rewritten: ReadonlySet<string> = new Set(['sqrt', 'exp', 'log', 'sin', 'cos', 'tan', 'largest', 'smallest']);

export function pairUp(left: Tensor, right: Tensor, freshLeft: boolean, freshRight: boolean): Pair {
  if (sameAxes(left.axes, right.axes)) {
    const { axes, data: a } = left;
    const out = freshLeft ? a : freshRight ? right.data : new Float64Array(a.length);
    return { axes, cells: a.length, a, b: right.data, stepA: 1, stepB: 1, mark: worse(left.mark, right.mark), out };
  }
  const axes = unionAxes(left.axes, right.axes);
  const cells = cellsAlong(axes);
  const a = laid(left, axes, freshLeft);
  const b = laid(right, axes, freshRight);
  const mark = worse(expandMarks(left.mark, left.axes, axes), expandMarks(right.mark, right.axes, axes));
  const out = a.free ? a.data : b.free ? b.data : new Float64Array(cells);
  return { axes, cells, a: a.data, b: b.data, stepA: a.step, stepB: b.step, mark, out };
}

function laid(
  tensor: Tensor,
  axes: readonly Axis[],
  fresh: boolean,
): { readonly data: Float64Array; readonly step: 0 | 1; readonly free: boolean } {
  if (tensor.axes.length === 0) return { data: tensor.data, step: 0, free: false };
  const wide = expand(tensor, axes);
  return { data: wide.data, step: 1, free: wide !== tensor || fresh };
}
