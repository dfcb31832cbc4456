/** Quantities of a plan as loops over drawn figures: those that can be followed. Where functions may not be made at run time, none. */
import type { Expr, SlotId } from '../../ir.ts';
import type { Plan } from '../../plan/run.ts';
import type { DrawnCell } from '../draws.ts';
import { NotHere } from './cells.ts';
import type { Cells } from './cells.ts';
import { Moved } from './dirty.ts';
import { DrawnFigures } from './drawn.ts';
import { functionOf, Graph } from './graph.ts';
import type { Ref } from './graph.ts';
import { loopsOf } from './loops.ts';
import type { Columns, Loops } from './loops.ts';
import { Tracing } from './tracing.ts';

/** A slot as measured, or an expression such as a side of a check. */
export type Quantity = { readonly slot: SlotId } | { readonly expr: Expr };

export interface Compiled {
  /** By quantity; null where the interpreter has to do it. */
  readonly traced: readonly (Cells | null)[];
  /** Works out `into[quantity][cell]`, from the first to `trials`, from the drawn columns in the order of the drawn cells. */
  run(drawn: readonly Float64Array[], trials: number, into: readonly (readonly Float64Array[] | null)[]): void;
}

export function compile(plan: Plan, drawn: readonly DrawnCell[], quantities: readonly Quantity[]): Compiled | null {
  if (!mayMakeFunctions()) return null;
  const graph = new Graph();
  const inputs = drawn.map(() => graph.drawn());
  const figures = new DrawnFigures(plan.clock.blocks, drawn, inputs);
  const tracing = new Tracing(plan, graph, figures, new Moved(plan, figures));
  const traced = quantities.map((one) => followed(tracing, one));
  const wanted = [...new Set(traced.flatMap((one) => one?.refs ?? []))];
  const loops = loopsOf(graph, wanted);
  const columns: Columns = [];
  return {
    traced,
    run(figures, trials, into) {
      inputs.forEach((ref, at) => (columns[ref] = figures[at]));
      work(graph, loops, columns, { traced, trials, into });
    },
  };
}

function followed(tracing: Tracing, one: Quantity): Cells | null {
  try {
    return 'slot' in one ? tracing.slot(one.slot) : tracing.expr(one.expr);
  } catch (problem) {
    if (problem instanceof NotHere) return null;
    throw problem;
  }
}

interface Batch {
  readonly traced: readonly (Cells | null)[];
  readonly trials: number;
  readonly into: readonly (readonly Float64Array[] | null)[];
}

/** Loops write straight into what is wanted, the first time that it is; what is wanted twice is copied. */
function work(graph: Graph, loops: Loops, columns: Columns, { traced, trials, into }: Batch): void {
  const straight = new Map<Ref, Float64Array>();
  traced.forEach((cells, which) => {
    cells?.refs.forEach((ref, cell) => {
      const column = into[which]![cell]!;
      if (graph.isConstant(ref)) column.fill(graph.figure(ref), 0, trials);
      else if (graph.made[ref]!.step !== null && !straight.has(ref)) straight.set(ref, column);
    });
  });
  for (const ref of loops.columns) {
    const column = straight.get(ref) ?? columns[ref];
    columns[ref] = column === undefined || column.length < trials ? new Float64Array(trials) : column;
  }
  loops.run(trials, columns);
  traced.forEach((cells, which) => {
    cells?.refs.forEach((ref, cell) => {
      const column = into[which]![cell]!;
      if (!graph.isConstant(ref) && columns[ref] !== column) column.set(columns[ref]!.subarray(0, trials));
    });
  });
  for (const ref of straight.keys()) columns[ref] = undefined;
}

function mayMakeFunctions(): boolean {
  try {
    return functionOf([], 'return 1;')() === 1;
  } catch {
    return false;
  }
}
