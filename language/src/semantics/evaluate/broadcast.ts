/** Laying tensors and values along more axes, or along others, by axis identity. Knows no arithmetic. */
import { cellsAlong, noAxes, tidyMarks, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Curve, Tensor, Value } from './value.ts';

export function sameAxes(a: readonly Axis[], b: readonly Axis[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false;
  return true;
}

/** In order of first appearance. */
export function unionAxes(a: readonly Axis[], b: readonly Axis[]): readonly Axis[] {
  if (b.length === 0 || a === b) return a;
  if (a.length === 0) return b;
  const more = b.filter((axis) => !a.includes(axis));
  return more.length === 0 ? a : [...a, ...more];
}

export function unionOf(all: readonly (readonly Axis[])[]): readonly Axis[] {
  return all.reduce(unionAxes, noAxes);
}

/** For each axis of `to`, how far apart neighbours along it lie in `from`; 0 where `from` lacks it. */
export function stridesOf(from: readonly Axis[], to: readonly Axis[]): number[] {
  const own = Array.from({ length: from.length }, () => 0);
  let stride = 1;
  for (let at = from.length - 1; at >= 0; at--) {
    own[at] = stride;
    stride *= from[at]!.size;
  }
  return to.map((axis) => {
    const at = from.indexOf(axis);
    return at < 0 ? 0 : own[at]!;
  });
}

const maps = new Map<string, Int32Array>();
const mostCached = 4_000_000;
let cached = 0;

/** For each cell along axes of `sizes`, the cell that `strides` lead to. Kept, since the same shapes come again and again. */
export function cellMap(sizes: readonly number[], strides: readonly number[]): Int32Array {
  const key = `${sizes.join()}|${strides.join()}`;
  const known = maps.get(key);
  if (known) return known;
  const map = makeMap(sizes, strides);
  if (cached + map.length > mostCached) {
    maps.clear();
    cached = 0;
  }
  if (map.length <= mostCached) {
    maps.set(key, map);
    cached += map.length;
  }
  return map;
}

function makeMap(sizes: readonly number[], strides: readonly number[]): Int32Array {
  const map = new Int32Array(sizes.reduce((cells, size) => cells * size, 1));
  const place = new Int32Array(sizes.length);
  let source = 0;
  for (let cell = 0; cell < map.length; cell++) {
    map[cell] = source;
    for (let axis = sizes.length - 1; axis >= 0; axis--) {
      source += strides[axis]!;
      if (++place[axis]! < sizes[axis]!) break;
      source -= strides[axis]! * sizes[axis]!;
      place[axis] = 0;
    }
  }
  return map;
}

/** For each cell along `to`, the cell along `from`; an axis that `to` lacks is taken at its first place. */
export function mapBetween(from: readonly Axis[], to: readonly Axis[]): Int32Array {
  cellsAlong(to);
  return cellMap(
    to.map((axis) => axis.size),
    stridesOf(from, to),
  );
}

/** The same figures along `axes`, which must hold all of the tensor's own. */
export function expand(tensor: Tensor, axes: readonly Axis[]): Tensor {
  if (sameAxes(tensor.axes, axes)) return tensor;
  const cells = cellsAlong(axes);
  const { data, mark } = tensor;
  if (data.length === 1) {
    return {
      axes,
      data: new Float64Array(cells).fill(data[0]!),
      mark: mark === null || mark[0] === Mark.exact ? null : new Uint8Array(cells).fill(mark[0]!),
    };
  }
  return takeCells(tensor, axes, mapBetween(tensor.axes, axes));
}

export function expandMarks(mark: Uint8Array | null, from: readonly Axis[], to: readonly Axis[]): Uint8Array | null {
  if (mark === null || sameAxes(from, to)) return mark;
  const map = mapBetween(from, to);
  const out = new Uint8Array(map.length);
  for (let cell = 0; cell < out.length; cell++) out[cell] = mark[map[cell]!]!;
  return out;
}

/** A tensor along `axes` whose cells are those of `sources`; -1: missing. */
function takeCells(tensor: Tensor, axes: readonly Axis[], sources: Int32Array): Tensor {
  const { data, mark } = tensor;
  const out = new Float64Array(sources.length);
  let lost = false;
  for (let cell = 0; cell < out.length; cell++) {
    const source = sources[cell]!;
    if (source < 0) lost = true;
    out[cell] = source < 0 ? NaN : data[source]!;
  }
  if (mark === null && !lost) return { axes, data: out, mark: null };
  const marks = new Uint8Array(sources.length);
  for (let cell = 0; cell < out.length; cell++) {
    const source = sources[cell]!;
    marks[cell] = source < 0 ? Mark.missing : mark === null ? Mark.exact : mark[source]!;
  }
  return { axes, data: out, mark: tidyMarks(marks) };
}

/** Does the same to every tensor of a value; curves are moved as they are. */
export function moveCells(value: Value, axes: readonly Axis[], sources: Int32Array): Value {
  const move = (tensor: Tensor): Tensor => takeCells(tensor, axes, sources);
  switch (value.is) {
    case 'numbers':
      return {
        is: 'numbers',
        tensor: move(value.tensor),
        band: value.band === null ? null : { low: bare(move(value.band.low)), high: bare(move(value.band.high)) },
      };
    case 'limits': {
      const along = unionAxes(value.low.axes, value.high.axes);
      return { is: 'limits', low: move(expand(value.low, along)), high: move(expand(value.high, along)) };
    }
    case 'curves': {
      const curves = Array.from(sources, (source): Curve | null => (source < 0 ? null : value.curves[source]!));
      const mark = Uint8Array.from(sources, (source) =>
        source < 0 ? Mark.missing : value.mark === null ? Mark.exact : value.mark[source]!,
      );
      return { is: 'curves', axes, curves, mark: tidyMarks(mark) };
    }
  }
}

/** Ends of bands carry no marks of their own. */
function bare(tensor: Tensor): Tensor {
  return tensor.mark === null ? tensor : { axes: tensor.axes, data: tensor.data, mark: null };
}

export function expandValue(value: Value, axes: readonly Axis[]): Value {
  if (value.is === 'numbers' && value.band === null) {
    const tensor = expand(value.tensor, axes);
    return tensor === value.tensor ? value : { is: 'numbers', tensor, band: null };
  }
  const own = axesOfAll(value);
  if (value.is === 'limits') return { is: 'limits', low: expand(value.low, axes), high: expand(value.high, axes) };
  return sameAxes(own, axes) ? value : moveCells(value, axes, mapBetween(own, axes));
}

/** Limits may have ends along different axes: the axes of both. */
export function axesOfAll(value: Value): readonly Axis[] {
  if (value.is === 'numbers') return value.tensor.axes;
  return value.is === 'limits' ? unionAxes(value.low.axes, value.high.axes) : value.axes;
}

/** The value with each cell's mark at least that of `mark`; a cell that becomes missing loses its figure. */
export function weighed(value: Value, mark: Uint8Array | null): Value {
  if (mark === null) return value;
  const weigh = (tensor: Tensor): Tensor => blanked(tensor.axes, tensor.data, worse(tensor.mark, mark));
  switch (value.is) {
    case 'numbers':
      return { is: 'numbers', tensor: weigh(value.tensor), band: value.band };
    case 'limits':
      return { is: 'limits', low: weigh(value.low), high: weigh(value.high) };
    case 'curves': {
      const marks = worse(value.mark, mark);
      const curves = value.curves.map((curve, cell) => (marks !== null && marks[cell]! >= Mark.missing ? null : curve));
      return { is: 'curves', axes: value.axes, curves, mark: marks };
    }
  }
}

/** A tensor whose missing and absent cells have no figure. */
function blanked(axes: readonly Axis[], data: Float64Array, mark: Uint8Array | null): Tensor {
  if (mark === null) return { axes, data, mark };
  let out = data;
  for (let cell = 0; cell < mark.length; cell++) {
    if (mark[cell]! < Mark.missing || Number.isNaN(out[cell])) continue;
    if (out === data) out = data.slice();
    out[cell] = NaN;
  }
  return { axes, data: out, mark };
}
