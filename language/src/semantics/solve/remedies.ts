/**
 * Works back from a check that does not hold: how far each thing that may be turned has to go, with the plan as the only judge. The nearest
 * figure that can be written and at which the check holds surely; never the way that a cut cannot go.
 */
import type { CheckOutcome } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { boughtFor } from './bought.ts';
import { evened } from './even.ts';
import { gaugeOf } from './gauge.ts';
import type { Move, Remedy } from './records.ts';
import { moveOf, onGrid, roomAt, stepped, type Aim, type Bench } from './stepping.ts';
import { cellsBeside, hasAxesOf, hasHistory, targetsOf } from './targets.ts';
import type { Target } from './targets.ts';

export type Wanted = Pick<Bench, 'gridOf' | 'sizesOf'>;

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
  const bench: Bench = { plan, gauge, ...wanted };
  const [bad, judged] = [badCells(check), judgedCells(check)];
  const bought = lines.flatMap((line) => (line.length === 1 ? boughtFor(bench, line[0]!, bad, judged) : []));
  return [...bought, ...lines.flatMap((line) => solvedLine(bench, line))];
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
  return [{ check: check.id, moves: [moveOf(target, to, false)], aim: 'middle' }];
}

/** One line of targets; each stands on those before it. Where it holds, also the way to the middle of its limits. */
function solvedLine(bench: Bench, line: readonly Target[]): Remedy[] {
  const { check } = bench.gauge;
  const cells = judgedCells(check);
  let moves: readonly Move[] = [];
  for (const target of line) {
    const own = target.even ? evened(bench, moves, target) : solved(bench, moves, target, 'holds');
    if (own === null) continue;
    const done: readonly Move[] = [...moves, own];
    if (roomAt(bench, done, cells) >= 0) {
      const middle = target.even || !hasTwoSides(check) ? null : solved(bench, moves, target, 'middle');
      const further = middle !== null && isOther(middle, own) && roomAt(bench, [...moves, middle], cells) >= 0;
      return [
        { check: check.id, moves: done, aim: 'holds' },
        ...(further ? [{ check: check.id, moves: [...moves, middle], aim: 'middle' as const }] : []),
      ];
    }
    moves = done;
  }
  return [];
}

function hasTwoSides({ cells }: CheckOutcome): boolean {
  return cells.filter(isBad).every(({ low, high }) => low !== null && high !== null);
}

function isOther(a: Move, b: Move): boolean {
  return a.to.size !== b.to.size || [...a.to].some(([cell, figure]) => b.to.get(cell) !== figure);
}

/** The same step for all cells, or for every cell that does not hold one of its own. */
function solved(bench: Bench, before: readonly Move[], target: Target, aim: Aim): Move | null {
  const { plan, gauge } = bench;
  const { check } = gauge;
  const bad = badCells(check);
  const all = new Set(target.from.values()).size === 1 && bad.length === judgedCells(check).length;
  const isCellwise = hasAxesOf(target, check) && !(all && !hasHistory(plan, target.slot.id));
  if (!isCellwise) {
    const to = stepped(bench, before, target, [...target.from.keys()], judgedCells(check), aim);
    return to === null ? null : moveOf(target, to, false);
  }
  const to = new Map<number, number>();
  for (const cell of bad) {
    const own = stepped(bench, before, target, cellsBeside(target, check, cell), [cell], aim);
    if (own === null) return null;
    for (const [at, figure] of own) to.set(at, figure);
  }
  return to.size === 0 ? null : moveOf(target, to, false);
}
