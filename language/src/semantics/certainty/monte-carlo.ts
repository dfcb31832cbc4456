/**
 * Many trials of one build, each with its unsure figures drawn by chance. Loops made from the plan do what they can, and must agree with the
 * interpreter on the first trials; the interpreter, with trials as lanes, does the rest. What was chosen stays chosen.
 * Source: JCGM 101:2008 (propagation of distributions by a Monte Carlo method).
 */
import type { Axis, Value } from '../evaluate/value.ts';
import { along, lanesId, sizeOf } from '../plan/cells.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes, chosenOnes } from '../plan/sensitivities.ts';
import { compile } from './compiled/compile.ts';
import type { Compiled, Quantity } from './compiled/compile.ts';
import { Draws } from './draws.ts';
import { summaryOf } from './interval.ts';
import type { Summary } from './interval.ts';

export type { Quantity } from './compiled/compile.ts';

export interface Run {
  /** JCGM 101 7.2: 10^5 give two good digits of the ends of a 95 % interval, mostly. */
  readonly trials: number;
  readonly seed: number;
  /** `interpreted`: the interpreter alone. */
  readonly how?: 'compiled' | 'interpreted';
}

export const usual: Run = { trials: 100_000, seed: 1 };
/** No power of two: columns beside each other would fall on the same lines of the nearest memory. */
const trialsAtOnce = 1000;
/** So many trials are worked out both ways. */
const checkedTrials = 16;
/** Of the greater: the interpreter adds the same figures in the same order, but for a sum's first nought. */
const agreement = 1e-12;

/** One quantity in all trials, SI. `columns`: by cell along `axes`, one figure a trial, NaN where a trial has none. */
export interface Simulated {
  readonly axes: readonly Axis[];
  readonly columns: readonly Float64Array[];
}

/** Any sizes of `run` are taken; the same run of the same build gives the same figures, whatever else is asked for with it. */
export function simulated(plan: Plan, quantities: readonly Quantity[], run: Run = usual): readonly Simulated[] {
  return simulation(plan, quantities, run).found;
}

/** With how many of the quantities were done by loops. */
export function simulation(
  plan: Plan,
  quantities: readonly Quantity[],
  run: Run = usual,
): { readonly found: readonly Simulated[]; readonly compiled: number } {
  const { sources, cells } = new Draws(plan.sensitivities().sources(), run.seed);
  const found = quantities.map((one): Simulated => {
    const axes = axesWithoutLanes(read(plan, one));
    return { axes, columns: Array.from({ length: sizeOf(axes) }, () => new Float64Array(run.trials)) };
  });
  const loops = run.how === 'interpreted' ? null : compile(plan, cells, quantities);
  const agreed = loops === null ? null : agreeing(plan, loops, quantities, new Draws(sources, run.seed));
  // what the loops do is compiled again without what they do not
  const quick = quantities.filter((_, at) => agreed?.[at] === true);
  const fast = quick.length === 0 ? null : compile(plan, cells, quick);
  const into = found.filter((_, at) => agreed?.[at] === true);
  const slow = quantities.flatMap((_, at) => (agreed?.[at] === true ? [] : [at]));
  const draws = new Draws(sources, run.seed);
  for (let from = 0; from < run.trials; from += trialsAtOnce) {
    const trials = Math.min(trialsAtOnce, run.trials - from);
    const drawn = draws.next(trials);
    fast?.run(
      drawn,
      trials,
      into.map(({ columns }) => columns.map((column) => column.subarray(from, from + trials))),
    );
    if (slow.length === 0) continue;
    const moved = inLanes(plan, draws, drawn, trials);
    for (const at of slow) lay(read(moved, quantities[at]!), found[at]!, from, trials);
  }
  return { found, compiled: quick.length };
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

/** By quantity: whether the loops give what the interpreter gives. */
function agreeing(plan: Plan, loops: Compiled, quantities: readonly Quantity[], draws: Draws): readonly boolean[] {
  const blank = (cells: number): Float64Array[] =>
    Array.from({ length: cells }, () => new Float64Array(checkedTrials).fill(NaN));
  const drawn = draws.next(checkedTrials);
  const byLoops = loops.traced.map((one) => (one === null ? null : blank(one.refs.length)));
  loops.run(drawn, checkedTrials, byLoops);
  const moved = inLanes(plan, draws, drawn, checkedTrials);
  return quantities.map((one, at) => {
    const cells = byLoops[at] ?? null;
    if (cells === null) return false;
    const value = read(moved, one);
    const axes = axesWithoutLanes(value);
    if (!sameAxes(axes, loops.traced[at]!.axes)) return false;
    const columns = blank(sizeOf(axes));
    lay(value, { axes, columns }, 0, checkedTrials);
    return columns.every((column, cell) => column.every((due, trial) => alike(cells[cell]![trial]!, due)));
  });
}

function sameAxes(a: readonly Axis[], b: readonly Axis[]): boolean {
  return a.length === b.length && a.every((axis, at) => axis.id === b[at]!.id && axis.size === b[at]!.size);
}

function alike(a: number, b: number): boolean {
  if (Number.isNaN(a) || Number.isNaN(b)) return Number.isNaN(a) && Number.isNaN(b);
  return Math.abs(a - b) <= agreement * Math.max(Math.abs(a), Math.abs(b));
}

function inLanes(plan: Plan, draws: Draws, drawn: readonly Float64Array[], trials: number): Plan {
  return plan.withInputs([...draws.overrides(drawn), ...chosenOnes(plan.schema)], trials, 'unsure');
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
