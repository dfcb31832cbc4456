/** What working back from a target gives: figures to change, and what follows. No text for a person. */
import type { SlotId } from '../ir.ts';
import type { CheckOutcome, SlotOutcome } from '../plan/outcome.ts';

/** One figure changed in some cells. Figures in SI. */
export interface Move {
  readonly slot: SlotId;
  /** By cell of the slot: what it becomes. */
  readonly to: ReadonlyMap<number, number>;
  /** By cell: what it is now. */
  readonly from: ReadonlyMap<number, number>;
  /** All cells of the slot change, and become alike. */
  readonly whole: boolean;
  /** All cells were brought to the one that can go no further. */
  readonly even: boolean;
}

/** One way to make a check hold: changes that belong together, in the order in which they are made. */
export interface Remedy {
  readonly check: string;
  readonly moves: readonly Move[];
  /** So far that it just holds, to the middle of its limits, or to a size that can be had. */
  readonly aim: 'holds' | 'middle' | 'bought';
}

/** How finely a slot's figures may be written: a step in SI, and where its marks begin. */
export interface Grid {
  readonly step: number;
  readonly from: number;
}

/** A figure that moved by more than its last shown digit. */
export interface Moved {
  readonly before: SlotOutcome;
  readonly after: SlotOutcome;
  /** The cell that moved furthest. */
  readonly cell: number;
  readonly from: number;
  readonly to: number;
}

export interface Changed {
  readonly id: string;
  readonly before: CheckOutcome | null;
  readonly after: CheckOutcome | null;
}

export interface Consequences {
  /** Checks some of whose cells are out of limits or at risk that were not. */
  readonly worse: readonly Changed[];
  /** Checks some of whose cells hold that did not, and none of which got worse. */
  readonly better: readonly Changed[];
  readonly moved: readonly Moved[];
}
