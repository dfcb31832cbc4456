/** Sizes that can be had: the nearest for all that is to be turned, or for each place its own. */
import type { Move, Remedy } from './records.ts';
import { moveOf, roomAt, type Bench } from './stepping.ts';
import { cellsBeside, hasAxesOf, type Target } from './targets.ts';

const mostTried = 48;

/** `bad`: cells of the check that are to hold; `judged`: those that must hold afterwards. */
export function boughtFor(bench: Bench, target: Target, bad: readonly number[], judged: readonly number[]): Remedy[] {
  if (target.even) return [];
  const sizes = [...new Set(bench.sizesOf(target.slot.id))];
  if (sizes.length === 0) return [];
  const all = [...target.from.keys()];
  const to = nearestOf(bench, target, sizes, all, judged) ?? eachItsOwn(bench, target, sizes, bad);
  return to === null ? [] : [{ check: bench.gauge.check.id, moves: [moveOf(target, to, false)], aim: 'bought' }];
}

/** One size for all of these cells. */
function nearestOf(
  bench: Bench,
  target: Target,
  sizes: readonly number[],
  moved: readonly number[],
  judged: readonly number[],
): ReadonlyMap<number, number> | null {
  const from = target.from.get(moved[0]!)!;
  const near = sizes
    .filter((size) => (size > from && target.up) || (size < from && target.down))
    .sort((a, b) => Math.abs(a - from) - Math.abs(b - from))
    .slice(0, mostTried);
  for (const size of near) {
    const move: Move = moveOf(target, new Map(moved.map((cell) => [cell, size])), false);
    if (roomAt(bench, [move], judged) >= 0) return move.to;
  }
  return null;
}

function eachItsOwn(
  bench: Bench,
  target: Target,
  sizes: readonly number[],
  bad: readonly number[],
): ReadonlyMap<number, number> | null {
  const { check } = bench.gauge;
  if (!hasAxesOf(target, check)) return null;
  const to = new Map<number, number>();
  for (const cell of bad) {
    const own = nearestOf(bench, target, sizes, cellsBeside(target, check, cell), [cell]);
    if (own === null) return null;
    for (const [at, size] of own) to.set(at, size);
  }
  return to.size === 0 ? null : to;
}
