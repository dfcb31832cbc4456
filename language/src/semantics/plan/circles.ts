/** Circles of formulas that were met and cut: where to cut them, and which slots to name. */
import type { SlotId } from '../ir.ts';
import type { Clock } from './moments.ts';

export interface Circle {
  readonly slots: readonly SlotId[];
  readonly keys: readonly number[];
}

export class Circles {
  private readonly clock: Clock;
  private readonly met = new Map<string, Circle>();
  /** Keys whose formula is given up. */
  readonly withoutFormula = new Set<number>();

  constructor(clock: Clock) {
    this.clock = clock;
  }

  /** The same wherever the circle was entered: the first of its slots. */
  head(circle: readonly number[]): number {
    const bySlot = (a: number, b: number): number => this.clock.slotOf(a) - this.clock.slotOf(b) || a - b;
    return [...circle].sort(bySlot)[0]!;
  }

  /** Circles through the same slots count once, in whatever view. */
  note(keys: readonly number[]): void {
    const slots = [...new Set(keys.map((key) => this.clock.slotOf(key)))].sort((a, b) => a - b);
    const name = slots.join(' ');
    const known = this.met.get(name);
    this.met.set(name, { slots, keys: [...new Set([...(known?.keys ?? []), ...keys])] });
  }

  all(): readonly Circle[] {
    return [...this.met.values()];
  }
}
