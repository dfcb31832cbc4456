/** Other figures put in the place of some cells, one for all lanes or one a lane. Knows no layers. */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import { along, lanesId, lanesOf, sizeOf } from './cells.ts';

/** `view` null: in every view. Figures in SI; a list has one figure a lane. */
export interface Override {
  readonly slot: SlotId;
  readonly view: View | null;
  readonly cells: ReadonlyMap<number, number | Float64Array>;
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
