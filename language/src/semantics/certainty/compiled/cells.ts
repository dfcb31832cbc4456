/** Figures of a graph along axes: what a tensor is to the interpreter. */
import { mapBetween, unionAxes } from '../../evaluate/broadcast.ts';
import { cellsAlong, markAt } from '../../evaluate/tensor.ts';
import { Mark } from '../../evaluate/value.ts';
import type { Axis, Tensor } from '../../evaluate/value.ts';
import { absent, missing } from './graph.ts';
import type { Graph, Ref } from './graph.ts';

export interface Cells {
  readonly axes: readonly Axis[];
  readonly refs: readonly Ref[];
}

/** Thrown where an expression is left to the interpreter. */
export class NotHere extends Error {}

const mostCells = 1024;

export function along(axes: readonly Axis[], at: (cell: number) => Ref): Cells {
  const size = cellsAlong(axes);
  if (size > mostCells) throw new NotHere('too many cells');
  return { axes, refs: Array.from({ length: size }, (_, cell) => at(cell)) };
}

export function constants(graph: Graph, { axes, data, mark }: Tensor): Cells {
  return along(axes, (cell) => {
    const own = markAt(mark, cell);
    return own === Mark.absent ? absent : own === Mark.missing ? missing : graph.constant(data[cell]!);
  });
}

export function wide(cells: Cells, axes: readonly Axis[]): readonly Ref[] {
  if (cells.axes === axes) return cells.refs;
  return Array.from(mapBetween(cells.axes, axes), (from) => cells.refs[from]!);
}

export function together(all: readonly Cells[], step: (...refs: readonly Ref[]) => Ref): Cells {
  const axes = all.map((one) => one.axes).reduce(unionAxes);
  const laid = all.map((one) => wide(one, axes));
  return along(axes, (cell) => step(...laid.map((refs) => refs[cell]!)));
}
