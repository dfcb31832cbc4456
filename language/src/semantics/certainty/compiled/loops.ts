/** A graph as loops over columns, one column for every figure that leaves its loop. Long work is cut into several loops, so that each is made fast. */
import { codeOf, functionOf } from './graph.ts';
import type { Graph, Ref } from './graph.ts';

/** Figures by number, one a trial. */
export type Columns = (Float64Array | undefined)[];
type Loop = (trials: number, columns: Columns) => void;

/** Few columns at a time stay in the nearest memory. */
const columnsAtOnce = 20;
const stepsAtOnce = 200;

export interface Loops {
  /** Figures that need a column: those that are drawn, those that are wanted, those that pass from one loop to another. */
  readonly columns: readonly Ref[];
  run(trials: number, columns: Columns): void;
}

export function loopsOf(graph: Graph, wanted: readonly Ref[]): Loops {
  const needed = neededFor(graph, wanted);
  const open = new Set(wanted.filter((ref) => !graph.isConstant(ref)));
  const groups = grouped(graph, nearestTogether(graph, needed), open);
  const groupOf = new Map(groups.flatMap((work, group) => work.map((ref) => [ref, group] as const)));
  const stored = new Set(open);
  for (const ref of needed) {
    if (!groupOf.has(ref)) stored.add(ref);
    for (const arg of argsOf(graph, ref)) if (groupOf.get(arg) !== groupOf.get(ref)) stored.add(arg);
  }
  const loops = groups.map((work) => loopOf(graph, work, stored));
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

/** Steps in an order in which each comes soon after what it is made of, and soon before what is made of it. */
function nearestTogether(graph: Graph, needed: readonly Ref[]): readonly Ref[] {
  const usedBy = new Map<Ref, Ref[]>();
  const waiting = new Map<Ref, number>();
  for (const ref of needed) {
    const args = [...new Set(argsOf(graph, ref))];
    waiting.set(ref, args.length);
    for (const arg of args) {
      const users = usedBy.get(arg) ?? [];
      users.push(ref);
      usedBy.set(arg, users);
    }
  }
  const done = new Set<Ref>();
  const order: Ref[] = [];
  const open: Ref[] = [];
  for (const root of needed.toReversed()) {
    open.push(root);
    for (let ref = open.at(-1); ref !== undefined; ref = open.at(-1)) {
      const under = done.has(ref) ? undefined : argsOf(graph, ref).find((arg) => !done.has(arg));
      if (under !== undefined) {
        open.push(under);
        continue;
      }
      open.pop();
      if (done.has(ref)) continue;
      done.add(ref);
      if (graph.made[ref]!.step !== null) order.push(ref);
      for (const user of usedBy.get(ref) ?? []) {
        const left = waiting.get(user)! - 1;
        waiting.set(user, left);
        if (left === 0) open.push(user);
      }
    }
  }
  return order;
}

function grouped(graph: Graph, order: readonly Ref[], wanted: ReadonlySet<Ref>): readonly (readonly Ref[])[] {
  const groups: Ref[][] = [];
  let [here, columns] = [new Set<Ref>(), new Set<Ref>()];
  for (const ref of order) {
    const touched = [...argsOf(graph, ref).filter((arg) => !here.has(arg)), ...(wanted.has(ref) ? [ref] : [])];
    const more = touched.filter((one) => !columns.has(one)).length;
    if (groups.length === 0 || here.size >= stepsAtOnce || columns.size + more > columnsAtOnce) {
      groups.push([]);
      [here, columns] = [new Set<Ref>(), new Set(argsOf(graph, ref))];
    }
    groups.at(-1)!.push(ref);
    here.add(ref);
    for (const one of touched) columns.add(one);
  }
  return groups;
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
