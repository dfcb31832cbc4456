/**
 * Brings figures to where they are wanted: as many figures are turned as there are goals, all at once. One by a bracket and the ITP method,
 * several by damped Newton steps; the plan is the only judge. Places that have figures of their own are worked out one by one.
 */
import { along, lanesId, sizeOf } from '../plan/cells.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import { readComparison, tensorOf, unionOfAxes } from '../check/question.ts';
import type { Goal } from './goals.ts';
import type { Move } from './records.ts';
import type { Wanted } from './remedies.ts';
import { narrowed } from './root.ts';
import { newtonSteps } from './several.ts';
import { moveOf, onGrid, overrides, reachOf, stepsOutwards, viewOf } from './stepping.ts';
import { cellsBeside, hasAxesOf } from './targets.ts';
import type { Target } from './targets.ts';

/** Figures as they can be written; the exact ones beside them. */
export interface Reached {
  readonly moves: readonly Move[];
  /** By figure turned, by cell: the root itself, in SI. */
  readonly exact: readonly ReadonlyMap<number, number>[];
}
export interface NotReached {
  /** What stands in the way: a cut cannot go there, nothing near enough brings it, or no figure that can be written comes nearer. */
  readonly why: 'wrong-way' | 'out-of-reach' | 'as-near';
  readonly target: Target;
  /** The place in it. */
  readonly cell: number;
  /** Where it would have to go, in SI, where that is known. */
  readonly to: number | null;
}

/** So many steps, one a figure turned; what is left to each goal, by lane and goal. */
type Left = (steps: readonly (readonly number[])[]) => readonly (readonly number[])[];

interface Piece {
  /** By figure turned: the cells that move together. */
  readonly cells: readonly (readonly number[])[];
  readonly left: Left;
}

export function reachedBy(
  plan: Plan,
  goals: readonly Goal[],
  targets: readonly Target[],
  wanted: Wanted,
): Reached | NotReached {
  const exact = targets.map(() => new Map<number, number>());
  for (const piece of piecesOf(plan, goals, targets)) {
    const steps = targets.length === 1 ? oneStep(piece, targets[0]!, wanted) : severalSteps(piece, targets, wanted);
    if ('why' in steps) return steps;
    targets.forEach((target, at) => {
      for (const cell of piece.cells[at]!) exact[at]!.set(cell, target.from.get(cell)! + steps[at]!);
    });
  }
  return { moves: targets.map((target, at) => written(target, exact[at]!, wanted)), exact };
}

/** To the nearest figure that can be written; where that is the old one, nothing moves. */
function written(target: Target, exact: ReadonlyMap<number, number>, { gridOf }: Wanted): Move {
  const to = new Map([...exact].map(([cell, figure]) => [cell, onGrid(figure, gridOf(target.slot.id, cell), 0)]));
  return moveOf(target, to, false);
}

/** The sizes that can be bought and come nearest, each place its own; null where there are none. */
export function nearestBought(plan: Plan, goals: readonly Goal[], target: Target, { sizesOf }: Wanted): Move | null {
  const sizes = [...new Set(sizesOf(target.slot.id))];
  if (sizes.length === 0) return null;
  const to = new Map<number, number>();
  for (const { cells, left } of piecesOf(plan, goals, [target])) {
    const [first] = cells[0]!;
    const from = target.from.get(first!)!;
    const fits = sizes.filter((size) => (size >= from || target.down) && (size <= from || target.up));
    const gaps = left(fits.map((size) => [size - from])).map((gap) => Math.hypot(...gap));
    const best = gaps.reduce((least, gap, at) => (gap < (gaps[least] ?? Infinity) ? at : least), -1);
    if (best < 0) return null;
    for (const cell of cells[0]!) to.set(cell, fits[best]!);
  }
  return moveOf(target, to, false);
}

/** Each place by itself where every figure turned has one there; else all that may move moves alike. */
function piecesOf(plan: Plan, goals: readonly Goal[], targets: readonly Target[]): readonly Piece[] {
  const axes = unionOfAxes(goals.map((goal) => ({ axes: goal.axes, data: new Float64Array(0), mark: null })));
  const alike = { axes };
  const isOwn =
    sizeOf(axes) > 1 &&
    goals.every((goal) => goal.axes.length === axes.length) &&
    targets.every((one) => hasAxesOf(one, alike));
  const at = (cells: readonly (readonly number[])[], places: readonly number[] | null): Piece => ({
    cells,
    left: (steps) => leftAt(plan, goals, targets, cells, places, steps),
  });
  if (!isOwn)
    return [
      at(
        targets.map(({ from }) => [...from.keys()]),
        null,
      ),
    ];
  return Array.from({ length: sizeOf(axes) }, (_, place) => {
    const beside = targets.map((target) => cellsBeside(target, alike, place));
    return beside.some((cells) => cells.length === 0) ? [] : [at(beside, [place])];
  }).flat();
}

function leftAt(
  plan: Plan,
  goals: readonly Goal[],
  targets: readonly Target[],
  cells: readonly (readonly number[])[],
  places: readonly number[] | null,
  steps: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const moved = plan.withInputs(
    targets.map(({ slot, from }, at): Override => {
      const figures = cells[at]!.map(
        (cell) => [cell, Float64Array.from(steps, (step) => from.get(cell)! + step[at]!)] as const,
      );
      return { slot: slot.id, view: viewOf(plan, slot.id), cells: new Map(figures) };
    }),
    steps.length,
  );
  const gaps = goals.map((goal) => gapOf(moved, goal, places));
  return steps.map((_, lane) => gaps.map((gap) => gap(lane)));
}

/** How far a goal's figure is from what is wanted; of many places the middle between the furthest two. */
function gapOf(moved: Plan, goal: Goal, places: readonly number[] | null): (lane: number) => number {
  const read = readComparison(moved, goal.comparison, goal.origin);
  const figure = tensorOf(read.value);
  const aim = read.low ?? read.high!;
  const { axes } = goal;
  const size = sizeOf(axes);
  const across = [figure, aim].flatMap((one) => one.axes.find(({ id }) => id === lanesId) ?? [])[0];
  const all = across === undefined ? axes : [across, ...axes];
  const [have, want] = [along(figure, all).data, along(aim, all).data];
  const own = places ?? Array.from({ length: size }, (_, cell) => cell);
  return (lane) => {
    const gaps = own.map((cell) => {
      const at = across === undefined ? cell : lane * size + cell;
      return have[at]! - want[at]!;
    });
    return (Math.max(...gaps) + Math.min(...gaps)) / 2;
  };
}

const lanesAtOnce = 48;
/** What was asked for by name may go far, but no figure through nought. */
const furthest = { up: 3, down: 0.98 };

function oneStep({ cells, left }: Piece, target: Target, { gridOf }: Wanted): readonly number[] | NotReached {
  const [moved] = cells as readonly [readonly number[]];
  const least = gridOf(target.slot.id, moved[0]!).step;
  const figures = moved.map((cell) => target.from.get(cell)!);
  const start = left([[0]])[0]![0]!;
  if (Number.isNaN(start)) return { why: 'out-of-reach', target, cell: moved[0]!, to: null };
  if (start === 0) return [0];
  const towards = -Math.sign(start);
  const found = [1, -1].flatMap((way) => {
    const away = figures[0]! * way >= 0 ? furthest.up : furthest.down;
    const ladder = stepsOutwards(least, reachOf(figures, least, away));
    let near = 0;
    for (let from = 0; from < ladder.length; from += lanesAtOnce) {
      const some = ladder.slice(from, from + lanesAtOnce).map((step) => way * step);
      const gaps = left(some.map((step) => [step]));
      const at = gaps.findIndex(([gap]) => gap! * towards >= 0);
      if (at >= 0) {
        const far = some[at]!;
        near = at === 0 ? near : some[at - 1]!;
        return [narrowed((step) => left([[step]])[0]![0]! * towards, { near, far }, least * exactly)];
      }
      near = some.at(-1)!;
    }
    return [];
  });
  found.sort((a, b) => Math.abs(a) - Math.abs(b));
  const possible = found.find((step) => (step > 0 ? target.up : target.down));
  if (possible !== undefined) return [possible];
  const [wrong] = found;
  return wrong === undefined
    ? { why: 'out-of-reach', target, cell: moved[0]!, to: null }
    : { why: 'wrong-way', target, cell: moved[0]!, to: figures[0]! + wrong };
}

/** Of the finest step in which a figure is written. */
const exactly = 1e-6;

function severalSteps(
  { cells, left }: Piece,
  targets: readonly Target[],
  { gridOf }: Wanted,
): readonly number[] | NotReached {
  const least = targets.map(({ slot }, at) => gridOf(slot.id, cells[at]![0]!).step);
  const most = targets.map(({ from }, at) =>
    reachOf(
      cells[at]!.map((cell) => from.get(cell)!),
      least[at]!,
      furthest.up,
    ),
  );
  const steps = newtonSteps(left, least, most);
  const isThrough = steps?.some((step, at) =>
    cells[at]!.some((cell) => passesNought(targets[at]!.from.get(cell)!, step)),
  );
  if (steps === null || isThrough) return { why: 'out-of-reach', target: targets[0]!, cell: cells[0]![0]!, to: null };
  const wrong = targets.findIndex((target, at) =>
    steps[at]! > least[at]! / 2 ? !target.up : steps[at]! < -least[at]! / 2 ? !target.down : false,
  );
  if (wrong < 0) return steps;
  const target = targets[wrong]!;
  const cell = cells[wrong]![0]!;
  return { why: 'wrong-way', target, cell, to: target.from.get(cell)! + steps[wrong]! };
}

function passesNought(from: number, step: number): boolean {
  return from !== 0 && (from + step) * from <= 0;
}

/** The plan with these moves made, nothing else changed. */
export function withMoves(plan: Plan, moves: readonly Move[]): Plan {
  return plan.withInputs(overrides(plan, moves));
}

/** What a goal's figures come to, by cell, in SI. */
export function figuresOf(plan: Plan, goal: Goal): Float64Array {
  return along(tensorOf(readComparison(plan, goal.comparison, goal.origin).value), goal.axes).data;
}
