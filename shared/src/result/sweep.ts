// What `thou sweep --format json` writes: one figure at many sizes of another, as it is drawn.
import type { Chart } from '../drawing/chart.ts';

export interface SweepResult {
  readonly format: 1;
  readonly thou: string;
  readonly build: string;
  /** The figure that is looked at, and the one that is changed. */
  readonly path: string;
  readonly over: string;
  readonly chart: Chart;
}
