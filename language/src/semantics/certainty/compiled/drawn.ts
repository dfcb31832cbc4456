/** Which drawn figures stand in a slot at a moment. */
import type { SlotId } from '../../ir.ts';
import type { Moment } from '../../plan/moments.ts';
import { isMetAt } from '../../plan/overrides.ts';
import type { FigureAt, Standing } from '../../plan/overrides.ts';
import type { Ref } from './graph.ts';

type Refs = ReadonlyMap<number, Ref>;

export class DrawnFigures {
  private readonly blocks: number;
  private readonly bySlot = new Map<SlotId, Map<Standing, Map<number, Ref>>>();

  /** `refs`: one a figure. Of a build with so many blocks. */
  constructor(blocks: number, figures: readonly FigureAt[], refs: readonly Ref[]) {
    this.blocks = blocks;
    figures.forEach(({ slot, cell, at }, which) => {
      const here = this.bySlot.get(slot) ?? new Map<Standing, Map<number, Ref>>();
      this.bySlot.set(slot, here);
      for (const standing of at) {
        const cells = here.get(standing) ?? new Map<number, Ref>();
        here.set(standing, cells.set(cell, refs[which]!));
      }
    });
  }

  /** By cell; null where none does. */
  at(slot: SlotId, moment: Moment): Refs | null {
    const here = this.bySlot.get(slot);
    if (here === undefined) return null;
    for (const [standing, cells] of here) if (isMetAt(standing, moment, this.blocks)) return cells;
    return null;
  }
}
