/** What is being gathered while a body is read, and the standing of the place where it is read. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Setting } from '../schema/build.ts';
import type { Draft } from '../schema/draft.ts';
import type { MountId, Origin } from '../schema/schema.ts';
import type { SlotId } from '../ir.ts';
import type { AcceptGiven, Assignment, ExpectGiven, HistoryBlock, Layer, PartFitted, Selector } from './binding.ts';

/** Notes stand on a block and on a figure; the figure's own go first. */
export interface Notes {
  readonly date: string | null;
  readonly hand: string | null;
  readonly instrument: string | null;
  readonly temperature: number | null;
  readonly reason: string | null;
}

export const noNotes: Notes = { date: null, hand: null, instrument: null, temperature: null, reason: null };

export interface BlockDraft extends HistoryBlock {
  /** In the order of writing. */
  readonly written: number;
}

/** How a line was read that gives one figure. */
export interface FigureRead {
  readonly slot: SlotId;
  readonly place: Place;
  /** The part at its mount then: it may say what sizes there are. */
  readonly fitted: string | null;
}

/** Of the parts put on a mount, the one that counts so far. */
export function fittedAt(mount: MountId, parts: readonly PartFitted[]): string | null {
  return parts.findLast((one) => one.mount === mount)?.part ?? null;
}

/** Everything of one build, or the figures that all builds of a scope share. */
export class Collected {
  readonly assignments: Assignment[] = [];
  readonly parts: PartFitted[] = [];
  readonly history: BlockDraft[] = [];
  readonly expects: ExpectGiven[] = [];
  readonly accepts: AcceptGiven[] = [];
  readonly fitted = new Set<MountId>();
  readonly removed = new Set<MountId>();
  readonly setSlots = new Set<SlotId>();
  readonly setMounts = new Set<MountId>();
  /** Lines of the build itself. */
  readonly figuresRead = new Map<ast.Given, FigureRead>();
  private orders = 0;
  private partIds: number;

  constructor(firstPart = 0) {
    this.partIds = firstPart;
  }

  nextOrder(): number {
    return this.orders++;
  }

  nextPart(): number {
    return this.partIds++;
  }

  get partCount(): number {
    return this.partIds;
  }
}

export interface Place {
  readonly setting: Setting;
  readonly draft: Draft;
  readonly into: Collected;
  readonly uri: string;
  readonly mount: MountId;
  readonly selector: Selector;
  readonly layer: Layer;
  /** Greater speaks within the layer; null: the order of writing. */
  readonly order: number | null;
  readonly part: number | null;
  readonly block: number | null;
  readonly notes: Notes;
  readonly whose: string;
  /** What this block gives already, by figure and cells. */
  readonly given: Map<string, ast.Given>;
  /** Parts that are being laid out, innermost last: none may hold itself. */
  readonly partsRound: readonly string[];
}

export function originOf(
  at: ast.Given | ast.Property | ast.Expect | ast.Accept | ast.Machining | ast.Measured,
  place: Place,
): Origin {
  return { uri: place.uri, at };
}
