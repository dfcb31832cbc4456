/** Signs, functions, choices and places between cells that are followed, as steps of the graph. What hangs on what is drawn and cannot be a step is left to the interpreter. */
import { unionAxes } from '../../evaluate/broadcast.ts';
import { cellsAlong } from '../../evaluate/tensor.ts';
import type { BinaryOp, Elementwise, Expr } from '../../ir.ts';
import { cellsFrom } from '../../plan/cells.ts';
import { along, NotHere, together, wide } from './cells.ts';
import type { Cells } from './cells.ts';
import { absent, missing } from './graph.ts';
import type { Graph, Ref, Step } from './graph.ts';

const single: ReadonlySet<string> = new Set('abs sign sqrt exp log log10 sin cos tan asin acos atan'.split(' '));
const paired: ReadonlySet<string> = new Set(['largest', 'smallest', 'hypot', 'atan2']);
/** Of the size of the limit: the interpreter's own. */
const tolerance = 1e-9;

export function binary(graph: Graph, { operator, left, right }: BinaryOp, of: (expr: Expr) => Cells): Cells {
  const a = of(left);
  if (operator === 'otherwise') {
    if (!a.refs.includes(absent)) return a;
    return together([a, of(right)], (x, y) => (x === absent ? y! : x!));
  }
  const both = (step: (x: Ref, y: Ref) => Ref): Cells => together([a, of(right)], (x, y) => step(x!, y!));
  const exact = left.type.value.is !== 'measure' && right.type.value.is !== 'measure';
  const r = graph.constant(exact ? 0 : tolerance);
  switch (operator) {
    case '+':
      return both((x, y) => graph.step('add', x, y));
    case '-':
      return both((x, y) => graph.step('subtract', x, y));
    case '*':
      return both((x, y) => graph.step('multiply', x, y));
    case '/':
      return both((x, y) => graph.step('divide', x, y));
    case '^':
      return power(graph, a, of(right));
    case '==':
      return both((x, y) => graph.step('same', x, y, r));
    case '!=':
      return both((x, y) => graph.step('not', graph.step('same', x, y, r)));
    case '<=':
      return both((x, y) => graph.step('atMost', x, y, r));
    case '>':
      return both((x, y) => graph.step('not', graph.step('atMost', x, y, r)));
    case '>=':
      return both((x, y) => graph.step('atMost', y, x, r));
    case '<':
      return both((x, y) => graph.step('not', graph.step('atMost', y, x, r)));
    case 'and':
    case 'or':
      return both((x, y) => {
        if (x <= absent || y <= absent) throw new NotHere('a side that is missing');
        return graph.step(operator, x, y);
      });
  }
}

function power(graph: Graph, a: Cells, b: Cells): Cells {
  const by = b.axes.length === 0 ? graph.figure(b.refs[0]!) : NaN;
  if (by === 2) return together([a], (x) => graph.step('square', x!));
  if (by === 3) return together([a], (x) => graph.step('cube', x!));
  return together([a, b], (x, y) => graph.step('power', x!, y!));
}

export function applied(graph: Graph, name: Elementwise, args: readonly Cells[]): Cells {
  if (args.length === 1 && single.has(name)) return together(args, (x) => graph.step(name as Step, x!));
  if (args.length > 1 && paired.has(name))
    return args.reduce((a, b) => together([a, b], (x, y) => graph.step(name as Step, x!, y!)));
  throw new NotHere(name);
}

/** Only the case that is taken counts. Which one it is may hang on what is drawn where there are two. */
export function chosen(
  graph: Graph,
  subject: Cells,
  caseOf: (figure: number) => Expr | null,
  of: (expr: Expr) => Cells,
  open: readonly [Expr, Expr] | null,
): Cells {
  const taken = subject.refs.map((ref) => {
    if (ref <= absent) return null;
    if (graph.isConstant(ref)) return caseOf(graph.figure(ref));
    if (open === null) throw new NotHere('a choice that is not known beforehand');
    return undefined;
  });
  const used = new Set(taken.flatMap((one) => (one === undefined ? open! : one === null ? [] : [one])));
  const cases = new Map([...used].map((one) => [one, of(one)]));
  const axes = [...cases.values()].map((one) => one.axes).reduce(unionAxes, subject.axes);
  const laid = new Map([...cases].map(([one, cells]) => [one, wide(cells, axes)]));
  const conditions = wide(subject, axes);
  const which = wide({ axes: subject.axes, refs: taken.map((_, cell) => cell) }, axes);
  return along(axes, (cell) => {
    const one = taken[which[cell]!];
    if (one === null) return Math.max(missing, conditions[cell]! <= absent ? conditions[cell]! : missing);
    if (one !== undefined) return laid.get(one)![cell]!;
    const [yes, no] = open!.map((each) => laid.get(each)![cell]!);
    if (yes === absent || no === absent) throw new NotHere('a case that does not apply');
    return graph.step('choose', conditions[cell]!, yes!, no!);
  });
}

export function gathered(graph: Graph, of: Cells, axisId: number, index: Cells): Cells {
  const axis = of.axes.find(({ id }) => id === axisId);
  const rest = of.axes.filter((one) => one !== axis);
  const axes = unionAxes(rest, index.axes);
  const places = wide(index, axes);
  if (axis === undefined || places.some((ref) => !graph.isConstant(ref)))
    throw new NotHere('a place that is not known beforehand');
  // the axis that goes is another one from here on, also where the index runs along it
  const apart = of.axes.map((one) => (one === axis ? { ...one, id: Number.NaN } : one));
  const base = cellsFrom(apart, axes);
  const stride = cellsAlong(of.axes.slice(of.axes.indexOf(axis) + 1));
  return along(axes, (cell) => {
    const place = places[cell]!;
    if (place <= absent) return place;
    const at = Math.round(graph.figure(place));
    return at >= 0 && at < axis.size ? of.refs[base[cell]! + at * stride]! : missing;
  });
}
