/** `assign(cost over row to p[, q])`: tables of costs from tensors, choices back to places. The searches are in assignment.ts and pairs-of-stock.ts. */
import type { Assign } from '../ir.ts';
import { leastSpread, leastTotal } from './assignment.ts';
import type { Choice } from './assignment.ts';
import { expand, unionAxes, unionOf } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { mostPairs } from './limits.ts';
import { leastPairs } from './pairs-of-stock.ts';
import { cellsAlong, markAt, noAxes, numbers, tidyMarks } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Numbers, Tensor } from './value.ts';

/** One table of costs with what there is of each column. */
interface Table {
  /** By row, then columns; Infinity where the pair may not be. */
  readonly cost: Float64Array;
  readonly mark: number;
  /** Rows in which no pair is applicable at all: they want nothing. */
  readonly idle: Uint8Array;
}

export function evaluateAssign(expr: Assign, frame: Frame): Numbers {
  const inside = frame.settled([expr.row, ...expr.to]);
  const cost = inside.tensor(expr.cost);
  const where = expr.where === null ? null : inside.tensor(expr.where);
  const stock = expr.stock === null ? null : inside.tensor(expr.stock.of);
  const row = inside.axis(expr.row);
  const to = expr.to.map((id) => inside.axis(id));
  const drawn = expr.stock === null ? null : inside.axis(expr.stock.over);
  const own = [row, ...to];
  const rest = unionOf([cost.axes, where?.axes ?? noAxes, stock?.axes ?? noAxes]).filter(
    (axis) => !own.includes(axis) && axis !== drawn,
  );
  const columns = cellsAlong(to);
  const result = new Float64Array(cellsAlong(rest) * row.size).fill(NaN);
  const marks = new Uint8Array(result.length);
  const tables = tablesOf(cost, where, rest, row, to);
  const stocks = stock === null || drawn === null ? null : expand(stock, [...unionAxes(rest, noAxes), drawn]);
  let reason: string | null = null;
  for (let at = 0; at * row.size < result.length; at++) {
    const table = tables(at);
    const supply =
      stocks === null ? null : { data: stocks.data.subarray(at * drawn!.size, (at + 1) * drawn!.size), axis: drawn! };
    const lost = supply === null ? table.mark : Math.max(table.mark, ...stockMarks(stocks!, at, drawn!.size));
    const found = lost >= Mark.missing ? null : choose(table, row.size, columns, to, supply, expr.aim);
    if (found === 'too many') reason = 'there are too many ways to choose';
    else if (found === null && lost < Mark.missing) reason = 'no choice serves every row';
    for (let place = 0; place < row.size; place++) {
      const cell = at * row.size + place;
      const served = found !== null && found !== 'too many';
      marks[cell] = table.idle[place] === 1 ? Mark.absent : served ? lost : Mark.missing;
      if (served && table.idle[place] === 0) result[cell] = placeOn(expr, found.columns[place]!, to);
    }
  }
  if (reason !== null) frame.missing(reason, expr.at);
  return numbers({ axes: [...rest, row], data: result, mark: tidyMarks(marks) });
}

function stockMarks(stocks: Tensor, at: number, size: number): number[] {
  return Array.from({ length: size }, (_, place) => markAt(stocks.mark, at * size + place)).map((mark) =>
    mark === Mark.absent ? 0 : mark,
  );
}

function tablesOf(
  cost: Tensor,
  where: Tensor | null,
  rest: readonly Axis[],
  row: Axis,
  to: readonly Axis[],
): (at: number) => Table {
  const axes = [...rest, row, ...to];
  const figures = expand(cost, axes);
  const condition = where === null ? null : expand(where, axes);
  const columns = cellsAlong(to);
  const size = row.size * columns;
  return (at) => {
    const out = new Float64Array(size).fill(Infinity);
    const idle = new Uint8Array(row.size).fill(1);
    let worst: number = Mark.exact;
    for (let cell = 0; cell < size; cell++) {
      const from = at * size + cell;
      const allowed = condition === null ? Mark.exact : markAt(condition.mark, from);
      const mark = markAt(figures.mark, from);
      if (mark === Mark.absent || allowed === Mark.absent) continue;
      idle[Math.floor(cell / columns)] = 0;
      worst = Math.max(worst, allowed);
      if (condition !== null && condition.data[from] === 0) continue;
      worst = Math.max(worst, mark);
      out[cell] = figures.data[from]!;
    }
    return { cost: out, mark: worst, idle };
  };
}

interface Supply {
  readonly data: Float64Array;
  readonly axis: Axis;
}

function choose(
  table: Table,
  rows: number,
  columns: number,
  to: readonly Axis[],
  supply: Supply | null,
  aim: Assign['aim'],
): Choice | null | 'too many' {
  const busy = Array.from({ length: rows }, (_, row) => row).filter((row) => table.idle[row] === 0);
  if (busy.length * columns > mostPairs) return 'too many';
  const cost = new Float64Array(busy.length * columns);
  busy.forEach((row, at) => cost.set(table.cost.subarray(row * columns, (row + 1) * columns), at * columns));
  const least = (within: Float64Array): Choice | null | 'too many' => {
    if (to.length === 1) return leastTotal(within, busy.length, columns, supply?.data ?? null);
    return leastPairs(within, busy.length, [to[0]!.size, to[1]!.size], stockOf(to, supply));
  };
  const found = aim === 'sum' ? least(cost) : leastSpread(cost, least);
  if (found === null || found === 'too many') return found;
  const chosen = new Int32Array(rows).fill(-1);
  busy.forEach((row, at) => (chosen[row] = found.columns[at]!));
  return { columns: chosen, total: found.total };
}

/** Stock over an axis as long as both halves' serves both; what has none is there once. */
function stockOf(to: readonly Axis[], supply: Supply | null): Parameters<typeof leastPairs>[3] {
  const once = (axis: Axis): Float64Array => new Float64Array(axis.size).fill(1);
  const [first, second] = to as readonly [Axis, Axis];
  if (supply === null) return { first: once(first), second: once(second), shared: false };
  if (first.size === second.size && supply.axis.size === first.size)
    return { first: supply.data, second: supply.data, shared: true };
  if (supply.axis === second)
    return { first: new Float64Array(first.size).fill(Infinity), second: supply.data, shared: false };
  return { first: supply.data, second: new Float64Array(second.size).fill(Infinity), shared: false };
}

/** The place on `result` of a column of the table. */
function placeOn(expr: Assign, column: number, to: readonly Axis[]): number {
  if (to.length === 1) return column;
  return expr.result === expr.to[0] ? Math.floor(column / to[1]!.size) : column % to[1]!.size;
}
