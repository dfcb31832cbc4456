/** Running totals of a reduction, one a result cell. Cells come in order; knows no axes. */
import type { Reduction } from '../ir.ts';
import { markAt, tidyMarks } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Tensor } from './value.ts';

export type Tallied = Exclude<Reduction, 'least' | 'most' | 'least-at' | 'most-at'>;

export class Tally {
  private readonly name: Tallied;
  /** Flags are counted where true, other figures where they are there. */
  private readonly flags: boolean;
  private readonly counted: Int32Array;
  private readonly sum: Float64Array;
  private readonly least: Float64Array;
  private readonly most: Float64Array;
  private readonly place: Float64Array;
  private readonly lastX: Float64Array;
  private readonly lastY: Float64Array;
  private readonly mark: Uint8Array;
  private readonly missing: Uint8Array;
  private readonly absent: Uint8Array;
  private readonly decided: Uint8Array;

  constructor(name: Tallied, cells: number, flags: boolean) {
    this.name = name;
    this.flags = flags;
    this.counted = new Int32Array(cells);
    this.sum = new Float64Array(cells);
    this.least = new Float64Array(cells).fill(Infinity);
    this.most = new Float64Array(cells).fill(-Infinity);
    this.place = new Float64Array(cells).fill(NaN);
    this.lastX = new Float64Array(cells);
    this.lastY = new Float64Array(cells);
    this.mark = new Uint8Array(cells);
    this.missing = new Uint8Array(cells);
    this.absent = new Uint8Array(cells);
    this.decided = new Uint8Array(cells);
  }

  /** One cell for the result `to`, if `where` is true there. */
  take(to: number, figures: Tensor, where: Tensor | null, cell: number, place: number, x: number): void {
    if (where !== null && !this.selected(to, where, cell)) return;
    const mark = markAt(figures.mark, cell);
    if (mark === Mark.absent) this.absent[to] = 1;
    else if (mark === Mark.missing) this.missing[to] = 1;
    else {
      this.weigh(to, mark);
      this.add(to, figures.data[cell]!, place, x);
    }
  }

  private selected(to: number, where: Tensor, cell: number): boolean {
    const mark = markAt(where.mark, cell);
    if (mark === Mark.absent) return false;
    if (mark === Mark.missing) {
      this.missing[to] = 1;
      return false;
    }
    this.weigh(to, mark);
    return where.data[cell] !== 0;
  }

  weigh(to: number, mark: number): void {
    if (mark > this.mark[to]! && mark < Mark.missing) this.mark[to] = mark;
  }

  /** A cell that may belong here or not. */
  lose(to: number, mark: number): void {
    if (mark === Mark.absent) this.absent[to] = 1;
    else this.missing[to] = 1;
  }

  private add(to: number, figure: number, place: number, x: number): void {
    const first = this.counted[to]!++ === 0;
    switch (this.name) {
      case 'sum':
      case 'mean':
        this.sum[to]! += figure;
        break;
      case 'count':
        this.sum[to]! += this.flags ? figure : 1;
        break;
      case 'min':
      case 'max':
      case 'spread':
      case 'where-least':
      case 'where-most':
        if (figure < this.least[to]!) {
          this.least[to] = figure;
          if (this.name === 'where-least') this.place[to] = place;
        }
        if (figure > this.most[to]!) {
          this.most[to] = figure;
          if (this.name === 'where-most') this.place[to] = place;
        }
        break;
      case 'any':
        if (figure !== 0) this.decided[to] = 1;
        break;
      case 'all':
        if (figure === 0) this.decided[to] = 1;
        break;
      case 'where-first':
        if (figure !== 0 && this.decided[to] === 0 && this.missing[to] === 0) {
          this.place[to] = place;
          this.decided[to] = 1;
        }
        break;
      case 'area':
        if (!first) this.sum[to]! += ((figure + this.lastY[to]!) / 2) * (x - this.lastX[to]!);
        this.lastX[to] = x;
        this.lastY[to] = figure;
        break;
    }
  }

  result(axes: readonly Axis[]): Tensor {
    const data = new Float64Array(this.counted.length);
    for (let to = 0; to < data.length; to++) {
      data[to] = this.figure(to);
      if (Number.isNaN(data[to])) this.mark[to] = this.lost(to);
    }
    return { axes, data, mark: tidyMarks(this.mark) };
  }

  private lost(to: number): number {
    if (this.missing[to] === 1) return Mark.missing;
    return this.counted[to] === 0 ? Mark.absent : Mark.missing;
  }

  private figure(to: number): number {
    const asks = this.name === 'any' || this.name === 'all' || this.name === 'where-first';
    if (this.missing[to] === 1 && !(asks && this.decided[to] === 1)) return NaN;
    if (this.counted[to] === 0) {
      return (this.name === 'sum' || this.name === 'count') && this.absent[to] === 0 ? 0 : NaN;
    }
    switch (this.name) {
      case 'sum':
      case 'count':
      case 'area':
        return this.sum[to]!;
      case 'mean':
        return this.sum[to]! / this.counted[to]!;
      case 'min':
        return this.least[to]!;
      case 'max':
        return this.most[to]!;
      case 'spread':
        return this.most[to]! - this.least[to]!;
      case 'any':
        return this.decided[to]!;
      case 'all':
        return 1 - this.decided[to]!;
      default:
        return this.place[to]!;
    }
  }
}
