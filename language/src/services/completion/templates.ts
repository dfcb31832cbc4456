/** Statements to begin with, filled with names that are there: what is inserted is whole before anything is changed in it. */
import type { Ground } from '../../semantics/bind/build.ts';
import type { Draft } from '../../semantics/schema/draft.ts';
import type { Slot } from '../../semantics/schema/schema.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import type { Trial } from './trial.ts';

/** `name within 0..1 unit` for a figure that the mount has, computed ones first; null where it has none. */
export function expectation({ draft, mount }: Trial, { setting }: Ground): string | null {
  const slots = nearest(draft, mount);
  const slot = slots.find(({ sort }) => sort === 'derive') ?? slots[0];
  if (!slot || slot.type.is !== 'measure') return null;
  const { measure } = slot.type;
  const unit = slot.shown[0]?.unit?.symbol ?? setting.library.units.offered(measure.dimension)[0]?.symbol;
  const text = isNone(measure.dimension) || unit === undefined ? '' : ` ${unit}`;
  return `\${2:${slot.name}} within \${3:0..1${text}}`;
}

function nearest(draft: Draft, mount: number): Slot[] {
  for (let at: number | null = mount; at !== null; at = draft.mounts[at]?.parent ?? null) {
    const slots = (draft.mounts[at]?.slots ?? [])
      .map((slot) => draft.slots[slot]!)
      .filter(({ type }) => type.is === 'measure' && type.measure.kind !== 'point');
    if (slots.length > 0) return slots;
  }
  return [];
}
