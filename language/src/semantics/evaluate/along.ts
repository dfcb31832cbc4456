/** Figures of neighbours along an axis: next, previous, running sums, ranks, slopes, smoothing, inverses of a pairing. */
import type { Along, Inverse } from '../ir.ts';
import { expand, unionAxes } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { refinedAxis, refinementOf } from './refined.ts';
import { slopeWeights, smoothingWeights } from './smoothing.ts';
import { cellsAlong, figures, markAt, numbers, tidyMarks } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Numbers, Tensor, Value } from './value.ts';

export function evaluateAlong(expr: Along, frame: Frame): Value {
  const refinement = refinementOf(frame.axis(expr.axis));
  if (refinement !== null) {
    if (expr.function === 'slope' || expr.function === 'smoothed') return weightedBetween(expr, frame);
    refinement.needsPlaces = true;
  }
  const inside = frame.settled([expr.axis]);
  const value = inside.value(expr.of);
  const axis = inside.axis(expr.axis);
  const whole = onAxis(figures(value), axis);
  switch (expr.function) {
    case 'next':
    case 'previous':
      return numbers(turned(whole, axis, expr.function === 'next' ? 1 : -1));
    case 'running':
      return numbers(running(whole, axis));
    case 'rank':
      return numbers(ranked(whole, axis));
    case 'slope':
    case 'smoothed':
      return weightedSums(whole, axis, expr, inside);
  }
}

/** The tensor with `axis` among its axes, innermost. */
function onAxis(tensor: Tensor, axis: Axis): Tensor {
  return expand(tensor, [...tensor.axes.filter((one) => one !== axis), axis]);
}

/** The cell `by` places on, round the end. */
function turned({ axes, data, mark }: Tensor, { size }: Axis, by: number): Tensor {
  const out = new Float64Array(data.length);
  const marks = mark === null ? null : new Uint8Array(data.length);
  for (let cell = 0; cell < data.length; cell++) {
    const place = cell % size;
    const source = cell - place + ((place + by + size) % size);
    out[cell] = data[source]!;
    if (marks !== null) marks[cell] = mark![source]!;
  }
  return { axes, data: out, mark: marks };
}

/** The sum of the cells before; absent ones add nothing. */
function running({ axes, data, mark }: Tensor, { size }: Axis): Tensor {
  const out = new Float64Array(data.length);
  const marks = new Uint8Array(data.length);
  for (let start = 0; start < data.length; start += size) {
    let sum = 0;
    let worst: number = Mark.exact;
    for (let cell = start; cell < start + size; cell++) {
      const own = markAt(mark, cell);
      out[cell] = own === Mark.absent || worst === Mark.missing ? NaN : sum;
      marks[cell] = own === Mark.absent ? Mark.absent : worst;
      if (own === Mark.absent) continue;
      worst = Math.max(worst, own);
      sum += data[cell]!;
    }
  }
  return { axes, data: out, mark: tidyMarks(marks) };
}

/** The place of each cell in order of size, from 0; equal figures in the order in which they stand. */
function ranked({ axes, data, mark }: Tensor, { size }: Axis): Tensor {
  const out = new Float64Array(data.length).fill(NaN);
  const marks = new Uint8Array(data.length);
  for (let start = 0; start < data.length; start += size) {
    const there = Array.from({ length: size }, (_, place) => start + place).filter(
      (cell) => markAt(mark, cell) !== Mark.absent,
    );
    const worst = there.reduce((most, cell) => Math.max(most, markAt(mark, cell)), 0);
    for (let cell = start; cell < start + size; cell++)
      marks[cell] = markAt(mark, cell) === Mark.absent ? Mark.absent : worst;
    if (worst === Mark.missing) continue;
    there.sort((a, b) => data[a]! - data[b]! || a - b).forEach((cell, rank) => (out[cell] = rank));
  }
  return { axes, data: out, mark: tidyMarks(marks) };
}

/** Window and order of `smoothed`; `slope` needs neither. */
function windowOf(expr: Along, frame: Frame): { readonly half: number; readonly order: number } | null {
  if (expr.function === 'slope') return { half: 1, order: 1 };
  const [window, order] = expr.args.map((arg) => frame.tensor(arg).data[0]!);
  const half = Math.floor((window! + 1e-9) / 2);
  const of = order === undefined ? 0 : Math.round(order);
  if (half >= 1 && of >= 0 && of <= 2) return { half, order: of };
  frame.missing('smoothing needs a window of at least three places and an order of 0, 1 or 2', expr.at);
  return null;
}

/** Slopes and smoothing are weighted sums of neighbours: linear, so that certainty passes through them. */
function weightedSums(whole: Tensor, axis: Axis, expr: Along, frame: Frame): Numbers {
  const window = windowOf(expr, frame);
  const { axes, data, mark } = whole;
  const out = new Float64Array(data.length).fill(NaN);
  const marks = new Uint8Array(data.length).fill(Mark.missing);
  const result = { axes, data: out, mark: marks };
  const least = expr.function === 'slope' ? 2 : 3;
  if (window !== null && axis.size < least) frame.missing(`a slope needs at least ${least} places`, expr.at);
  if (window === null || axis.size < least) return numbers(result);
  const coordinates = frame.context.coordinates(expr.axis).data;
  const kernels = Array.from({ length: axis.size }, (_, place) =>
    kernelAt(place, axis.size, window, coordinates, expr),
  );
  for (let cell = 0; cell < data.length; cell++) {
    const place = cell % axis.size;
    const { from, weights } = kernels[place]!;
    const start = cell - place + from;
    let sum = 0;
    let worst: number = Mark.exact;
    for (let at = 0; at < weights.length; at++) {
      sum += weights[at]! * data[start + at]!;
      worst = Math.max(worst, markAt(mark, start + at));
    }
    marks[cell] = worst;
    out[cell] = worst >= Mark.missing ? NaN : sum;
  }
  return numbers({ axes, data: out, mark: tidyMarks(marks) });
}

interface Kernel {
  readonly from: number;
  readonly weights: Float64Array;
}

/** At the ends the window stays within the axis and is looked at off its middle. */
function kernelAt(
  place: number,
  size: number,
  { half, order }: { readonly half: number; readonly order: number },
  coordinates: Float64Array,
  expr: Along,
): Kernel {
  const width = Math.min(size, 2 * half + 1);
  const from = Math.min(Math.max(0, place - half), size - width);
  const at = Float64Array.from({ length: width }, (_, step) => coordinates[from + step]! - coordinates[place]!);
  return { from, weights: expr.function === 'slope' ? slopeWeights(at) : smoothingWeights(at, order) };
}

/** Between the samples of an axis: the same weights over places a step apart round each coordinate. */
function weightedBetween(expr: Along, frame: Frame): Value {
  const here = frame.axis(expr.axis);
  const { settled } = refinementOf(here)!;
  const window = windowOf(expr, frame);
  const wide = frame.context.coordinates(expr.axis);
  if (window === null || settled.size < 2)
    return numbers({
      ...wide,
      data: wide.data.map(() => NaN),
      mark: new Uint8Array(wide.data.length).fill(Mark.missing),
    });
  const step = (settled.coordinates[settled.size - 1]! - settled.coordinates[0]!) / (settled.size - 1);
  const width = 2 * window.half + 1;
  const offsets = Float64Array.from({ length: width }, (_, at) => (at - window.half) * step);
  const weights = expr.function === 'slope' ? slopeWeights(offsets) : smoothingWeights(offsets, window.order);
  let sum: Tensor | null = null;
  offsets.forEach((offset, at) => {
    if (weights[at] === 0) return;
    const { axis, refinement } = refinedAxis(settled, here.size);
    const axes = wide.axes.map((one) => (one === here ? axis : one));
    const coordinates = { axes, data: wide.data.map((x) => x + offset), mark: wide.mark };
    const moved = frame.withAxis(expr.axis, axis, coordinates).tensor(expr.of);
    if (refinement.needsPlaces) refinementOf(here)!.needsPlaces = true;
    const back: Tensor = {
      axes: moved.axes.map((one) => (one === axis ? here : one)),
      data: moved.data.map((y) => y * weights[at]!),
      mark: moved.mark,
    };
    sum = sum === null ? back : added(sum, back);
  });
  return numbers(sum!);
}

function added(left: Tensor, right: Tensor): Tensor {
  const axes = unionAxes(left.axes, right.axes);
  const [a, b] = [expand(left, axes), expand(right, axes)];
  const mark = a.mark ?? b.mark;
  const marks =
    mark === null ? null : Uint8Array.from(mark, (_, cell) => Math.max(markAt(a.mark, cell), markAt(b.mark, cell)));
  return { axes, data: a.data.map((figure, cell) => figure + b.data[cell]!), mark: marks };
}

/** For a pairing `of` (a place on `to` for each on `from`), the place on `from` for each on `to`. */
export function evaluateInverse(expr: Inverse, frame: Frame): Numbers {
  const inside = frame.settled([expr.from, expr.to]);
  const [from, to] = [inside.axis(expr.from), inside.axis(expr.to)];
  const places = onAxis(inside.tensor(expr.of), from);
  const rest = places.axes.filter((axis) => axis !== from);
  const axes = [...rest, to];
  const out = new Float64Array(cellsAlong(axes)).fill(NaN);
  const marks = new Uint8Array(out.length).fill(Mark.missing);
  let odd = false;
  for (let row = 0; row * from.size < places.data.length; row++) {
    const used = new Int32Array(to.size);
    let lost: number = Mark.exact;
    for (let place = 0; place < from.size; place++) {
      const cell = row * from.size + place;
      const target = places.data[cell]!;
      lost = Math.max(lost, markAt(places.mark, cell) === Mark.absent ? 0 : markAt(places.mark, cell));
      if (!(target >= 0 && target < to.size)) continue;
      used[target]!++;
      out[row * to.size + target] = place;
      marks[row * to.size + target] = markAt(places.mark, cell);
    }
    for (let place = 0; place < to.size; place++) {
      if (used[place] === 1) continue;
      const cell = row * to.size + place;
      out[cell] = NaN;
      marks[cell] = Mark.missing;
      if (lost < Mark.missing) odd = true;
    }
  }
  if (odd) frame.missing(`not every ${to.name} is named just once`, expr.at);
  return numbers({ axes, data: out, mark: tidyMarks(marks) });
}
