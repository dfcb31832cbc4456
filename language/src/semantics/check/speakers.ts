/** Who stands behind a check: whose limit it is, and whose figures it rests on. */
import type { Layer } from '../bind/binding.ts';
import type { Axis } from '../evaluate/value.ts';
import { Mark } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import { cellsFrom } from '../plan/cells.ts';
import type { Figure } from '../plan/figures.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import { slotsIn } from '../reads.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';
import type { Comparison, Origin } from '../schema/schema.ts';
import type { Draft } from './draft.ts';
import { reach } from './reach.ts';
import type { Start } from './reach.ts';

type LimitFrom = NonNullable<CheckOutcome['limitFrom']>;

/** Follows the limits to the slot that they come from and to the figure that speaks there in this cell. */
export function limitFrom(
  plan: Plan,
  draft: Draft,
  comparison: Comparison | null,
  axes: readonly Axis[],
  cell: number,
): LimitFrom {
  if (draft.expect !== null) return { words: draft.expect.text, origin: draft.expect.origin, layer: 'expect' };
  const exprs: readonly (Expr | null)[] =
    comparison === null ? [] : [comparison.limits, comparison.low, comparison.high];
  const slot = exprs.flatMap((expr) => (expr === null ? [] : slotsIn(expr)))[0];
  if (slot === undefined) return { words: draft.id, origin: draft.origin, layer: 'rule' };
  const node = plan.valueOf(slot, 'measured');
  const own = axesWithoutLanes(node.value);
  const at = cellsFrom(own, axes)[cell] ?? 0;
  const figure = plan.sourceAt(slot, node.sources?.[at] ?? Speaker.none);
  if (figure !== null) return { words: figure.source.whose, origin: figure.source.origin, layer: figure.source.layer };
  return { words: plan.schema.slots[slot]!.path, origin: plan.schema.slots[slot]!.origin, layer: 'default' };
}

const preferred: readonly (Layer | null)[] = ['measured', 'machining', 'variant', 'build', 'part'];

/** Figures that the cell rests on, most likely culprit first. */
export function blameFor(plan: Plan, start: Start): readonly { readonly origin: Origin; readonly path: string }[] {
  const found = reach(plan, [start], (mark) => mark !== Mark.absent).flatMap((one) =>
    Array.from(one.marks, (_, at) => {
      const figure =
        one.startsAt(at).length > 0 ? plan.sourceAt(one.slot, one.node.sources?.[at] ?? Speaker.none) : null;
      return { figure, rank: preferred.indexOf(figure?.source.layer ?? null), slot: one.slot };
    }).filter((one) => one.figure !== null && one.rank >= 0),
  ) as { readonly figure: Figure; readonly rank: number; readonly slot: SlotId }[];
  found.sort((a, b) => a.rank - b.rank || (b.figure.block ?? 0) - (a.figure.block ?? 0) || a.slot - b.slot);
  const seen = new Set<unknown>();
  return found.flatMap(({ figure, slot }) => {
    const { origin } = figure.source;
    if (seen.has(figure)) return [];
    seen.add(figure);
    return [{ origin, path: plan.schema.slots[slot]!.path }];
  });
}
