/**
 * Evening out: every place is turned until its effect is that of the one that can go no further. The effect is what the check takes the spread
 * of; where it takes none, the figures themselves are brought to one another.
 */
import { Mark } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { partsOf } from '../reads.ts';
import { tensorOf } from '../check/question.ts';
import type { Move } from './records.ts';
import { moveOf, onGrid, overrides, viewOf, type Bench } from './stepping.ts';
import type { Target } from './targets.ts';

/** Null where all are alike already. */
export function evened(bench: Bench, before: readonly Move[], target: Target): Move | null {
  return byEffect(bench, before, target) ?? byFigure(target);
}

/** All cells to the one that can go no further. */
function byFigure(target: Target): Move | null {
  const figures = [...target.from.values()];
  const last = target.down && !target.up ? Math.min(...figures) : Math.max(...figures);
  const to = new Map([...target.from].flatMap(([cell, figure]) => (figure === last ? [] : [[cell, last] as const])));
  return to.size === 0 ? null : moveOf(target, to, true);
}

const mostRounds = 12;

function byEffect({ plan, gauge, gridOf }: Bench, before: readonly Move[], target: Target): Move | null {
  const effect = effectIn(plan, gauge.check, target);
  if (effect === null) return null;
  const { slot, from, up } = target;
  const cells = [...from.keys()];
  const effects = (figures: readonly number[]): number[] | null => {
    const own = {
      slot: slot.id,
      view: viewOf(plan, slot.id),
      cells: new Map(cells.map((cell, at) => [cell, figures[at]!])),
    };
    const { axes, data, mark } = tensorOf(
      plan.withInputs([...overrides(plan, before, slot.id), own]).watch(effect).value,
    );
    const isAlong = axes.length === target.axes.length && axes.every(({ id }, at) => id === target.axes[at]!.id);
    const known = isAlong && cells.every((cell) => markAt(mark, cell) < Mark.missing);
    return known ? cells.map((cell) => data[cell]!) : null;
  };
  const start = cells.map((cell) => from.get(cell)!);
  const first = effects(start);
  const { step } = gridOf(slot.id, cells[0]!);
  const way = up ? 1 : -1;
  let last = start;
  let now = start.map((figure) => figure + way * step);
  let was = first;
  let is = effects(now);
  if (first === null || was === null || is === null) return null;
  const rises = is.every((one, at) => one > first[at]!);
  if (!rises && !is.every((one, at) => one < first[at]!)) return null;
  const wanted = rises ? Math.max(...first) : Math.min(...first);
  for (let round = 0; round < mostRounds; round++) {
    const next = now.map((figure, at) => {
      const slope = (is![at]! - was![at]!) / (figure - last[at]!);
      return Number.isFinite(slope) && slope !== 0 ? figure + (wanted - is![at]!) / slope : figure;
    });
    [last, was, now] = [now, is, next];
    is = effects(now);
    if (is === null || now.some((figure) => !Number.isFinite(figure))) return null;
    if (now.every((figure, at) => Math.abs(figure - last[at]!) < step / 64)) break;
  }
  const to = new Map<number, number>();
  cells.forEach((cell, at) => {
    const figure = onGrid(now[at]!, gridOf(slot.id, cell), 0);
    if ((figure - start[at]!) * way > step / 2) to.set(cell, figure);
  });
  return to.size === 0 ? null : moveOf(target, to, true);
}

/** What is spread along the axes of the target, in the check's own formula or in those under it. */
function effectIn(plan: Plan, { rule, expect }: CheckOutcome, { axes }: Target): Expr | null {
  const seen = new Set<SlotId>();
  const open = ((rule ?? expect)?.demand.comparisons ?? []).map(({ value }) => value);
  for (let expr = open.shift(); expr; expr = open.shift()) {
    if (expr.op === 'reduce' && expr.function === 'spread' && axes.length > 0)
      return axes.every(({ id }) => expr!.op === 'reduce' && expr!.over.includes(id)) ? expr.of : null;
    if (expr.op === 'slot' && !seen.has(expr.slot)) {
      seen.add(expr.slot);
      const { formula } = plan.schema.slots[expr.slot]!;
      if (formula) open.push(formula);
    }
    open.push(...partsOf(expr));
  }
  return null;
}
