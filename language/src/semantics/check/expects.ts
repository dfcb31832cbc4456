/**
 * What a build expects. Where its whole left side is a rule's value it takes the place of the rule's limits, cell by cell
 * and side by side; whatever it says beyond that stands alone.
 */
import type { ExpectGiven } from '../bind/binding.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { sizeOf } from '../plan/cells.ts';
import { chainOf } from '../plan/figures.ts';
import { placesOf } from '../plan/labels.ts';
import type { Plan } from '../plan/run.ts';
import type { AxisId } from '../types/type.ts';
import type { Comparison } from '../schema/schema.ts';
import { noSide, readComparison, sideOf, unionOfAxes } from './question.ts';
import type { Question, Side } from './question.ts';

/** One comparison of one expect, with the cells of its slot that it speaks of. */
export interface Wish {
  readonly expect: ExpectGiven;
  readonly comparison: Comparison;
  readonly cells: CellsOf | null;
  readonly inherited: boolean;
  /** Along the axes of the comparison: cells where it took the place of a rule's limits, or a variant's took its own. */
  readonly axes: readonly Axis[];
  readonly spent: Uint8Array;
  readonly low: Side;
  readonly high: Side;
}

/** `width[3]`: slot and the places that are fixed. */
interface CellsOf {
  readonly slot: SlotId;
  readonly fixed: ReadonlyMap<AxisId, number>;
}

/** All expects that count, those of bases first; an expect that a variant's binding repeats counts once. */
export function expectsOf(plan: Plan): readonly { readonly expect: ExpectGiven; readonly inherited: boolean }[] {
  const chain = chainOf(plan.binding);
  const all = new Map<string, { expect: ExpectGiven; inherited: boolean }>();
  const nodes = new Map<unknown, number>();
  chain.forEach((binding, depth) => {
    for (const expect of binding.expects) {
      const at = nodes.get(expect.origin.at) ?? nodes.size;
      nodes.set(expect.origin.at, at);
      const key = `${at} ${expect.text}`;
      if (!all.has(key)) all.set(key, { expect, inherited: expect.inherited || depth < chain.length - 1 });
    }
  });
  return [...all.values()];
}

export function wishesOf(plan: Plan): readonly Wish[] {
  const wishes = expectsOf(plan).flatMap(({ expect, inherited }) =>
    expect.demand.comparisons.map((comparison): Wish => {
      const read = readComparison(plan, comparison, expect.origin);
      const axes = unionOfAxes([read.value, read.low, read.high]);
      return {
        expect,
        comparison,
        inherited,
        cells: comparison.slot === null ? null : cellsOf(comparison.value),
        axes,
        spent: new Uint8Array(sizeOf(axes)),
        low: read.low === null ? noSide(axes, -Infinity) : sideOf(read.low, axes, comparison.lowOpen, null),
        high: read.high === null ? noSide(axes, Infinity) : sideOf(read.high, axes, comparison.highOpen, null),
      };
    }),
  );
  for (const wish of wishes) if (wish.inherited) spendReplaced(wish, wishes);
  return wishes;
}

/** What a variant expects of a value takes the place of what its base expected of it. */
function spendReplaced(wish: Wish, all: readonly Wish[]): void {
  wish.spent.forEach((_, cell) => {
    const at = cellAt(wish.cells, wish.axes, cell);
    if (at !== null && all.some((other) => !other.inherited && speaksOf(other, at))) wish.spent[cell] = 1;
  });
}

/** The slot behind constant indices; null where there is more to it. */
export function cellsOf(expr: Expr): CellsOf | null {
  const fixed = new Map<AxisId, number>();
  let at = expr;
  while (at.op === 'gather' && at.index.op === 'constant') {
    fixed.set(at.axis, at.index.value);
    at = at.of;
  }
  return at.op === 'slot' ? { slot: at.slot, fixed } : null;
}

/** One cell of a slot: the place on each axis that is fixed or runs. */
export interface SlotCell {
  readonly slot: SlotId;
  readonly places: ReadonlyMap<AxisId, number>;
}

export function cellAt(cells: CellsOf | null, axes: readonly Axis[], cell: number): SlotCell | null {
  if (cells === null) return null;
  const places = new Map(cells.fixed);
  placesOf(cell, axes).forEach((place, at) => places.set(axes[at]!.id, place));
  return { slot: cells.slot, places };
}

function speaksOf(wish: Wish, at: SlotCell): boolean {
  if (wish.cells === null || wish.cells.slot !== at.slot) return false;
  return [...wish.cells.fixed].every(([axis, place]) => at.places.get(axis) === place);
}

/** Limits in one cell after all wishes for it: the narrowest of them, and whose they are. */
export interface Replaced {
  readonly low: number | null;
  readonly high: number | null;
  readonly lowOpen: boolean;
  readonly highOpen: boolean;
  readonly by: readonly Wish[];
}

/** What the wishes say of one cell of a slot; marks the cells of the wishes as spent. */
export function replacementFor(wishes: readonly Wish[], at: SlotCell): Replaced | null {
  const all = wishes.filter((wish) => speaksOf(wish, at));
  const own = all.filter((wish) => !wish.inherited);
  const by = own.length > 0 ? own : all;
  if (by.length === 0) return null;
  let [low, high, lowOpen, highOpen]: [number | null, number | null, boolean, boolean] = [null, null, false, false];
  for (const wish of by) {
    const cell = cellOfPlaces(wish.axes, at);
    wish.spent[cell] = 1;
    const [from, to] = [wish.low.data[cell]!, wish.high.data[cell]!];
    if (Number.isFinite(from) && (low === null || from > low)) [low, lowOpen] = [from, wish.low.open];
    if (Number.isFinite(to) && (high === null || to < high)) [high, highOpen] = [to, wish.high.open];
  }
  return { low, high, lowOpen, highOpen, by };
}

function cellOfPlaces(axes: readonly Axis[], at: SlotCell): number {
  return axes.reduce((cell, axis) => cell * axis.size + (at.places.get(axis.id) ?? 0), 0);
}

/** The question with these limits in one cell. */
export function withLimits(question: Question, replaced: Replaced, cell: number): Question {
  const { low, high, lowOpen, highOpen } = replaced;
  return {
    ...question,
    low: low === null ? question.low : put(question.low, cell, low, lowOpen),
    high: high === null ? question.high : put(question.high, cell, high, highOpen),
  };
}

function put(side: Side, cell: number, figure: number, open: boolean): Side {
  const data = side.data.slice();
  const mark = side.mark.slice();
  data[cell] = figure;
  mark[cell] = Mark.exact;
  return { data, mark, open, spread: null };
}
