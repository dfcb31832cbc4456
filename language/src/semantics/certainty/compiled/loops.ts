/** A graph as loops over columns, one column for every figure that leaves its loop. Long work is cut into several loops, so that each is made fast. */
import { codeOf, functionOf } from './graph.ts';
import type { Graph, Ref } from './graph.ts';

/** Figures by number, one a trial. */
export type Columns = (Float64Array | undefined)[];
type Loop = (trials: number, columns: Columns) => void;

const stepsAtOnce = 600;

export interface Loops {
  /** Figures that need a column: those that are drawn, those that are wanted, those that pass from one loop to another. */
  readonly columns: readonly Ref[];
  run(trials: number, columns: Columns): void;
}

export function loopsOf(graph: Graph, wanted: readonly Ref[]): Loops {
  const needed = neededFor(graph, wanted);
  const work = needed.filter((ref) => graph.made[ref]!.step !== null);
  const loopAt = new Map(work.map((ref, at) => [ref, Math.floor(at / stepsAtOnce)]));
  const stored = new Set(wanted.filter((ref) => !graph.isConstant(ref)));
  for (const ref of needed) {
    if (!loopAt.has(ref)) stored.add(ref);
    for (const arg of argsOf(graph, ref)) if (loopAt.get(arg) !== loopAt.get(ref)) stored.add(arg);
  }
  const loops: Loop[] = [];
  for (let from = 0; from < work.length; from += stepsAtOnce)
    loops.push(loopOf(graph, work.slice(from, from + stepsAtOnce), stored));
  return {
    columns: [...stored],
    run(trials, columns) {
      for (const loop of loops) loop(trials, columns);
    },
  };
}

/** What is not constant among these and under them, earlier ones first. */
function neededFor(graph: Graph, wanted: readonly Ref[]): readonly Ref[] {
  const found = new Set<Ref>();
  const open = wanted.filter((ref) => !graph.isConstant(ref));
  for (let ref = open.pop(); ref !== undefined; ref = open.pop()) {
    if (found.has(ref)) continue;
    found.add(ref);
    open.push(...argsOf(graph, ref));
  }
  return [...found].sort((a, b) => a - b);
}

function argsOf(graph: Graph, ref: Ref): readonly Ref[] {
  return graph.made[ref]!.args.filter((arg) => !graph.isConstant(arg));
}

function loopOf(graph: Graph, work: readonly Ref[], stored: ReadonlySet<Ref>): Loop {
  const here = new Set(work);
  const read = new Set(work.flatMap((ref) => argsOf(graph, ref).filter((arg) => !here.has(arg))));
  const written = work.filter((ref) => stored.has(ref));
  const operand = (ref: Ref): string => (graph.isConstant(ref) ? literal(graph.figure(ref)) : `v${ref}`);
  const code = [
    ...[...read, ...written].map((ref) => `const c${ref} = columns[${ref}];`),
    'for (let t = 0; t < trials; t++) {',
    ...[...read].map((ref) => `const v${ref} = c${ref}[t];`),
    ...work.map((ref) => {
      const { step, args } = graph.made[ref]!;
      return `const v${ref} = ${codeOf(step!, args.map(operand))};${stored.has(ref) ? ` c${ref}[t] = v${ref};` : ''}`;
    }),
    '}',
  ];
  return functionOf(['trials', 'columns'], code.join('\n')) as Loop;
}

function literal(figure: number): string {
  return Number.isNaN(figure) ? 'NaN' : Object.is(figure, -0) ? '(-0)' : `(${figure})`;
}
