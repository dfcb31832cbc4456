/**
 * Many cells to one along named axes, selected by a condition, grouped by an index. Absent cells are passed over; a missing one
 * makes the result missing, unless the answer of `any` or `all` is already known.
 */
import type { Reduce } from '../ir.ts';
import type { AxisId } from '../types/type.ts';
import { expand, stridesOf, unionAxes, unionOf } from './broadcast.ts';
import { evaluateExtreme } from './least.ts';
import type { Frame } from './frame.ts';
import { cellsAlong, markAt, noAxes, numbers } from './tensor.ts';
import { Tally } from './tally.ts';
import type { Tallied } from './tally.ts';
import type { Axis, Numbers, Tensor } from './value.ts';

export function evaluateReduce(expr: Reduce, frame: Frame): Numbers {
  if (expr.by === null && extremes.has(expr.function) && expr.over.some((id) => frame.context.stepped(id))) {
    return evaluateExtreme(expr, frame);
  }
  const inside = frame.settled(expr.over);
  const of = inside.tensor(expr.of);
  const where = expr.where === null ? null : inside.tensor(expr.where);
  const by = expr.by === null ? null : { index: inside.tensor(expr.by.index), to: frame.axis(expr.by.to) };
  const named = expr.function;
  const result = reduce(
    talliedAs(named),
    { of, where, by, over: expr.over, flags: expr.of.type.value.is === 'flag' },
    inside,
  );
  if (named === 'where-first') tellWhereNone(result, of, expr, frame);
  if (named !== 'least-at' && named !== 'most-at') return numbers(result);
  const { axes, data, mark } = result;
  const { coordinates } = inside.axis(expr.over[0]!);
  return numbers({ axes, data: data.map((place) => (Number.isNaN(place) ? NaN : coordinates[place]!)), mark });
}

const extremes: ReadonlySet<string> = new Set(['least', 'most', 'least-at', 'most-at']);

function talliedAs(name: Reduce['function']): Tallied {
  switch (name) {
    case 'least':
      return 'min';
    case 'most':
      return 'max';
    case 'least-at':
      return 'where-least';
    case 'most-at':
      return 'where-most';
    default:
      return name;
  }
}

function tellWhereNone(result: Tensor, of: Tensor, expr: Reduce, frame: Frame): void {
  const lost = result.mark !== null && result.data.some((place) => Number.isNaN(place));
  if (lost && of.data.every((flag) => !Number.isNaN(flag))) frame.missing('it is true nowhere', expr.at);
}

export interface Selection {
  readonly of: Tensor;
  readonly where: Tensor | null;
  readonly by: { readonly index: Tensor; readonly to: Axis } | null;
  readonly over: readonly AxisId[];
  /** Count those that are true rather than those that are there. */
  readonly flags: boolean;
}

export function reduce(name: Tallied, selection: Selection, frame: Frame): Tensor {
  const { of, where, by } = selection;
  const present = unionOf([of.axes, where?.axes ?? noAxes, by?.index.axes ?? noAxes]);
  const over = selection.over.map((id) => present.find((axis) => axis.id === id) ?? frame.axis(id));
  const rest = present.filter((axis) => !over.includes(axis));
  const all = [...rest, ...over];
  const figures = expand(of, all);
  const condition = where === null ? null : expand(where, all);
  const run = cellsAlong(over);
  if (by === null) {
    if (condition === null && figures.mark === null) {
      const quick = plain(name, figures.data, rest, run);
      if (quick !== null) return quick;
    }
    const tally = new Tally(name, cellsAlong(rest), selection.flags);
    const places = placesAlong(over);
    for (let cell = 0; cell < figures.data.length; cell++) {
      const at = cell % run;
      tally.take(Math.floor(cell / run), figures, condition, cell, places.place[at]!, places.coordinate[at]!);
    }
    return tally.result(rest);
  }
  return grouped(name, figures, condition, expand(by.index, all), by.to, rest, over, selection.flags);
}

/** The place and coordinate on the first axis of each cell along `over`. */
function placesAlong(over: readonly Axis[]): { readonly place: Int32Array; readonly coordinate: Float64Array } {
  const first = over[0]!;
  const inner = cellsAlong(over.slice(1));
  const place = Int32Array.from({ length: cellsAlong(over) }, (_, at) => Math.floor(at / inner));
  return { place, coordinate: Float64Array.from(place, (at) => first.coordinates[at]!) };
}

/** Sums and extremes of cells that are all exact and all wanted. */
function plain(name: Tallied, data: Float64Array, axes: readonly Axis[], run: number): Tensor | null {
  if (run === 0 || (name !== 'sum' && name !== 'mean' && name !== 'min' && name !== 'max' && name !== 'spread'))
    return null;
  const out = new Float64Array(data.length / run);
  for (let cell = 0, at = 0; cell < out.length; cell++) {
    let sum = 0;
    let least = Infinity;
    let most = -Infinity;
    for (let step = 0; step < run; step++, at++) {
      const x = data[at]!;
      sum += x;
      if (x < least) least = x;
      if (x > most) most = x;
    }
    out[cell] =
      name === 'sum'
        ? sum
        : name === 'mean'
          ? sum / run
          : name === 'min'
            ? least
            : name === 'max'
              ? most
              : most - least;
  }
  return { axes, data: out, mark: null };
}

/** Each cell goes to the place that `index` names on `to`; where the place is missing no group can be told. */
function grouped(
  name: Tallied,
  figures: Tensor,
  condition: Tensor | null,
  index: Tensor,
  to: Axis,
  rest: readonly Axis[],
  over: readonly Axis[],
  flags: boolean,
): Tensor {
  const axes = unionAxes(rest, [to]);
  const [restStrides, toStride] = [stridesOf(axes, rest), stridesOf(axes, [to])[0]!];
  const shared = rest.includes(to);
  const tally = new Tally(name, cellsAlong(axes), flags);
  const places = placesAlong(over);
  const run = cellsAlong(over);
  const base = baseCells(rest, restStrides);
  for (let cell = 0; cell < figures.data.length; cell++) {
    const row = Math.floor(cell / run);
    const group = index.data[cell]!;
    const mark = markAt(index.mark, cell);
    if (Number.isNaN(group)) {
      for (let place = 0; place < to.size && !shared; place++) tally.lose(base[row]! + place * toStride, mark);
      if (shared) tally.lose(base[row]!, mark);
      continue;
    }
    const own = shared ? Math.floor(base[row]! / toStride) % to.size : 0;
    if (group < 0 || group >= to.size || (shared && own !== group)) continue;
    const bucket = shared ? base[row]! : base[row]! + group * toStride;
    tally.take(bucket, figures, condition, cell, places.place[cell % run]!, places.coordinate[cell % run]!);
    tally.weigh(bucket, mark);
  }
  return tally.result(axes);
}

function baseCells(rest: readonly Axis[], strides: readonly number[]): Int32Array {
  const cells = new Int32Array(cellsAlong(rest));
  let block = cells.length;
  for (let at = 0; at < rest.length; at++) {
    const { size } = rest[at]!;
    block /= size;
    for (let cell = 0; cell < cells.length; cell++) cells[cell]! += (Math.floor(cell / block) % size) * strides[at]!;
  }
  return cells;
}
