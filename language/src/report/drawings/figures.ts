// Figures of one build as drawings take them: by path, in the unit in which they are shown.
import type { ChartAxis } from '@thou/shared/drawing/chart';
import type { Axis } from '../../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { cellCount, held, placesOf } from '../cells.ts';
import { pathWords } from '../check-words.ts';
import { unitText } from '../figures.ts';
import { inUnit, showingsIn, type Showing } from '../units.ts';

/** With their decimals where the declaration does not say. */
const usualDecimals = 4;

export function slotAt(outcome: Outcome, path: string): SlotOutcome | null {
  return outcome.slots.find(({ slot }) => slot.path === path) ?? null;
}

export function showingOf(outcome: Outcome, { slot }: SlotOutcome): Showing {
  return showingsIn(outcome, slot)[0]!;
}

export function axisOf(outcome: Outcome, one: SlotOutcome): ChartAxis {
  const showing = showingOf(outcome, one);
  return { name: pathWords(one.slot.path), unit: unitText(showing), decimals: showing.decimals ?? usualDecimals };
}

/** The value of one cell in SI; null where there is none. */
export function figureAt(one: SlotOutcome, cell: number): number | null {
  const content = held(one.views.measured, one.axes, cell);
  return content.is === 'number' && Number.isFinite(content.value) ? content.value : null;
}

/** The figure at the places of another figure's cell: axes that it does not have play no part; where it has one more, null. */
export function figureBeside(one: SlotOutcome, axes: readonly Axis[], places: readonly number[]): number | null {
  let cell = 0;
  for (const axis of one.axes) {
    const at = axes.findIndex(({ id }) => id === axis.id);
    if (at < 0 && axis.size > 1) return null;
    cell = cell * axis.size + (at < 0 ? 0 : (places[at] ?? 0));
  }
  return figureAt(one, cell);
}

/** The first place that has a figure, shown; null where none has. */
export function anyFigure(
  outcome: Outcome,
  path: string,
): { readonly one: SlotOutcome; readonly si: number; readonly shown: number } | null {
  const one = slotAt(outcome, path);
  if (!one) return null;
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const si = figureAt(one, cell);
    if (si !== null) return { one, si, shown: inUnit(si, showingOf(outcome, one)) };
  }
  return null;
}

/** Cells of a figure as runs along one of its axes: each run with the places of the other axes. */
export function runsAlong(
  one: SlotOutcome,
  axisName: string,
): {
  readonly axis: Axis;
  readonly runs: readonly { readonly cells: readonly number[]; readonly si: Float64Array }[];
} | null {
  const at = one.axes.findIndex(({ name }) => name === axisName);
  const axis = one.axes[at];
  if (!axis) return null;
  const runs = new Map<string, number[]>();
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const key = placesOf(one.axes, cell)
      .filter((_, index) => index !== at)
      .join();
    const run = runs.get(key);
    if (run) run.push(cell);
    else runs.set(key, [cell]);
  }
  return {
    axis,
    runs: [...runs.values()].map((cells) => ({
      cells,
      si: Float64Array.from(cells, (cell) => figureAt(one, cell) ?? NaN),
    })),
  };
}
