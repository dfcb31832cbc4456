/** Sizes to be bought that the build worked out: nobody wrote them down, so somebody has to order them. */
import type { Outcome, SlotOutcome } from '../plan/outcome.ts';

export interface Order {
  readonly one: SlotOutcome;
  readonly cell: number;
  /** In SI. */
  readonly size: number;
}

/** In the order of the declarations. What is missing has no size, and what does not apply is not bought. */
export function toOrder({ slots }: Pick<Outcome, 'slots'>): readonly Order[] {
  return slots.flatMap((one) => {
    if (!one.slot.features.includes('bought') || one.slot.type.is !== 'measure') return [];
    const value = one.views.measured;
    if (value.is !== 'numbers') return [];
    return one.states.flatMap((state, cell) => {
      const size = value.tensor.data[cell]!;
      const isMadeHere = one.slot.sort === 'derive' || one.layerOf(cell, 'measured') === 'formula';
      return isMadeHere && Number.isFinite(size) && !unknown.has(state) ? [{ one, cell, size }] : [];
    });
  });
}

const unknown: ReadonlySet<string> = new Set(['missing', 'not-applicable', 'measured']);
