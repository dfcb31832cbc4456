/** One slot being laid out cell by cell, with who speaks in each. */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { Slot } from '../schema/schema.ts';
import { Cells, sizeOf } from './cells.ts';
import { where } from './history.ts';
import type { Entry } from './history.ts';
import { asItCame } from './layers.ts';
import type { Laid } from './layers.ts';
import type { Moment } from './moments.ts';
import { shapeOf, Speaker } from './workings.ts';
import type { Workings } from './workings.ts';

export const asRead = (mark: number): number => (mark === Mark.absent || mark === Mark.missing ? mark : Mark.measured);

/** What is laid, over the slot as it stands without its own history. */
export function overBare(workings: Workings, slot: Slot, moment: Moment, layout: Layout): Laid {
  if (layout.cells.complete) return layout.done();
  const bare = workings.node(slot.id, workings.clock.at(moment.view, moment.upTo, true));
  if (layout.empty) return bare;
  layout.cells.lay(bare.value, null, asItCame, (cell) => layout.note(cell, bare.sources?.[cell] ?? Speaker.none));
  return layout.done();
}

export class Layout {
  readonly cells: Cells;
  readonly size: number;
  private readonly sources: Int32Array;
  empty = true;

  constructor(slot: Slot, axes: readonly Axis[]) {
    this.cells = new Cells(shapeOf(slot), axes);
    this.size = sizeOf(axes);
    this.sources = new Int32Array(this.size).fill(Speaker.none);
  }

  lay(entry: Entry, test: ((cell: number) => boolean) | null, markOf: (mark: number) => number): void {
    const mask = test === null ? entry.mask : where(entry.mask, this.size, test);
    this.cells.lay(entry.value, mask, markOf, (cell) => this.note(cell, entry.speaker));
  }

  note(cell: number, speaker: number): void {
    this.sources[cell] = speaker;
    this.empty = false;
  }

  done(): Laid {
    return { value: this.cells.value(), sources: this.sources };
  }
}
