/** Who stands behind a check: whose limit it is, and whose figures it rests on. */
import type { Layer } from '../bind/binding.ts';
import type { Axis } from '../evaluate/value.ts';
import { Mark } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import { cellsFrom } from '../plan/cells.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import { slotsIn } from '../reads.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';
import type { Comparison } from '../schema/schema.ts';
import type { Draft } from './draft.ts';
import { startAt } from './cells.ts';
import type { Judged } from './judge.ts';
import { findingsAbout } from './kept.ts';
import type { Findings } from './kept.ts';
import { reach } from './reach.ts';

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

/** Figures that one cell of a check rests on, most likely culprit first, each with the cell that it speaks in. */
export function blameFor(plan: Plan, judged: Judged, worst: number): CheckOutcome['blame'] {
  const found = restsOn(plan, judged, worst).flatMap(({ slot, cell, speaker }) => {
    const figure = plan.sourceAt(slot, speaker);
    const rank = preferred.indexOf(figure?.source.layer ?? null);
    return figure !== null && rank >= 0 ? [{ figure, rank, slot, cell }] : [];
  });
  found.sort((a, b) => a.rank - b.rank || (b.figure.block ?? 0) - (a.figure.block ?? 0) || a.slot - b.slot);
  const byFigure = Map.groupBy(found, ({ figure }) => figure);
  return [...byFigure].map(([figure, all]) => {
    const { slot, cell } = all[0]!;
    const cells = all.filter((one) => one.slot === slot).map((one) => one.cell);
    return { origin: figure.source.origin, path: plan.schema.slots[slot]!.path, slot, cell, cells };
  });
}

function restsOn(plan: Plan, judged: Judged, worst: number): NonNullable<Findings['restsOn']>['figures'] {
  const about = findingsAbout(judged);
  if (about.restsOn?.of !== worst) {
    const figures = reach(plan, [startAt(judged, [worst])], (mark) => mark !== Mark.absent).flatMap((one) =>
      Array.from(one.marks, (_, cell) => ({
        slot: one.slot,
        cell,
        speaker: one.node.sources?.[cell] ?? Speaker.none,
      })).filter(({ cell, speaker }) => speaker !== Speaker.none && one.startsAt(cell).length > 0),
    );
    about.restsOn = { of: worst, figures };
  }
  return about.restsOn!.figures;
}
