// What `thou chance --format json` writes: one figure in many trials, its unsure figures drawn by chance.
import type { At } from './contract.ts';

export interface ChanceCell {
  readonly at: At;
  /** As worked out, and its standard uncertainty to first order; null where it is sure. */
  readonly figure: number | null;
  readonly uncertainty: number | null;
  /** Of the trials; null where none has a figure. */
  readonly mean: number | null;
  readonly deviation: number | null;
  /** Holds `share` of the trials, as much below as above. */
  readonly interval: readonly [number, number] | null;
  /** The shortest that does. */
  readonly shortest: readonly [number, number] | null;
  /** Share of the trials inside the limits as they stand; null where there are none. */
  readonly inside: number | null;
}
export interface ChanceResult {
  readonly format: 1;
  readonly thou: string;
  readonly build: string;
  readonly path: string;
  readonly unit: string | null;
  readonly trials: number;
  readonly seed: number;
  readonly share: number;
  readonly cells: readonly ChanceCell[];
}
