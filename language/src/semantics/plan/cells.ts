/**
 * Figures laid cell by cell into one value: the uppermost is laid first, what lies below fills only what is left.
 * Knows the three shapes of a value (numbers, limits, curves) and lanes; knows no layers and no slots.
 */
import { cellMap } from '../evaluate/broadcast.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis, Curve, Tensor, Value } from '../evaluate/value.ts';

export type Shape = Value['is'];
export const lanesId = -1;

export function sizeOf(axes: readonly Axis[]): number {
  return axes.reduce((size, axis) => size * axis.size, 1);
}

export function lanesOf(value: Value): Axis | null {
  const axes = value.is === 'numbers' ? value.tensor.axes : value.is === 'limits' ? value.low.axes : value.axes;
  const high = value.is === 'limits' ? value.high.axes : [];
  return [...axes, ...high].find((axis) => axis.id === lanesId) ?? null;
}

/** For each cell along `to`, its cell along `from`; an axis that `from` lacks is passed over. Shared: not to be written into. */
export function cellsFrom(from: readonly Axis[], to: readonly Axis[]): Int32Array {
  const strides = to.map((axis) => {
    const at = from.findIndex((other) => other.id === axis.id);
    return at < 0 ? 0 : sizeOf(from.slice(at + 1));
  });
  return cellMap(
    to.map((axis) => axis.size),
    strides,
  );
}

export function sameAxes(a: readonly Axis[], b: readonly Axis[]): boolean {
  return a.length === b.length && a.every((axis, at) => axis === b[at]);
}

/** The same cells along `axes`, in their order. */
export function along(tensor: Tensor, axes: readonly Axis[]): Tensor {
  if (sameAxes(tensor.axes, axes)) return tensor;
  const from = cellsFrom(tensor.axes, axes);
  const data = new Float64Array(from.length);
  for (let cell = 0; cell < data.length; cell++) data[cell] = tensor.data[from[cell]!]!;
  return { axes, data, mark: tensor.mark === null ? null : marksAt(tensor.mark, from) };
}

function marksAt(mark: Uint8Array | null, from: Int32Array): Uint8Array {
  const marks = new Uint8Array(from.length);
  if (mark !== null) for (let cell = 0; cell < marks.length; cell++) marks[cell] = mark[from[cell]!]!;
  return marks;
}

export function markAt(mark: Uint8Array | null, cell: number): number {
  return mark === null ? Mark.exact : mark[cell]!;
}

/** One mark a cell: of limits the greater of both ends, except that an end left open has none. */
export function marksOf(value: Value, axes: readonly Axis[]): Uint8Array {
  if (value.is === 'numbers') return filledMarks(along(value.tensor, axes));
  if (value.is === 'curves') {
    return marksAt(value.mark, cellsFrom(value.axes, axes));
  }
  const low = filledMarks(along(value.low, axes));
  const high = filledMarks(along(value.high, axes));
  return low.map((mark, cell) => Math.max(mark, high[cell]!));
}

function filledMarks(tensor: Tensor): Uint8Array {
  return tensor.mark ?? new Uint8Array(tensor.data.length);
}

function noCurves(size: number): (Curve | null)[] {
  return Array.from({ length: size }, () => null);
}

/** A value all of whose cells are missing, or absent. */
export function uniform(shape: Shape, axes: readonly Axis[], mark: number): Value {
  const size = sizeOf(axes);
  const tensor = (): Tensor => ({
    axes,
    data: new Float64Array(size).fill(NaN),
    mark: new Uint8Array(size).fill(mark),
  });
  if (shape === 'numbers') return { is: 'numbers', tensor: tensor(), band: null };
  if (shape === 'limits') return { is: 'limits', low: tensor(), high: tensor() };
  return {
    is: 'curves',
    axes,
    curves: noCurves(size),
    mark: new Uint8Array(size).fill(mark),
  };
}

type Columns = 'first' | 'second' | 'bandLow' | 'bandHigh';

/** Gathers cells for one value. `filled` says which cells have their figure. */
export class Cells {
  readonly shape: Shape;
  private readonly own: readonly Axis[];
  private lanes: Axis | null = null;
  private size: number;
  private left: number;
  private filled: Uint8Array;
  private marks: Uint8Array;
  private secondMarks: Uint8Array;
  private columns: Record<Columns, Float64Array>;
  private curves: (Curve | null)[];
  private banded = false;
  readonly cellCount: number;

  constructor(shape: Shape, own: readonly Axis[]) {
    this.shape = shape;
    this.own = own;
    this.cellCount = this.size = this.left = sizeOf(own);
    this.filled = new Uint8Array(this.size);
    this.marks = new Uint8Array(this.size).fill(Mark.missing);
    this.secondMarks = this.marks.slice();
    const empty = (): Float64Array => new Float64Array(this.size).fill(NaN);
    this.columns = { first: empty(), second: empty(), bandLow: empty(), bandHigh: empty() };
    this.curves = shape === 'curves' ? noCurves(this.size) : [];
  }

  get complete(): boolean {
    return this.left === 0;
  }

  get axes(): readonly Axis[] {
    return this.lanes === null ? this.own : [this.lanes, ...this.own];
  }

  /** True where the cell has its figure in every lane. */
  has(cell: number): boolean {
    for (let at = cell; at < this.size; at += this.cellCount) if (this.filled[at] === 0) return false;
    return true;
  }

  /**
   * Lays `value` into the cells of `mask` (null: all) that have no figure yet and where it has one. `markOf` turns the
   * mark that the figure came with into the mark it gets; `laid` hears of each cell that took its figure.
   */
  lay(value: Value, mask: Uint8Array | null, markOf: (mark: number) => number, laid: (cell: number) => void): void {
    if (value.is !== this.shape) return;
    const lanes = lanesOf(value);
    if (lanes !== null && this.lanes === null) this.widen(lanes);
    const axes = this.axes;
    if (value.is === 'curves') this.layCurves(value, cellsFrom(value.axes, axes), mask, markOf, laid);
    else if (value.is === 'limits')
      this.layTensors(along(value.low, axes), along(value.high, axes), null, mask, markOf, laid);
    else {
      const band =
        value.band === null ? null : { low: along(value.band.low, axes), high: along(value.band.high, axes) };
      this.layTensors(along(value.tensor, axes), null, band, mask, markOf, laid);
    }
  }

  private layTensors(
    first: Tensor,
    second: Tensor | null,
    band: { readonly low: Tensor; readonly high: Tensor } | null,
    mask: Uint8Array | null,
    markOf: (mark: number) => number,
    laid: (cell: number) => void,
  ): void {
    for (let at = 0; at < this.size; at++) {
      const cell = at % this.cellCount;
      if (this.filled[at] === 1 || (mask !== null && mask[cell] === 0)) continue;
      const mark = markAt(first.mark, at);
      const other = second === null ? mark : markAt(second.mark, at);
      if (mark === Mark.missing && other === Mark.missing) continue;
      this.columns.first[at] = first.data[at]!;
      this.marks[at] = markOf(mark);
      if (second !== null) {
        this.columns.second[at] = second.data[at]!;
        this.secondMarks[at] = markOf(other);
      }
      if (band !== null && !Number.isNaN(band.low.data[at]!)) {
        this.banded = true;
        this.columns.bandLow[at] = band.low.data[at]!;
        this.columns.bandHigh[at] = band.high.data[at]!;
      }
      this.take(at, cell, laid);
    }
  }

  private layCurves(
    value: Extract<Value, { is: 'curves' }>,
    from: Int32Array,
    mask: Uint8Array | null,
    markOf: (mark: number) => number,
    laid: (cell: number) => void,
  ): void {
    for (let at = 0; at < this.size; at++) {
      const cell = at % this.cellCount;
      if (this.filled[at] === 1 || (mask !== null && mask[cell] === 0)) continue;
      const mark = markAt(value.mark, from[at]!);
      if (mark === Mark.missing) continue;
      this.curves[at] = value.curves[from[at]!]!;
      this.marks[at] = markOf(mark);
      this.take(at, cell, laid);
    }
  }

  private take(at: number, cell: number, laid: (cell: number) => void): void {
    this.filled[at] = 1;
    this.left--;
    if (at < this.cellCount) laid(cell);
  }

  private widen(lanes: Axis): void {
    const repeat = <T extends Float64Array | Uint8Array>(cells: T, made: T): T => {
      for (let lane = 0; lane < lanes.size; lane++) made.set(cells, lane * this.cellCount);
      return made;
    };
    const size = this.size * lanes.size;
    this.lanes = lanes;
    this.left *= lanes.size;
    this.filled = repeat(this.filled, new Uint8Array(size));
    this.marks = repeat(this.marks, new Uint8Array(size));
    this.secondMarks = repeat(this.secondMarks, new Uint8Array(size));
    for (const name of ['first', 'second', 'bandLow', 'bandHigh'] as const)
      this.columns[name] = repeat(this.columns[name], new Float64Array(size));
    const once = this.curves;
    this.curves = Array.from({ length: once.length === 0 ? 0 : size }, (_, at) => once[at % this.cellCount]!);
    this.size = size;
  }

  /** What was laid; cells without a figure are missing. */
  value(): Value {
    const { axes } = this;
    const tensor = (data: Float64Array, marks: Uint8Array): Tensor => ({ axes, data, mark: packed(marks) });
    if (this.shape === 'curves') return { is: 'curves', axes, curves: this.curves, mark: packed(this.marks) };
    if (this.shape === 'limits')
      return {
        is: 'limits',
        low: tensor(this.columns.first, this.marks),
        high: tensor(this.columns.second, this.secondMarks),
      };
    const { bandLow, bandHigh } = this.columns;
    const band = this.banded
      ? { low: { axes, data: bandLow, mark: null }, high: { axes, data: bandHigh, mark: null } }
      : null;
    return { is: 'numbers', tensor: tensor(this.columns.first, this.marks), band };
  }
}

function packed(marks: Uint8Array): Uint8Array | null {
  return marks.every((mark) => mark === Mark.exact) ? null : marks;
}

/** The value with every figure exact: missing and absent cells stay so. The value itself where it is that already. */
export function withoutStanding(value: Value): Value {
  if (value.is === 'curves') return value;
  if (value.is === 'limits') {
    const [low, high] = [exact(value.low), exact(value.high)];
    return low === value.low && high === value.high ? value : { ...value, low, high };
  }
  const tensor = exact(value.tensor);
  return tensor === value.tensor ? value : { ...value, tensor };
}

function exact(tensor: Tensor): Tensor {
  const { mark } = tensor;
  if (mark === null || mark.every((one) => one === Mark.exact || one >= Mark.missing)) return tensor;
  return { ...tensor, mark: mark.map((one) => (one >= Mark.missing ? one : Mark.exact)) };
}
