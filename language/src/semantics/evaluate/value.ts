/**
 * What the evaluator computes with: figures along named axes. Row-major, first axis outermost.
 * `mark` says for each cell what the figure is worth; the greater mark wins when figures combine.
 */
import type { Unit } from '@thou/shared/unit/unit';
import type { AxisId } from '../types/type.ts';

/** An axis of one build, its size settled. Two axes are the same only if they are the same object. */
export interface Axis {
  /** -1 for lanes: the runs of one plan with other inputs beside each other. */
  readonly id: AxisId;
  readonly name: string;
  readonly size: number;
  readonly labels: readonly string[] | null;
  /** SI, one a place (1, 2, 3 … where places are only counted). */
  readonly coordinates: Float64Array;
  /** In which its places are told: that of its step. */
  readonly unit?: Unit;
}

export const Mark = {
  /** A definition, a setting, a limit: nothing to measure. */
  exact: 0,
  measured: 1,
  carriedOver: 2,
  ordered: 3,
  specified: 4,
  missing: 5,
  absent: 6,
} as const;

export interface Tensor {
  readonly axes: readonly Axis[];
  readonly data: Float64Array;
  /** One a cell; null where all cells are exact. Data of missing and absent cells is NaN. */
  readonly mark: Uint8Array | null;
}

export interface Numbers {
  readonly is: 'numbers';
  readonly tensor: Tensor;
  /** Toleranced: the ends of the band; NaN where a cell has none. Same axes as `tensor`. */ readonly band: {
    readonly low: Tensor;
    readonly high: Tensor;
  } | null;
}
/** Open ends are ±Infinity. */
export interface LimitsValue {
  readonly is: 'limits';
  readonly low: Tensor;
  readonly high: Tensor;
}
/** Rises strictly. Values in SI; for two arguments values are rows by first key. */
export interface Curve {
  readonly keys: readonly Float64Array[];
  readonly values: Float64Array;
  readonly kind: 'linear' | 'log' | 'monotone' | 'smooth' | null;
  readonly clamped: boolean;
  /** order of derivative taken */ readonly derivative: number;
}
export interface Curves {
  readonly is: 'curves';
  readonly axes: readonly Axis[];
  readonly curves: readonly (Curve | null)[];
  readonly mark: Uint8Array | null;
}
export type Value = Numbers | LimitsValue | Curves;
