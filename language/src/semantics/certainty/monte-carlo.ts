/**
 * Many trials of one build, each with its unsure figures drawn by chance: the plan run in lanes.
 * Source: JCGM 101:2008 (propagation of distributions by a Monte Carlo method). What was chosen stays chosen.
 */
import type { Axis, Value } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { along, lanesId, sizeOf } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes, chosenOnes } from '../plan/sensitivities.ts';
import type { Source } from '../plan/unsure.ts';
import { Draws } from './draws.ts';
import { summaryOf } from './interval.ts';
import type { Summary } from './interval.ts';

/** A slot as measured, or an expression such as a side of a check. */
export type Quantity = { readonly slot: SlotId } | { readonly expr: Expr };

export interface Run {
  /** JCGM 101 7.2: 10^5 give two good digits of the ends of a 95 % interval, mostly. */
  readonly trials: number;
  readonly seed: number;
}

export const usual: Run = { trials: 100_000, seed: 1 };
const trialsAtOnce = 1024;

/** One quantity in all trials, SI. `columns`: by cell along `axes`, one figure an trial, NaN where a trial has none. */
export interface Simulated {
  readonly axes: readonly Axis[];
  readonly columns: readonly Float64Array[];
}

/** Any sizes of `run` are taken; the same run of the same build gives the same figures, whatever else is asked for with it. */
export function simulated(plan: Plan, quantities: readonly Quantity[], run: Run = usual): readonly Simulated[] {
  const draws = new Draws(plan.sensitivities().sources(), run.seed);
  const at = quantities.map((one) => read(plan, one));
  const found = at.map((value): Simulated => {
    const axes = axesWithoutLanes(value);
    return { axes, columns: Array.from({ length: sizeOf(axes) }, () => new Float64Array(run.trials)) };
  });
  for (let from = 0; from < run.trials; from += trialsAtOnce) {
    const trials = Math.min(trialsAtOnce, run.trials - from);
    const moved = inLanes(plan, draws, trials);
    quantities.forEach((one, which) => {
      lay(read(moved, one), found[which]!, from, trials);
    });
  }
  return found;
}

/** By quantity and cell. `share` of all trials lie in the intervals. */
export function summaries(
  plan: Plan,
  quantities: readonly Quantity[],
  run: Run = usual,
  share = 0.95,
): readonly { readonly axes: readonly Axis[]; readonly cells: readonly Summary[] }[] {
  return simulated(plan, quantities, run).map(({ axes, columns }) => ({
    axes,
    cells: columns.map((column) => summaryOf(column, share)),
  }));
}

/** What is drawn, and from what. */
export function sourcesOf(plan: Plan): readonly Source[] {
  return plan.sensitivities().sources();
}

function inLanes(plan: Plan, draws: Draws, trials: number): Plan {
  const overrides = [...draws.overrides(draws.next(trials)), ...chosenOnes(plan.schema)];
  return plan.withInputs(overrides, trials, 'unsure');
}

function read(plan: Plan, one: Quantity): Value {
  return 'slot' in one ? plan.valueOf(one.slot, 'measured').value : plan.watch(one.expr).value;
}

function lay(value: Value, into: Simulated, from: number, trials: number): void {
  const lanes = value.is === 'numbers' ? value.tensor.axes.find(({ id }) => id === lanesId) : undefined;
  const data = value.is === 'numbers' ? along(value.tensor, [...into.axes, ...(lanes ? [lanes] : [])]).data : null;
  into.columns.forEach((column, cell) => {
    if (data === null) column.fill(NaN, from, from + trials);
    else if (lanes === undefined) column.fill(data[cell]!, from, from + trials);
    else column.set(data.subarray(cell * trials, (cell + 1) * trials), from);
  });
}
