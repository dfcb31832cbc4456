/** A value put together cell by cell from others of the same shape: lists, branches, cells from a file. */
import { markAt, noAxes, numbers, tidyMarks, without } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Curve, Tensor, Value } from './value.ts';

/** Its shape is that of the first value laid into it. */
export class ValueBuilder {
  private readonly axes: readonly Axis[];
  private readonly cells: number;
  private shape: Value['is'] | null = null;
  private readonly first: Float64Array;
  private readonly mark: Uint8Array;
  private second: Float64Array | null = null;
  private secondMark: Uint8Array | null = null;
  private bandLow: Float64Array | null = null;
  private bandHigh: Float64Array | null = null;
  private curves: (Curve | null)[] | null = null;

  constructor(axes: readonly Axis[], cells: number) {
    this.axes = axes;
    this.cells = cells;
    this.first = this.empty();
    this.mark = new Uint8Array(cells).fill(Mark.missing);
  }

  /** A cell without a figure. */
  leave(cell: number, mark: number): void {
    this.mark[cell] = mark;
    if (this.secondMark !== null) this.secondMark[cell] = mark;
  }

  /** The cell `source` of `value`, with a mark of at least `least`. */
  copy(cell: number, value: Value, source: number, least: number): void {
    if (this.shape === null) this.take(value.is);
    if (value.is !== this.shape) return;
    switch (value.is) {
      case 'numbers':
        this.first[cell] = this.put(this.mark, cell, value.tensor, source, least);
        if (value.band !== null) this.copyBand(cell, value.band.low.data[source]!, value.band.high.data[source]!);
        break;
      case 'limits':
        this.first[cell] = this.put(this.mark, cell, value.low, source, least);
        this.second![cell] = this.put(this.secondMark!, cell, value.high, source, least);
        break;
      case 'curves': {
        const mark = Math.max(least, markAt(value.mark, source));
        this.mark[cell] = mark;
        this.curves![cell] = mark >= Mark.missing ? null : value.curves[source]!;
      }
    }
  }

  done(): Value {
    if (this.cells === 0 && this.shape === null) return numbers(without(noAxes));
    const tensor: Tensor = { axes: this.axes, data: this.first, mark: tidyMarks(this.mark) };
    if (this.shape === 'limits') {
      return {
        is: 'limits',
        low: tensor,
        high: { axes: this.axes, data: this.second!, mark: tidyMarks(this.secondMark!) },
      };
    }
    if (this.shape === 'curves') return { is: 'curves', axes: this.axes, curves: this.curves!, mark: tensor.mark };
    return numbers(
      tensor,
      this.bandLow === null ? null : { low: this.bare(this.bandLow), high: this.bare(this.bandHigh!) },
    );
  }

  private take(shape: Value['is']): void {
    this.shape = shape;
    if (shape === 'limits') {
      this.second = this.empty();
      this.secondMark = this.mark.slice();
    }
    if (shape === 'curves') this.curves = Array.from<unknown, Curve | null>({ length: this.cells }, () => null);
  }

  private put(marks: Uint8Array, cell: number, from: Tensor, source: number, least: number): number {
    const mark = Math.max(least, markAt(from.mark, source));
    marks[cell] = mark;
    return mark >= Mark.missing ? NaN : from.data[source]!;
  }

  private copyBand(cell: number, low: number, high: number): void {
    this.bandLow ??= this.empty();
    this.bandHigh ??= this.empty();
    this.bandLow[cell] = low;
    this.bandHigh[cell] = high;
  }

  private empty(): Float64Array {
    return new Float64Array(this.cells).fill(NaN);
  }

  private bare(data: Float64Array): Tensor {
    return { axes: this.axes, data, mark: null };
  }
}
