/**
 * Lengths read warm or cold, brought to 20 °C by how much the thing and the instrument grow, where both are known. How a thing grows is the
 * figure called `expansion` on its mount, or on the nearest mount round it.
 * Source: ISO 1 (sizes hold at 20 °C); linear expansion.
 */
import { baseOnly, dimension } from '@thou/shared/dimension/dimension';
import type { Dimension } from '@thou/shared/dimension/dimension';
import { unionAxes } from '../evaluate/broadcast.ts';
import { Mark } from '../evaluate/value.ts';
import type { Tensor, Value } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { MountId, Schema, Slot } from '../schema/schema.ts';
import { along } from './cells.ts';
import type { Figure } from './figures.ts';
import { instrumentOf } from './instruments.ts';
import type { Workings } from './workings.ts';

/** ISO 1, in kelvin. */
const reference = 293.15;
const growthName = 'expansion';
const length = baseOnly('length');
const perKelvin = dimension({ temperature: -1 });

/** Growth per kelvin of the thing that a length is read on, one figure a cell; null where it is no such length, or where it is not known. */
export function growthOf(workings: Workings, slot: Slot): Tensor | null {
  const id = slot.sort === 'property' && isMeasured(slot, length) ? growthSlot(workings.schema, slot.mount) : null;
  if (id === null) return null;
  const { value } = workings.node(id, workings.clock.at('specified'));
  if (value.is !== 'numbers') return null;
  const { tensor } = value;
  return tensor.mark?.some((mark) => mark >= Mark.missing) === true ? null : tensor;
}

function isMeasured({ type }: Slot, dimension: Dimension): boolean {
  return type.is === 'measure' && type.measure.dimension === dimension;
}

function growthSlot(schema: Schema, mount: MountId): SlotId | null {
  const { path, parent } = schema.mounts[mount]!;
  const id = schema.slotAt.get(path === '' ? growthName : `${path}.${growthName}`);
  if (id !== undefined && isMeasured(schema.slots[id]!, perKelvin)) return id;
  return parent === null ? null : growthSlot(schema, parent);
}

/** How a reading stands with the temperature noted beside it. */
export type Warmth =
  | { readonly is: 'brought'; readonly factor: Tensor }
  /** It would have to be brought to 20 °C, but nobody says how the instrument grows. */
  | { readonly is: 'left' };

/** Null for what needs nothing: no temperature, 20 °C, no length, or nothing known of the thing itself. */
export function warmthOf(workings: Workings, figure: Figure): Warmth | null {
  const { temperature, slot, layer } = figure.source;
  const apart = temperature === null ? 0 : temperature - reference;
  if (layer !== 'measured' || Math.abs(apart) < 1e-9) return null;
  const growth = growthOf(workings, workings.schema.slots[slot]!);
  if (growth === null) return null;
  const gauge = instrumentOf(workings, figure)?.expansion ?? null;
  if (gauge === null) return { is: 'left' };
  return {
    is: 'brought',
    factor: { ...growth, data: growth.data.map((own) => (1 + gauge * apart) / (1 + own * apart)) },
  };
}

/** The temperature that the figure holds at, in kelvin. */
export function holdsAt(workings: Workings, figure: Figure): number | null {
  return warmthOf(workings, figure)?.is === 'brought' ? reference : figure.source.temperature;
}

/** A figure as it was read, as it is at 20 °C. */
export function atReference(workings: Workings, figure: Figure, value: Value): Value {
  restOnGrowth(workings, figure);
  const warmth = value.is === 'numbers' ? warmthOf(workings, figure) : null;
  if (value.is !== 'numbers' || warmth?.is !== 'brought') return value;
  const axes = unionAxes(value.tensor.axes, warmth.factor.axes);
  const factor = along(warmth.factor, axes).data;
  const scaled = (tensor: Tensor): Tensor => {
    const laid = along(tensor, axes);
    return { ...laid, data: laid.data.map((figure, cell) => figure * factor[cell]!) };
  };
  const { tensor, band } = value;
  return {
    is: 'numbers',
    tensor: scaled(tensor),
    band: band === null ? null : { low: scaled(band.low), high: scaled(band.high) },
  };
}

/** How sure a reading is may rest on how the thing grows, also where nothing is brought anywhere. */
function restOnGrowth(workings: Workings, figure: Figure): void {
  if ((instrumentOf(workings, figure)?.soak ?? 0) > 0) growthOf(workings, workings.schema.slots[figure.source.slot]!);
}
