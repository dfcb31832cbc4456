/**
 * How far one figure has to go until a check holds: looked for outwards from where it stands, many candidates in lanes, the plan as the only
 * judge; then the next figure that can be written.
 */
import type { SlotId } from '../ir.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import type { Gauge } from './gauge.ts';
import type { Grid, Move } from './records.ts';
import { firstEnough, narrowed, type Bracket } from './root.ts';
import { hasHistory, type Target } from './targets.ts';

/** All that a step is judged by. */
export interface Bench {
  readonly plan: Plan;
  readonly gauge: Gauge;
  /** How finely a figure of this slot may be written. */
  gridOf(slot: SlotId, cell: number): Grid;
  /** Sizes that can be bought, in SI. */
  sizesOf(slot: SlotId): readonly number[];
}

/** So far that the check just holds, or to where the room on both sides is greatest. */
export type Aim = 'holds' | 'middle';

export function moveOf({ slot, from }: Target, to: ReadonlyMap<number, number>, even: boolean): Move {
  const figures = new Set([...to.values()].map((figure) => figure.toPrecision(12)));
  const old = new Map([...to.keys()].map((cell) => [cell, from.get(cell)!]));
  return { slot: slot.id, to, from: old, whole: to.size === from.size && figures.size === 1, even };
}

export function overrides(plan: Plan, moves: readonly Move[], except?: SlotId): Override[] {
  return moves.flatMap(({ slot, to }) => (slot === except ? [] : [{ slot, view: viewOf(plan, slot), cells: to }]));
}

/** What was cut or read stays as it was before; else the figure changes from the specification on. */
export function viewOf(plan: Plan, slot: SlotId): Override['view'] {
  return hasHistory(plan, slot) ? 'measured' : null;
}

export function roomAt({ plan, gauge }: Bench, moves: readonly Move[], cells: readonly number[]): number {
  return gauge.room(plan.withInputs(overrides(plan, moves)), 1, cells)[0]!;
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

/** Step by step at first, then ever longer ones. */
export function stepsOutwards(least: number, most: number): number[] {
  const steps: number[] = [];
  for (let step = least; step <= most && steps.length < 4 * lanesAtOnce; step = Math.max(step + least, step * 1.06))
    steps.push(step);
  return steps;
}

/** To the next mark: outwards, or the nearest where `way` is 0. */
export function onGrid(figure: number, { step, from }: Grid, way: number): number {
  const marks = (figure - from) / step;
  const whole = Math.round(marks);
  const isMark = Math.abs(marks - whole) < 1e-6;
  return from + step * (isMark || way === 0 ? whole : way > 0 ? Math.ceil(marks) : Math.floor(marks));
}

type Figures = ReadonlyMap<number, number>;

/** Room by step: exactly there, or at the figure that is written for it. */
interface Stepper {
  readonly least: number;
  readonly most: number;
  exact(steps: readonly number[]): number[];
  written(step: number, way: number): Figures;
  roomWritten(step: number, way: number): number;
}

/** Figures at one step of all these cells, at which these cells of the check hold; null where none is near enough. */
export function stepped(
  bench: Bench,
  before: readonly Move[],
  target: Target,
  moved: readonly number[],
  cells: readonly number[],
  aim: Aim,
): Figures | null {
  if (moved.length === 0) return null;
  const stepper = stepperOf(bench, before, target, moved, cells);
  const found = [target.up ? 1 : 0, target.down ? -1 : 0].flatMap((way) =>
    way === 0 ? [] : aim === 'holds' ? justHolding(stepper, way) : inTheMiddle(stepper, way),
  );
  found.sort((a, b) => Math.abs(a.step) - Math.abs(b.step));
  return found[0]?.figures ?? null;
}

function stepperOf(
  { plan, gauge, gridOf }: Bench,
  before: readonly Move[],
  { slot: { id }, from }: Target,
  moved: readonly number[],
  cells: readonly number[],
): Stepper {
  const { step: least } = gridOf(id, moved[0]!);
  const most = reachOf(
    moved.map((cell) => from.get(cell)!),
    least,
  );
  const rooms = (lanes: readonly Figures[]): number[] => {
    const figures = new Map(moved.map((cell) => [cell, Float64Array.from(lanes, (lane) => lane.get(cell)!)]));
    const own: Override = { slot: id, view: viewOf(plan, id), cells: figures };
    return gauge.room(plan.withInputs([...overrides(plan, before, id), own], lanes.length), lanes.length, cells);
  };
  const exactly = (step: number): Figures => new Map(moved.map((cell) => [cell, from.get(cell)! + step]));
  const written = (step: number, way: number): Figures =>
    new Map(moved.map((cell) => [cell, onGrid(from.get(cell)! + step, gridOf(id, cell), way)]));
  return {
    least,
    most,
    exact: (steps) => rooms(steps.map(exactly)),
    written,
    roomWritten: (step, way) => rooms([written(step, way)])[0]!,
  };
}

interface Found {
  readonly step: number;
  readonly figures: Figures;
}

function justHolding(stepper: Stepper, way: number): Found[] {
  const { least, exact, written, roomWritten } = stepper;
  const root = rootOf(stepper, way);
  if (root === null) return [];
  // written figures are coarser than the root, which may stand a hair beyond one that is enough
  for (let more = -1; more < 3; more++) {
    const step = root + way * more * least;
    if (step * way > 0 && roomWritten(step, way) >= 0) return [{ step, figures: written(step, way) }];
  }
  // between two limits there may be room for one written figure alone
  const best = bestBetween(exact, root, root + way * 2 * least, least);
  return roomWritten(best, 0) >= 0 ? [{ step: best, figures: written(best, 0) }] : [];
}

/** The least step at which all hold. */
function rootOf({ least, most, exact }: Stepper, way: number): number | null {
  const ladder = stepsOutwards(least, most).map((step) => way * step);
  const seen: { step: number; room: number }[] = [];
  const rooms = (steps: readonly number[]): number[] => {
    const all: number[] = [];
    for (let start = 0; start < steps.length; start += lanesAtOnce) {
      const some = steps.slice(start, start + lanesAtOnce);
      const own = exact(some);
      some.forEach((step, at) => seen.push({ step, room: own[at]! }));
      all.push(...own);
      if (own.some((room) => room >= 0)) break;
    }
    return all;
  };
  const bracket = firstEnough(rooms, 0, ladder) ?? bracketRound(seen, exact);
  return bracket === null ? null : narrowed((step) => exact([step])[0]!, bracket, least / 64);
}

/** Limits may be so close, or so many cells have to suit, that the ladder steps over the place where all hold: round its best step more are tried. */
function bracketRound(seen: readonly { step: number; room: number }[], exact: Stepper['exact']): Bracket | null {
  const best = seen.reduce((most, { room }, at) => (room > (seen[most]?.room ?? -Infinity) ? at : most), -1);
  if (best < 0) return null;
  let [low, high] = [seen[best - 1]?.step ?? 0, seen[best + 1]?.step ?? seen[best]!.step];
  for (let round = 0; round < 3; round++) {
    const steps = between(low, high);
    const bracket = firstEnough(exact, low, steps);
    if (bracket !== null) return bracket;
    [low, high] = roundBest(steps, exact(steps), low, high);
  }
  return null;
}

function between(low: number, high: number): number[] {
  return Array.from({ length: lanesAtOnce }, (_, at) => low + ((high - low) * (at + 1)) / lanesAtOnce);
}

function roundBest(steps: readonly number[], rooms: readonly number[], low: number, high: number): [number, number] {
  const best = rooms.reduce((most, room, at) => (room > rooms[most]! || Number.isNaN(rooms[most]!) ? at : most), 0);
  return [steps[best - 1] ?? low, steps[best + 1] ?? high];
}

function bestBetween(exact: Stepper['exact'], from: number, to: number, fine: number): number {
  let [low, high] = [from, to];
  for (let round = 0; round < 4 && Math.abs(high - low) > fine / 64; round++) {
    const steps = between(low, high);
    [low, high] = roundBest(steps, exact(steps), low, high);
  }
  return (low + high) / 2;
}

/** Where the room is greatest, behind the step at which it begins to hold. */
function inTheMiddle(stepper: Stepper, way: number): Found[] {
  const { least, most, exact, written, roomWritten } = stepper;
  const root = rootOf(stepper, way);
  if (root === null) return [];
  const beyond = stepsOutwards(least, most - Math.abs(root)).map((step) => root + way * step);
  const rooms: number[] = [];
  for (let start = 0; start < beyond.length; start += lanesAtOnce) {
    rooms.push(...exact(beyond.slice(start, start + lanesAtOnce)));
    if (rooms.some((room) => room < 0)) break;
  }
  // where it holds ever better there is no middle
  if (!rooms.some((room) => room < 0)) return [];
  const [low, high] = roundBest(beyond.slice(0, rooms.length), rooms, root, beyond[rooms.length - 1]!);
  const step = bestBetween(exact, low, high, least);
  return roomWritten(step, 0) >= 0 ? [{ step, figures: written(step, 0) }] : [];
}
