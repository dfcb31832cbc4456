/** What an expression is: the sort of value and the axes it varies over. Knows nothing of a build's sizes. */
import type { Measure } from '@thou/shared/dimension/types';

/** Axes are numbered within one schema. */
export type AxisId = number;

export type ValueType =
  | { readonly is: 'measure'; readonly measure: Measure }
  | { readonly is: 'limits'; readonly measure: Measure }
  | { readonly is: 'flag' }
  | { readonly is: 'text' }
  | { readonly is: 'date' }
  | { readonly is: 'choice'; readonly names: readonly string[] }
  | { readonly is: 'index'; readonly axis: AxisId }
  | { readonly is: 'curve'; readonly result: Measure; readonly against: readonly Measure[] }
  | { readonly is: 'part'; readonly component: string }
  /** A property that takes a quantity of any dimension. */
  | { readonly is: 'any' }
  /** Already reported: fits everywhere, so that one mistake gives one message. */
  | { readonly is: 'unsettled' };

export interface ExprType {
  readonly value: ValueType;
  /** Without order: values combine by axis, not by place. */
  readonly axes: readonly AxisId[];
}
