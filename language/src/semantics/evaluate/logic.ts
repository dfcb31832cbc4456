/** Comparisons and words between flags. A limit is met within 1e-9 of its size; `and`, `or` answer as soon as one side decides. */
import type { BinaryOp, Not, Within } from '../ir.ts';
import { expand, unionAxes } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { isFresh, pairUp } from './pairs.ts';
import type { Pair } from './pairs.ts';
import { cellsAlong, figures, markAt, numbers, tidyMarks, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Numbers, Tensor } from './value.ts';

/** Of the size of the limit. */
const tolerance = 1e-9;

export type Comparison = '==' | '!=' | '<' | '<=' | '>' | '>=';

export function evaluateComparison(expr: BinaryOp, operator: Comparison, frame: Frame): Numbers {
  const pair = pairUp(frame.tensor(expr.left), frame.tensor(expr.right), isFresh(expr.left), isFresh(expr.right));
  const exact = expr.left.type.value.is !== 'measure' && expr.right.type.value.is !== 'measure';
  compare(operator, pair, exact ? 0 : tolerance);
  if (pair.mark !== null) {
    for (let i = 0; i < pair.cells; i++) if (pair.mark[i]! >= Mark.missing) pair.out[i] = NaN;
  }
  return numbers({ axes: pair.axes, data: pair.out, mark: pair.mark });
}

function compare(operator: Comparison, { cells, a, b, stepA, stepB, out }: Pair, relative: number): void {
  const negate = operator === '!=' || operator === '<' || operator === '>';
  const yes = negate ? 0 : 1;
  const no = negate ? 1 : 0;
  switch (operator) {
    case '==':
    case '!=':
      for (let i = 0; i < cells; i++) {
        const [x, y] = [a[i * stepA]!, b[i * stepB]!];
        out[i] = Math.abs(x - y) <= relative * Math.max(Math.abs(x), Math.abs(y)) ? yes : no;
      }
      break;
    case '<=':
    case '>':
      for (let i = 0; i < cells; i++) out[i] = atMost(a[i * stepA]!, b[i * stepB]!, relative) ? yes : no;
      break;
    case '>=':
    case '<':
      for (let i = 0; i < cells; i++) out[i] = atMost(b[i * stepB]!, a[i * stepA]!, relative) ? yes : no;
      break;
  }
}

function atMost(x: number, y: number, relative: number): boolean {
  return x <= y || x - y <= relative * Math.max(Math.abs(x), Math.abs(y));
}

export function evaluateWithin(expr: Within, frame: Frame): Numbers {
  const value = frame.tensor(expr.value);
  const limits = frame.value(expr.limits);
  if (limits.is !== 'limits') return numbers(figures(limits));
  const axes = unionAxes(value.axes, unionAxes(limits.low.axes, limits.high.axes));
  const cells = cellsAlong(axes);
  const [at, low, high] = [value, limits.low, limits.high].map((tensor) => expand(tensor, axes)) as [
    Tensor,
    Tensor,
    Tensor,
  ];
  const mark = worse(at.mark, worse(low.mark, high.mark));
  const out = new Float64Array(cells);
  for (let i = 0; i < cells; i++) {
    if (markAt(mark, i) >= Mark.missing) out[i] = NaN;
    else out[i] = inside(at.data[i]!, low.data[i]!, high.data[i]!) ? 1 : 0;
  }
  return numbers({ axes, data: out, mark });
}

function inside(x: number, low: number, high: number): boolean {
  return (low === -Infinity || atMost(low, x, tolerance)) && (high === Infinity || atMost(x, high, tolerance));
}

/** False (for `and`) or true (for `or`) on one side settles the cell whatever the other is. */
export function evaluateJoined(expr: BinaryOp, operator: 'and' | 'or', frame: Frame): Numbers {
  const deciding = operator === 'or' ? 1 : 0;
  const left = frame.tensor(expr.left);
  if (left.data.length === 1 && left.data[0] === deciding) return numbers(left);
  const right = frame.tensor(expr.right);
  const axes = unionAxes(left.axes, right.axes);
  const [a, b] = [expand(left, axes), expand(right, axes)];
  const out = new Float64Array(cellsAlong(axes));
  const mark = new Uint8Array(out.length);
  for (let i = 0; i < out.length; i++) {
    const [x, y, markX, markY] = [a.data[i]!, b.data[i]!, markAt(a.mark, i), markAt(b.mark, i)];
    const worst = Math.max(markX, markY);
    if (worst < Mark.missing) {
      out[i] = x === deciding || y === deciding ? deciding : 1 - deciding;
      mark[i] = worst;
    } else if (x === deciding || y === deciding) {
      out[i] = deciding;
      mark[i] = x === deciding ? markX : markY;
    } else {
      out[i] = NaN;
      mark[i] = worst;
    }
  }
  return numbers({ axes, data: out, mark: tidyMarks(mark) });
}

export function evaluateNot(expr: Not, frame: Frame): Numbers {
  const { axes, data, mark } = frame.tensor(expr.of);
  return numbers({ axes, data: data.map((flag) => 1 - flag), mark });
}
