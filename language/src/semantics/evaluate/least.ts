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
/** A look at which five points a sixty-fourth of a step apart make a quartic as good as the function itself. */
const polishedLook = 2;
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
    if (look === polishedLook) polish(search, trial, found, middles, expr, axis, frame);
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
 * The extreme of the quartic through five points: where the function is smooth this is nearer than any comparison of figures
 * could come (they differ by less than their last bit). Taken only where the function agrees with the quartic.
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
    if (middle < 2 || middle > points - 3) continue;
    const start = cell * points + middle;
    const figuresRound = [-2, -1, 0, 1, 2].map((offset) => found[start + offset]!);
    const root = quarticLeast(figuresRound);
    if (root === null) continue;
    candidates[cell] = trial[start]! + root.at * (trial[start + 1]! - trial[start]!);
    promised[cell] = root.value;
  }
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

/** Least of the quartic through figures at −2 … 2, near 0; null where it has none there. */
function quarticLeast(y: readonly number[]): { readonly at: number; readonly value: number } | null {
  const [a, b, c, d, e] = y as [number, number, number, number, number];
  if (!y.every(Number.isFinite)) return null;
  const k1 = (a - 8 * b + 8 * d - e) / 12;
  const k2 = (-a + 16 * b - 30 * c + 16 * d - e) / 24;
  const k3 = (-a + 2 * b - 2 * d + e) / 12;
  const k4 = (a - 4 * b + 6 * c - 4 * d + e) / 24;
  let at = 0;
  for (let turn = 0; turn < 12; turn++) {
    const slope = k1 + at * (2 * k2 + at * (3 * k3 + at * 4 * k4));
    const bend = 2 * k2 + at * (6 * k3 + at * 12 * k4);
    if (!(bend > 0)) return null;
    at -= slope / bend;
    if (!(Math.abs(at) <= 1)) return null;
  }
  return { at, value: c + at * (k1 + at * (k2 + at * (k3 + at * k4))) };
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
