/** Sums, means and extremes over axes, as steps. Which cells belong where must be known beforehand; else the interpreter does it. */
import { stridesOf, unionAxes, unionOf } from '../../evaluate/broadcast.ts';
import { cellsAlong } from '../../evaluate/tensor.ts';
import type { Axis } from '../../evaluate/value.ts';
import type { Reduce } from '../../ir.ts';
import { along, NotHere, wide } from './cells.ts';
import type { Cells } from './cells.ts';
import { absent, missing } from './graph.ts';
import type { Graph, Ref } from './graph.ts';

export interface Wanted {
  readonly of: Cells;
  readonly where: Cells | null;
  readonly by: { readonly index: Cells; readonly to: Axis } | null;
  readonly over: readonly Axis[];
}

export function reduced(graph: Graph, expr: Reduce, { of, where, by, over: named }: Wanted): Cells {
  const present = unionOf([of.axes, where?.axes ?? [], by?.index.axes ?? []]);
  const over = named.map((axis) => present.find(({ id }) => id === axis.id) ?? axis);
  const rest = present.filter((axis) => !over.includes(axis));
  const all = [...rest, ...over];
  const figures = wide(of, all);
  const conditions = where === null ? null : wide(where, all);
  const run = cellsAlong(over);
  const axes = by === null ? rest : unionAxes(rest, [by.to]);
  const buckets = Array.from({ length: cellsAlong(axes) }, (): Ref[] => []);
  const groups = by === null ? null : groupsOf(graph, wide(by.index, all), by.to, rest, axes);
  figures.forEach((ref, cell) => {
    const row = Math.floor(cell / run);
    const bucket = groups === null ? row : groups(row, cell);
    if (bucket === null) return;
    const kept = conditions === null ? ref : selected(graph, expr, ref, conditions[cell]!);
    if (kept !== null) buckets[bucket]!.push(kept);
  });
  const flags = expr.of.type.value.is === 'flag';
  return along(axes, (cell) => tallied(graph, expr.function, buckets[cell]!, flags));
}

/** Null where the cell is left out. */
function selected(graph: Graph, expr: Reduce, ref: Ref, condition: Ref): Ref | null {
  if (condition === absent) return null;
  if (condition === missing) return missing;
  if (graph.isConstant(condition)) return graph.figure(condition) === 0 ? null : ref;
  if (expr.function !== 'sum') throw new NotHere('which cells count is not known beforehand');
  return graph.step('choose', condition, ref, graph.constant(0));
}

type Groups = (row: number, cell: number) => number | null;

function groupsOf(graph: Graph, index: readonly Ref[], to: Axis, rest: readonly Axis[], axes: readonly Axis[]): Groups {
  if (rest.includes(to)) throw new NotHere('grouped along its own axis');
  const stride = stridesOf(axes, [to])[0]!;
  return (row, cell) => {
    const ref = index[cell]!;
    if (ref <= absent || !graph.isConstant(ref)) throw new NotHere('a group that is not known beforehand');
    const group = graph.figure(ref);
    // `to` comes last among the axes
    return group < 0 || group >= to.size ? null : row * to.size + group * stride;
  };
}

function tallied(graph: Graph, name: Reduce['function'], found: readonly Ref[], flags: boolean): Ref {
  if (found.includes(missing)) return missing;
  const refs = found.filter((ref) => ref !== absent);
  const fold = (step: 'add' | 'smallest' | 'largest' | 'and' | 'or'): Ref =>
    refs.reduce((a, b) => graph.step(step, a, b));
  if (refs.length === 0) return (name === 'sum' || name === 'count') && found.length === 0 ? graph.constant(0) : absent;
  switch (name) {
    case 'sum':
      return fold('add');
    case 'mean':
      return graph.step('divide', fold('add'), graph.constant(refs.length));
    case 'count':
      return flags ? fold('add') : graph.constant(refs.length);
    case 'min':
      return fold('smallest');
    case 'max':
      return fold('largest');
    case 'spread':
      return graph.step('subtract', fold('largest'), fold('smallest'));
    case 'any':
      return fold('or');
    case 'all':
      return fold('and');
    default:
      throw new NotHere(name);
  }
}
