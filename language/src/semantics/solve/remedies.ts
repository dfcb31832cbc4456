/**
 * Works back from a check that does not hold: how far each thing that may be turned has to go, with the plan as the only judge. The nearest
 * figure that can be written and at which the check holds surely; never the way that a cut cannot go.
 */
import type { SlotId } from '../ir.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import { gaugeOf } from './gauge.ts';
import type { Gauge } from './gauge.ts';
import type { Grid, Move, Remedy } from './records.ts';
import { firstEnough, narrowed } from './root.ts';
import { cellsBeside, hasAxesOf, hasHistory, targetsOf } from './targets.ts';
import type { Target } from './targets.ts';

export interface Wanted {
  /** How finely a figure of this slot may be written. */
  gridOf(slot: SlotId, cell: number): Grid;
  /** Sizes that can be bought, in SI. */
  sizesOf(slot: SlotId): readonly number[];
}

/** All ways that were found; sizes that can be bought come first. `lines`: what may be turned, if not what its rule names. */
export function remediesFor(
  plan: Plan,
  check: CheckOutcome,
  wanted: Wanted,
  lines: readonly (readonly Target[])[] = targetsOf(plan, check),
): readonly Remedy[] {
  if (check.kind === 'to-size') return lines.flatMap(([target]) => toMiddle(check, target!, wanted));
  const gauge = gaugeOf(plan, check);
  if (gauge === null) return [];
  const bought = lines.flatMap((line) => (line.length === 1 ? boughtFor(plan, gauge, line[0]!, wanted) : []));
  return [...bought, ...lines.flatMap((line) => solvedLine(plan, gauge, line, wanted))];
}

function isBad({ state }: CheckOutcome['cells'][number]): boolean {
  return state === 'out-of-limits' || state === 'at-risk';
}

function badCells({ cells }: CheckOutcome): readonly number[] {
  return cells.flatMap((cell, at) => (isBad(cell) ? [at] : []));
}

/** What must hold afterwards: what does not now, and what does. */
function judgedCells({ cells }: CheckOutcome): readonly number[] {
  return cells.flatMap((cell, at) => (isBad(cell) || cell.state.startsWith('holds') ? [at] : []));
}

/** A size ordered and missed: cut to the middle of what was ordered, where a cut still goes there. */
function toMiddle(check: CheckOutcome, target: Target, { gridOf }: Wanted): Remedy[] {
  if (target.up && target.down) return [];
  const to = new Map<number, number>();
  for (const cell of badCells(check)) {
    const { low, high } = check.cells[cell]!;
    const from = target.from.get(cell);
    if (low === null || high === null || from === undefined) return [];
    const figure = onGrid((low + high) / 2, gridOf(target.slot.id, cell), 0);
    if ((figure > from && !target.up) || (figure < from && !target.down) || figure <= low || figure >= high) return [];
    to.set(cell, figure);
  }
  return [{ check: check.id, moves: [moveOf(target, to, false)] }];
}

export function moveOf({ slot, from }: Target, to: ReadonlyMap<number, number>, even: boolean): Move {
  const figures = new Set([...to.values()].map((figure) => figure.toPrecision(12)));
  const old = new Map([...to.keys()].map((cell) => [cell, from.get(cell)!]));
  return { slot: slot.id, to, from: old, whole: to.size === from.size && figures.size === 1, even };
}

/** One line of targets; each stands on those before it. */
function solvedLine(plan: Plan, gauge: Gauge, line: readonly Target[], wanted: Wanted): Remedy[] {
  const cells = judgedCells(gauge.check);
  let moves: readonly Move[] = [];
  for (const target of line) {
    const own = target.even ? evened(target) : solved(plan, moves, gauge, target, wanted);
    if (own === null) continue;
    moves = [...moves, own];
    if (roomAt(plan, gauge, moves, cells) >= 0) return [{ check: gauge.check.id, moves }];
  }
  return [];
}

/** All cells to the one that can go no further; null where they are alike already. */
function evened(target: Target): Move | null {
  const figures = [...target.from.values()];
  const last = target.down && !target.up ? Math.min(...figures) : Math.max(...figures);
  const to = new Map([...target.from].flatMap(([cell, figure]) => (figure === last ? [] : [[cell, last] as const])));
  return to.size === 0 ? null : moveOf(target, to, true);
}

/** The same step for all cells, or for every cell that does not hold one of its own. */
function solved(plan: Plan, before: readonly Move[], gauge: Gauge, target: Target, wanted: Wanted): Move | null {
  const { check } = gauge;
  const bad = badCells(check);
  const all = new Set(target.from.values()).size === 1 && bad.length === judgedCells(check).length;
  const isCellwise = hasAxesOf(target, check) && !(all && !hasHistory(plan, target.slot.id));
  if (!isCellwise) {
    const to = stepped(plan, before, gauge, target, [...target.from.keys()], judgedCells(check), wanted);
    return to === null ? null : moveOf(target, to, false);
  }
  const to = new Map<number, number>();
  for (const cell of bad) {
    const own = stepped(plan, before, gauge, target, cellsBeside(target, check, cell), [cell], wanted);
    if (own === null) return null;
    for (const [at, figure] of own) to.set(at, figure);
  }
  return to.size === 0 ? null : moveOf(target, to, false);
}

const lanesAtOnce = 48;
/** Beyond this share of the figure it is another thing. */
const furthest = 0.6;
const furthestFromNought = 300;

/** How far a figure may go at most, in SI: a share of itself; `least` is the finest step in which it is written. */
export function reachOf(figures: readonly number[], least: number, share = furthest): number {
  const size = Math.min(...figures.map(Math.abs));
  return size === 0 ? furthestFromNought * least : share * size;
}

/** Figures at the least step at which these cells of the check hold; null where none is near enough. */
function stepped(
  plan: Plan,
  before: readonly Move[],
  gauge: Gauge,
  target: Target,
  moved: readonly number[],
  cells: readonly number[],
  wanted: Wanted,
): ReadonlyMap<number, number> | null {
  if (moved.length === 0) return null;
  const id = target.slot.id;
  const { step: least } = wanted.gridOf(id, moved[0]!);
  const most = reachOf(
    moved.map((cell) => target.from.get(cell)!),
    least,
  );
  const at = (step: number): ReadonlyMap<number, number> =>
    new Map(
      moved.map((cell) => [cell, onGrid(target.from.get(cell)! + step, wanted.gridOf(id, cell), Math.sign(step))]),
    );
  const rooms = (steps: readonly number[], figures: (step: number) => ReadonlyMap<number, number>): number[] => {
    const lanes = steps.map(figures);
    const cellsNow = new Map(moved.map((cell) => [cell, Float64Array.from(lanes, (lane) => lane.get(cell)!)]));
    const own: Override = { slot: id, view: viewOf(plan, id), cells: cellsNow };
    return gauge.room(plan.withInputs([...overrides(plan, before, id), own], steps.length), steps.length, cells);
  };
  const exact = (step: number): ReadonlyMap<number, number> =>
    new Map(moved.map((cell) => [cell, target.from.get(cell)! + step]));
  const found = [target.up ? 1 : 0, target.down ? -1 : 0].flatMap((way) => {
    if (way === 0) return [];
    const ladder = stepsOutwards(least, most).map((step) => way * step);
    const bracket = firstEnough((steps) => inChunks(steps, (some) => rooms(some, exact)), 0, ladder);
    if (bracket === null) return [];
    const root = narrowed((step) => rooms([step], exact)[0]!, bracket, least / 64);
    // written figures are coarser than the root, which may stand a hair beyond one that is enough
    for (let more = -1; more < 3; more++) {
      const step = root + way * more * least;
      if (step * way > 0 && rooms([step], at)[0]! >= 0) return [{ size: Math.abs(step), figures: at(step) }];
    }
    return [];
  });
  found.sort((a, b) => a.size - b.size);
  return found[0]?.figures ?? null;
}

/** Step by step at first, then ever longer ones. */
export function stepsOutwards(least: number, most: number): number[] {
  const steps: number[] = [];
  for (let step = least; step <= most && steps.length < 4 * lanesAtOnce; step = Math.max(step + least, step * 1.06))
    steps.push(step);
  return steps;
}

function inChunks(all: readonly number[], f: (some: readonly number[]) => number[]): number[] {
  const found: number[] = [];
  for (let start = 0; start < all.length; start += lanesAtOnce) {
    found.push(...f(all.slice(start, start + lanesAtOnce)));
    if (found.some((room) => room >= 0)) break;
  }
  return found;
}

/** The nearest size that can be bought and at which the check holds. */
function boughtFor(plan: Plan, gauge: Gauge, target: Target, { sizesOf }: Wanted): Remedy[] {
  const from = [...target.from.values()][0]!;
  const sizes = [...new Set(sizesOf(target.slot.id))].filter(
    (size) => (size > from && target.up) || (size < from && target.down),
  );
  if (sizes.length === 0 || target.even) return [];
  sizes.sort((a, b) => Math.abs(a - from) - Math.abs(b - from));
  const cells = judgedCells(gauge.check);
  const size = sizes.slice(0, lanesAtOnce).find((one) => {
    const to = new Map([...target.from.keys()].map((cell) => [cell, one]));
    return roomAt(plan, gauge, [moveOf(target, to, false)], cells) >= 0;
  });
  if (size === undefined) return [];
  const to = new Map([...target.from.keys()].map((cell) => [cell, size]));
  return [{ check: gauge.check.id, moves: [moveOf(target, to, false)] }];
}

function roomAt(plan: Plan, gauge: Gauge, moves: readonly Move[], cells: readonly number[]): number {
  return gauge.room(plan.withInputs(overrides(plan, moves)), 1, cells)[0]!;
}

export function overrides(plan: Plan, moves: readonly Move[], except?: SlotId): Override[] {
  return moves.flatMap(({ slot, to }) => (slot === except ? [] : [{ slot, view: viewOf(plan, slot), cells: to }]));
}

/** What was cut or read stays as it was before; else the figure changes from the specification on. */
export function viewOf(plan: Plan, slot: SlotId): Override['view'] {
  return hasHistory(plan, slot) ? 'measured' : null;
}

/** To the next mark: outwards, or the nearest where `way` is 0. */
export function onGrid(figure: number, { step, from }: Grid, way: number): number {
  const marks = (figure - from) / step;
  const whole = Math.round(marks);
  const isMark = Math.abs(marks - whole) < 1e-6;
  return from + step * (isMark || way === 0 ? whole : way > 0 ? Math.ceil(marks) : Math.floor(marks));
}
