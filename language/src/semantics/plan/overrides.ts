/** Other figures put in the place of some cells, one for all lanes or one a lane. Knows no layers. */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import { along, lanesId, lanesOf, sizeOf } from './cells.ts';
import type { Moment } from './moments.ts';

/** In a view of the build as it is now, or at one earlier moment alone. */
export type Standing = View | Moment;

/** `view` null: in every view. Figures in SI; a list has one figure a lane. */
export interface Override {
  readonly slot: SlotId;
  readonly view: Standing | null;
  readonly cells: ReadonlyMap<number, number | Float64Array>;
}

/** One figure of a slot, wherever it stands. */
export interface FigureAt {
  readonly slot: SlotId;
  readonly cell: number;
  readonly at: readonly Standing[];
}

/** Whether what is put in there is met at a moment. Of a build of so many blocks. */
export function isMetAt(view: Override['view'], moment: Moment, blocks: number): boolean {
  if (view === moment) return true;
  if (moment.bare || moment.upTo !== blocks) return false;
  // a reading put elsewhere moves what is made of readings as well
  return view === null || view === (moment.view === 'readings' ? 'measured' : moment.view);
}

/** Figures put in wherever they stand. */
export function overridesOf(figures: readonly (readonly [FigureAt, number | Float64Array])[]): readonly Override[] {
  const bySlot = new Map<SlotId, Map<Standing, Map<number, number | Float64Array>>>();
  for (const [{ slot, cell, at }, figure] of figures) {
    const here = bySlot.get(slot) ?? new Map<Standing, Map<number, number | Float64Array>>();
    bySlot.set(slot, here);
    for (const view of at) {
      const cells = here.get(view) ?? new Map<number, number | Float64Array>();
      cells.set(cell, figure);
      here.set(view, cells);
    }
  }
  return [...bySlot].flatMap(([slot, here]) => [...here].map(([view, cells]) => ({ slot, view, cells })));
}

/**
 * `changed`: the thing itself is another, so that what was read of derived values is carried along. `unsure`: the thing is
 * the same and only known that well; what was read stays read.
 */
export type Overriding = 'changed' | 'unsure';

export function lanesAxis(size: number): Axis {
  return {
    id: lanesId,
    name: 'lanes',
    size,
    labels: null,
    coordinates: Float64Array.from({ length: size }, (_, at) => at + 1),
  };
}

/** `value` with some cells replaced; their tolerance goes, their mark stays unless they had no figure. */
export function overlaidBy(value: Value, cells: Override['cells'], own: readonly Axis[], lanes: Axis | null): Value {
  if (value.is !== 'numbers') return value;
  const perLane = [...cells.values()].some((figure) => typeof figure !== 'number');
  const across = perLane ? lanes : lanesOf(value);
  const axes = across === null ? own : [across, ...own];
  const from = along(value.tensor, axes);
  const data = from.data.slice();
  const mark = from.mark?.slice() ?? new Uint8Array(data.length);
  const band =
    value.band === null ? null : { low: copy(along(value.band.low, axes)), high: copy(along(value.band.high, axes)) };
  const size = sizeOf(own);
  for (const [cell, figure] of cells)
    for (let at = cell, lane = 0; at < data.length; at += size, lane++) {
      data[at] = typeof figure === 'number' ? figure : figure[lane]!;
      if (mark[at]! >= Mark.missing) mark[at] = Mark.specified;
      if (band !== null) band.low.data[at] = band.high.data[at] = NaN;
    }
  return { is: 'numbers', tensor: { axes, data, mark }, band };
}

function copy<T extends { readonly data: Float64Array }>(tensor: T): T {
  return { ...tensor, data: tensor.data.slice() };
}
