/**
 * Least and greatest over a stepped axis: the samples first, then between the neighbours of the best one by evaluating again at
 * other coordinates, all cells at once. Where the figures do not follow the coordinates (readings), a parabola through three samples.
 */
import type { Reduce } from '../ir.ts';
import { expand } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { gather } from './gather.ts';
import { reduce } from './reduce.ts';
import type { Selection } from './reduce.ts';
import { refinedAxis } from './refined.ts';
import { figures, markAt, numbers } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Numbers, Tensor } from './value.ts';

/** Points of one look; each look narrows the bracket to a quarter. */
const points = 9;
/** Until the bracket is less than 1e-9 of a step. */
const looks = 17;

/** What is known of one cell while its extreme is narrowed down; figures times `sign`, so that the least is looked for. */
interface Search {
  readonly sign: 1 | -1;
  readonly rest: readonly Axis[];
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly at: Float64Array;
  readonly best: Float64Array;
  readonly done: Uint8Array;
}

export function evaluateExtreme(expr: Reduce, frame: Frame): Numbers {
  const inside = frame.settled(expr.over);
  const stepped = expr.over.find((id) => frame.context.stepped(id))!;
  const others = expr.over.filter((id) => id !== stepped);
  const axis = inside.axis(stepped);
  const sign = expr.function === 'least' || expr.function === 'least-at' ? 1 : -1;
  const of = inside.tensor(expr.of);
  const where = expr.where === null ? null : inside.tensor(expr.where);
  const selection: Selection = { of, where, by: null, over: [stepped], flags: false };
  const place = reduce(sign === 1 ? 'where-least' : 'where-most', selection, inside);
  const samples = samplesOf(selection, axis, place, sign);
  const search = startSearch(place, samples, axis, sign);
  if (axis.size > 1 && !narrow(search, expr, axis, inside)) parabola(search, samples, place, axis);
  const value: Tensor = { axes: place.axes, data: search.best.map((figure) => figure * sign), mark: place.mark };
  const at: Tensor = { axes: place.axes, data: search.at, mark: place.mark };
  const wantsPlace = expr.function === 'least-at' || expr.function === 'most-at';
  if (others.length === 0) return numbers(wantsPlace ? at : value);
  return overOthers(value, wantsPlace ? at : null, others, sign, expr, inside);
}

/** The best along the remaining axes, or the coordinate of the best. */
function overOthers(
  value: Tensor,
  at: Tensor | null,
  others: Selection['over'],
  sign: 1 | -1,
  expr: Reduce,
  frame: Frame,
): Numbers {
  const selection = (over: Selection['over'], of: Tensor): Selection => ({
    of,
    where: null,
    by: null,
    over,
    flags: false,
  });
  if (at === null) return numbers(reduce(sign === 1 ? 'min' : 'max', selection(others, value), frame));
  let [best, where] = [value, at];
  for (const other of others) {
    const place = reduce(sign === 1 ? 'where-least' : 'where-most', selection([other], best), frame);
    best = figures(gather(numbers(best), other, place, expr, frame));
    where = figures(gather(numbers(where), other, place, expr, frame));
  }
  return numbers(where);
}

/** Samples along the axis, innermost, in the order of `place`'s cells; NaN where they do not count. */
function samplesOf({ of, where }: Selection, axis: Axis, place: Tensor, sign: 1 | -1): Float64Array {
  const axes = [...place.axes, axis];
  const condition = where === null ? null : expand(where, axes).data;
  return expand(of, axes).data.map((figure, cell) =>
    condition !== null && condition[cell] !== 1 ? NaN : figure * sign,
  );
}

function startSearch(place: Tensor, samples: Float64Array, axis: Axis, sign: 1 | -1): Search {
  const cells = place.data.length;
  const [low, high, at, best] = [0, 1, 2, 3].map(() => new Float64Array(cells).fill(NaN)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const done = new Uint8Array(cells);
  for (let cell = 0; cell < cells; cell++) {
    if (markAt(place.mark, cell) >= Mark.missing) {
      done[cell] = 1;
      continue;
    }
    const own = place.data[cell]!;
    low[cell] = axis.coordinates[Math.max(0, own - 1)]!;
    high[cell] = axis.coordinates[Math.min(axis.size - 1, own + 1)]!;
    at[cell] = axis.coordinates[own]!;
    best[cell] = samples[cell * axis.size + own]!;
  }
  return { sign, rest: place.axes, low, high, at, best, done };
}

/** Looks again and again, each time nearer; false where the figures do not follow the coordinates. */
function narrow(search: Search, expr: Reduce, axis: Axis, frame: Frame): boolean {
  const cells = search.at.length;
  for (let look = 0; look < looks && search.done.includes(0); look++) {
    const trial = new Float64Array(cells * points);
    for (let cell = 0; cell < cells; cell++) {
      const [low, high] = [search.low[cell]!, search.high[cell]!];
      for (let point = 0; point < points; point++)
        trial[cell * points + point] = low + ((high - low) * point) / (points - 1);
    }
    const found = evaluateAt(trial, points, search, expr, axis, frame);
    if (found === null) return false;
    if (found === 'constant') return true;
    const middles = narrowTo(search, trial, found);
    polish(search, trial, found, middles, expr, axis, frame);
  }
  return true;
}

/** Figures at the coordinates of `trial`, `count` a cell; null where they do not follow them. */
function evaluateAt(
  trial: Float64Array,
  count: number,
  search: Search,
  expr: Reduce,
  axis: Axis,
  frame: Frame,
): Float64Array | 'constant' | null {
  const { axis: refined, refinement } = refinedAxis(axis, count);
  const axes = [...search.rest, refined];
  const trying = frame.withAxis(axis.id, refined, { axes, data: trial, mark: null }).holding();
  const of = trying.tensor(expr.of);
  const where = expr.where === null ? null : trying.tensor(expr.where);
  const used = where === null ? of.axes : [...of.axes, ...where.axes];
  if (refinement.needsPlaces || used.some((one) => !axes.includes(one))) return null;
  if (!of.axes.includes(refined)) return 'constant';
  const condition = where === null ? null : expand(where, axes).data;
  return expand(of, axes).data.map((figure, cell) => {
    if (Number.isNaN(figure) || (condition !== null && condition[cell] !== 1)) return Infinity;
    return figure * search.sign;
  });
}

/** The bracket becomes that of the neighbours of the best point, whose number is returned for each cell. */
function narrowTo(search: Search, trial: Float64Array, found: Float64Array): Int32Array {
  const middles = new Int32Array(search.at.length).fill(-1);
  for (let cell = 0; cell < middles.length; cell++) {
    if (search.done[cell] === 1) continue;
    const start = cell * points;
    let least = 0;
    for (let point = 1; point < points; point++) if (found[start + point]! < found[start + least]!) least = point;
    middles[cell] = least;
    if (!(found[start + least]! <= search.best[cell]!)) {
      // what was best lies between two points and is still less than either
      const after = trial.subarray(start, start + points).findIndex((x) => x > search.at[cell]!);
      search.low[cell] = trial[start + Math.max(0, after - 1)]!;
      search.high[cell] = trial[start + (after < 0 ? points - 1 : after)]!;
      continue;
    }
    search.best[cell] = found[start + least]!;
    search.at[cell] = trial[start + least]!;
    search.low[cell] = trial[start + Math.max(0, least - 1)]!;
    search.high[cell] = trial[start + Math.min(points - 1, least + 1)]!;
  }
  return middles;
}

/**
 * The extreme of the polynomial through all points of a look: where the function is smooth this is nearer than any comparison of figures
 * could come (they differ by less than their last bit). Taken only where the function agrees with the polynomial.
 */
function polish(
  search: Search,
  trial: Float64Array,
  found: Float64Array,
  middles: Int32Array,
  expr: Reduce,
  axis: Axis,
  frame: Frame,
): void {
  const cells = middles.length;
  const candidates = search.at.slice();
  const promised = new Float64Array(cells).fill(NaN);
  for (let cell = 0; cell < cells; cell++) {
    const middle = middles[cell]!;
    if (middle < 1 || middle > points - 2) continue;
    const start = cell * points;
    const least = leastBetween(found.subarray(start, start + points), middle);
    if (least === null) continue;
    candidates[cell] = trial[start]! + least.at * (trial[start + 1]! - trial[start]!);
    promised[cell] = least.value;
  }
  if (promised.every(Number.isNaN)) return;
  const reached = evaluateAt(candidates, 1, search, expr, axis, frame);
  if (reached === null || reached === 'constant') return;
  for (let cell = 0; cell < cells; cell++) {
    const figure = reached[cell]!;
    const allowed = 64 * Number.EPSILON * Math.max(Math.abs(figure), Math.abs(found[cell * points]!));
    if (search.done[cell] === 1 || !(Math.abs(figure - promised[cell]!) <= allowed)) continue;
    search.at[cell] = candidates[cell]!;
    search.best[cell] = Math.min(figure, search.best[cell]!);
    search.done[cell] = 1;
  }
}

/** Least of Newton's polynomial through figures at 0, 1, 2 …, within one of the least of them; null where it has none there. */
function leastBetween(y: Float64Array, middle: number): { readonly at: number; readonly value: number } | null {
  let [low, high] = [y[0]!, y[0]!];
  for (const figure of y) [low, high] = [Math.min(low, figure), Math.max(high, figure)];
  // figures that differ by their last bits alone bend as chance will have it
  if (!(high - low > 1024 * Number.EPSILON * Math.max(Math.abs(low), Math.abs(high)))) return null;
  const divided = y.slice();
  for (let order = 1; order < points; order++)
    for (let place = points - 1; place >= order; place--)
      divided[place] = (divided[place]! - divided[place - 1]!) / order;
  let at = middle;
  for (let turn = 0; turn < 12; turn++) {
    const { slope, bend } = polynomialAt(divided, at);
    if (!(bend > 0)) return null;
    const step = slope / bend;
    at -= step;
    if (!(Math.abs(at - middle) <= 1)) return null;
    // the error of the next is the square of this one's
    if (Math.abs(step) < 1e-9) break;
  }
  return { at, value: polynomialAt(divided, at).value };
}

/** Nested products, with both slopes carried along. */
function polynomialAt(divided: Float64Array, at: number): { value: number; slope: number; bend: number } {
  let [value, slope, bend] = [divided[points - 1]!, 0, 0];
  for (let place = points - 2; place >= 0; place--) {
    bend = bend * (at - place) + 2 * slope;
    slope = slope * (at - place) + value;
    value = value * (at - place) + divided[place]!;
  }
  return { value, slope, bend };
}

/** Through the best sample and its neighbours, where both count. */
function parabola(search: Search, samples: Float64Array, place: Tensor, axis: Axis): void {
  for (let cell = 0; cell < search.at.length; cell++) {
    const own = place.data[cell]!;
    if (!(own > 0 && own < axis.size - 1)) continue;
    const start = cell * axis.size + own;
    const [left, right] = [
      axis.coordinates[own - 1]! - axis.coordinates[own]!,
      axis.coordinates[own + 1]! - axis.coordinates[own]!,
    ];
    const middle = samples[start]!;
    const [a, b] = [(samples[start - 1]! - middle) / left, (samples[start + 1]! - middle) / right];
    const bend = (b - a) / (right - left);
    const slope = a - bend * left;
    if (!(bend > 0)) continue;
    const at = -slope / (2 * bend);
    search.at[cell] = axis.coordinates[own]! + at;
    search.best[cell] = middle + slope * at + bend * at * at;
  }
}
