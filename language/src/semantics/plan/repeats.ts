/**
 * How much several readings of one figure scatter: the experimental standard deviation of their mean.
 * Source: JCGM 100:2008, 4.2.2 and 4.2.3.
 */
import type { Expr, Repeated } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import { cellsFrom, sizeOf } from './cells.ts';
import type { Figure } from './figures.ts';
import type { Plan } from './run.ts';
import { axesOf } from './workings.ts';

/** By cell of the slot; NaN where nothing was read more than once. Null where nothing at all was. */
export function scatterOf(plan: Plan, slot: Slot, figure: Figure): Float64Array | null {
  const expr = scatterIn(figure.source.value, (one) => deviationOfMean(plan, slot, figure, one));
  const value = expr === null ? null : plan.inspect(expr, slot, figure);
  if (value?.is !== 'numbers') return null;
  const axes = axesOf(plan, slot);
  const from = cellsFrom(value.tensor.axes, axes);
  return Float64Array.from({ length: sizeOf(axes) }, (_, cell) => value.tensor.data[from[cell]!]!);
}

/** The same list with the scatter in the place of what was repeated. */
function scatterIn(expr: Expr, deviation: (repeated: Repeated) => number): Expr | null {
  const figure = (value: number): Expr => ({ op: 'constant', value, type: expr.type, at: expr.at });
  if (expr.op === 'repeated') return figure(deviation(expr));
  if (expr.op !== 'list') return null;
  const inner = [...expr.entries.map(({ value }) => value), ...(expr.others === null ? [] : [expr.others])];
  const found = new Map(inner.map((one) => [one, scatterIn(one, deviation)]));
  if ([...found.values()].every((one) => one === null)) return null;
  const laid = (one: Expr): Expr => found.get(one) ?? figure(NaN);
  return {
    ...expr,
    entries: expr.entries.map(({ key, value }) => ({ key, value: laid(value) })),
    others: expr.others === null ? null : laid(expr.others),
  };
}

function deviationOfMean(plan: Plan, slot: Slot, figure: Figure, { readings }: Repeated): number {
  const read = readings.map((one) => {
    const value = plan.inspect(one, slot, figure);
    return value.is === 'numbers' && value.tensor.data.length === 1 ? value.tensor.data[0]! : NaN;
  });
  if (read.length < 2) return NaN;
  const mean = read.reduce((sum, one) => sum + one, 0) / read.length;
  const squares = read.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return Math.sqrt(squares / (read.length - 1) / read.length);
}
