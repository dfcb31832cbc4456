/**
 * When and how a build is looked at: a view, and how many blocks of its history have been. Moments are numbered once,
 * so that a slot at a moment is one number. Knows no figures.
 */
import type { SlotId, View } from '../ir.ts';

/**
 * `readings`: nothing but readings (and what is exact). `made`: the reading that follows from such readings.
 * `figure`: one machining or reading of the slot alone, at its block.
 */
export type Sight = View | 'readings' | 'made' | 'figure';

const sights: readonly Sight[] = ['measured', 'specified', 'ordered', 'before', 'readings', 'made', 'figure'];

export interface Moment {
  readonly index: number;
  readonly view: Sight;
  /** Blocks before this one have been. */
  readonly upTo: number;
  /** Readings before this block do not count: for `readings` and `made`. Which one, for `figure`. */
  readonly from: number;
  /** As it stands before the slot's own machining and readings: of a derive its formula. */
  readonly bare: boolean;
}

export class Clock {
  readonly blocks: number;
  private readonly slots: number;
  private readonly moments: Moment[] = [];
  private readonly known = new Map<number, Moment>();

  constructor(blocks: number, slots: number) {
    this.blocks = blocks;
    this.slots = Math.max(1, slots);
  }

  at(view: Sight, upTo: number = this.blocks, bare = false, from = 0): Moment {
    const key = ((from * (this.blocks + 1) + upTo) * sights.length + sights.indexOf(view)) * 2 + Number(bare);
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const moment: Moment = { index: this.moments.length, view, upTo, from, bare };
    this.moments.push(moment);
    this.known.set(key, moment);
    return moment;
  }

  keyOf(slot: SlotId, moment: Moment): number {
    return moment.index * this.slots + slot;
  }

  slotOf(key: number): SlotId {
    return key % this.slots;
  }

  momentOf(key: number): Moment {
    return this.moments[Math.floor(key / this.slots)]!;
  }
}
