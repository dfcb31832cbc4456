/**
 * From cells of checks down to the cells that they rest on, for many starts in one walk: a graph of slots with one bit a
 * start and cell.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { cellsFrom, marksOf, sameAxes, sizeOf } from '../plan/cells.ts';
import { project } from '../plan/masks.ts';
import type { Node } from '../plan/memo.ts';
import type { Moment } from '../plan/moments.ts';
import { slotsIn } from '../reads.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';
import { stepsTo } from './steps.ts';
import type { Steps } from './steps.ts';

export interface Start {
  readonly trace: readonly number[];
  /** What was evaluated: says which cells of a slot are read. */
  readonly exprs: readonly Expr[];
  readonly axes: readonly Axis[];
  readonly mask: Uint8Array;
}

/** One slot at one moment, with the cells that something rests on. */
export interface Reached {
  readonly slot: SlotId;
  readonly moment: Moment;
  readonly node: Node;
  readonly axes: readonly Axis[];
  readonly marks: Uint8Array;
  /** Numbers of the starts that rest on the cell. */
  startsAt(cell: number): readonly number[];
  /** True where nothing that was followed lies below: the thing itself is the reason. */
  isEnd(cell: number): boolean;
}

/** Which cells to look at, by mark. Cells with a figure are ends; where a formula speaks its inputs are looked at in turn. */
export type Follow = (mark: number) => boolean;

interface Stop {
  readonly slot: SlotId;
  readonly moment: Moment;
  readonly node: Node;
  readonly axes: readonly Axis[];
  readonly marks: Uint8Array;
  readonly followed: Uint8Array;
  /** Cells from which the walk goes on. */
  readonly deeper: Uint8Array;
  readonly below: { readonly stop: Stop; readonly steps: Steps }[];
  /** `words` a cell, one bit a start. */
  readonly bits: Uint32Array;
}

export function reach(plan: Plan, starts: readonly Start[], follow: Follow): readonly Reached[] {
  const words = Math.ceil(starts.length / 32);
  const stops = new Map<number, Stop | null>();
  const order = stopsUnder(
    plan,
    starts.flatMap((start) => start.trace),
    follow,
    words,
    stops,
  );
  starts.forEach(({ trace, exprs, axes, mask }, at) => {
    const bits = new Uint32Array(mask.length * words);
    mask.forEach((one, cell) => {
      if (one === 1) bits[cell * words + (at >> 5)]! |= 1 << (at & 31);
    });
    for (const key of trace) {
      const stop = stops.get(key) ?? null;
      if (stop !== null) flow(bits, axes, stop, stepsTo(plan, exprs, axes, stop.slot, stop.axes), words);
    }
  });
  // those above first; a circle that was cut needs another round
  const passed = new Map(order.map((stop, at) => [stop, at]));
  for (let again = true; again;) {
    again = false;
    for (const stop of order) {
      const going = onlyDeeper(stop, words);
      if (going === null) continue;
      for (const { stop: below, steps } of stop.below)
        if (flow(going, stop.axes, below, steps, words) && passed.get(below)! <= passed.get(stop)!) again = true;
    }
  }
  return order.filter((stop) => stop.bits.some((word) => word !== 0)).map((stop) => reachedAt(stop, words));
}

/** All stops, those that rest on others before what they rest on. */
function stopsUnder(
  plan: Plan,
  keys: readonly number[],
  follow: Follow,
  words: number,
  stops: Map<number, Stop | null>,
): readonly Stop[] {
  const order: Stop[] = [];
  const open: { readonly stop: Stop; readonly left: number[] }[] = [];
  const enter = (key: number): Stop | null => {
    const known = stops.get(key);
    if (known !== undefined) return known;
    const stop = stopAt(plan, key, follow, words);
    stops.set(key, stop);
    if (stop !== null)
      open.push({
        stop,
        left: stop.deeper.includes(1) ? [...stop.node.trace, ...sizesOf(plan, stop.slot)].toReversed() : [],
      });
    return stop;
  };
  for (const key of keys) {
    if (key >= 0) enter(key);
    for (let top = open.at(-1); top !== undefined; top = open.at(-1)) {
      const next = top.left.pop();
      if (next === undefined) {
        order.push(top.stop);
        open.pop();
      } else {
        const below = next < 0 ? null : enter(next);
        if (below !== null) top.stop.below.push({ stop: below, steps: stepsBetween(plan, top.stop, below) });
      }
    }
  }
  return order.reverse();
}

function stopAt(plan: Plan, key: number, follow: Follow, words: number): Stop | null {
  const moment = plan.clock.momentOf(key);
  if (moment.view === 'figure' || moment.view === 'made' || moment.view === 'readings') return null;
  const node = plan.nodeAt(key);
  const axes = axesWithoutLanes(node.value);
  const marks = marksOf(node.value, axes);
  const followed = marks.map((mark) => (follow(mark) ? 1 : 0));
  if (!followed.includes(1)) return null;
  const deeper = followed.map((one, cell) => (one === 1 && restsOnOthers(node, marks, cell) ? 1 : 0));
  const bits = new Uint32Array(marks.length * words);
  return { slot: plan.clock.slotOf(key), moment, node, axes, marks, followed, deeper, below: [], bits };
}

function restsOnOthers(node: Node, marks: Uint8Array, cell: number): boolean {
  const speaker = node.sources?.[cell] ?? Speaker.none;
  return speaker === Speaker.none || speaker === Speaker.formula || marks[cell] === Mark.carriedOver;
}

/** What sizes axes that are not known yet: while it is missing, all along them is. */
function sizesOf(plan: Plan, slot: SlotId): readonly number[] {
  const specified = plan.clock.at('specified');
  return plan.schema.slots[slot]!.axes.flatMap((id) => {
    const axis = plan.schema.axes[plan.schema.axes[id]!.twinOf ?? id]!;
    if (axis.range === null || plan.axes.known(axis.id) !== null) return [];
    const exprs = [axis.range.from, axis.range.to, axis.range.step].filter((expr) => expr !== null);
    return exprs.flatMap(slotsIn).map((size) => plan.keyOf(size, specified));
  });
}

function onlyDeeper(stop: Stop, words: number): Uint32Array | null {
  const going = stop.bits.map((word, at) => (stop.deeper[Math.floor(at / words)] === 1 ? word : 0));
  return going.some((word) => word !== 0) ? going : null;
}

function stepsBetween(plan: Plan, stop: Stop, below: Stop): Steps {
  const { formula, measuredBy } = plan.schema.slots[stop.slot]!;
  const exprs = [formula, measuredBy].filter((expr) => expr !== null);
  return below.slot === stop.slot ? null : stepsTo(plan, exprs, stop.axes, below.slot, below.axes);
}

/** Lets bits along `axes` into the cells of `to` that they rest on; true where any is new there. */
function flow(bits: Uint32Array, axes: readonly Axis[], to: Stop, steps: Steps, words: number): boolean {
  let news = false;
  const into = (cell: number, from: Uint32Array, at: number): void => {
    if (to.followed[cell] === 0) return;
    for (let word = 0; word < words; word++) {
      const before = to.bits[cell * words + word]!;
      const after = (before | from[at * words + word]!) >>> 0;
      if (after !== before) {
        to.bits[cell * words + word] = after;
        news = true;
      }
    }
  };
  if (steps !== null) {
    steps.from.forEach((cell, at) => into(steps.to[at]!, bits, cell));
    return news;
  }
  if (sameAxes(axes, to.axes)) {
    for (let cell = 0; cell < to.followed.length; cell++) into(cell, bits, cell);
    return news;
  }
  const shared = axes.filter((axis) => to.axes.some((other) => other.id === axis.id));
  const outOf = cellsFrom(shared, axes);
  const gathered = new Uint32Array(sizeOf(shared) * words);
  outOf.forEach((place, cell) => {
    for (let word = 0; word < words; word++) gathered[place * words + word]! |= bits[cell * words + word]!;
  });
  cellsFrom(shared, to.axes).forEach((place, cell) => into(cell, gathered, place));
  return news;
}

function reachedAt(stop: Stop, words: number): Reached {
  const { slot, moment, node, axes, marks, bits } = stop;
  let rests: Uint8Array | null = null;
  return {
    slot,
    moment,
    node,
    axes,
    marks,
    startsAt: (cell) => bitsIn(bits.subarray(cell * words, (cell + 1) * words)),
    isEnd: (cell) => {
      rests ??= restsBelow(stop);
      return rests[cell] === 0;
    },
  };
}

/** Cells under which something that was followed lies. */
function restsBelow(stop: Stop): Uint8Array {
  const rests = new Uint8Array(stop.marks.length);
  for (const { stop: below, steps } of stop.below) {
    if (steps === null)
      project(below.followed, below.axes, stop.axes)!.forEach((one, cell) => {
        rests[cell]! |= one;
      });
    else steps.from.forEach((cell, at) => (rests[cell]! |= below.followed[steps.to[at]!]!));
  }
  return rests.map((one, cell) => one & stop.deeper[cell]!);
}

function bitsIn(words: Uint32Array): readonly number[] {
  const found: number[] = [];
  words.forEach((word, at) => {
    for (let bit = 0; bit < 32; bit++) if ((word >>> bit) & 1) found.push(at * 32 + bit);
  });
  return found;
}
