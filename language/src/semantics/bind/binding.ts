/**
 * What one build gives: every figure with its slot, cells, layer and origin, ready to be laid over each other.
 * Written by bind, read by the plan. No figure is computed here.
 */
import type { AstNode } from 'langium';
import type { Measure } from '@thou/shared/dimension/types';
import type { AxisKey, Expr, SlotId } from '../ir.ts';
import type { AxisId } from '../types/type.ts';
import type { Demand, MountId, Origin, Schema } from '../schema/schema.ts';

/** Lowest first. `default` is the slot's own formula; it has no Assignment. */
export type Layer = 'default' | 'mount-default' | 'practice' | 'part' | 'build' | 'variant' | 'machining' | 'measured';

/** Which cells: an axis not named means all of it. */
export type Selector = readonly { readonly axis: AxisId; readonly key: AxisKey }[];

export interface Assignment {
  readonly slot: SlotId;
  readonly selector: Selector;
  readonly value: Expr;
  readonly layer: Layer;
  /** Within a layer: greater speaks. Practice: nearer files are greater; otherwise the order of writing. */
  readonly order: number;
  /** Figures of a part count only in cells where that part is the one fitted. */
  readonly part: number | null;
  /** Index into `history` for machining and measured. */
  readonly block: number | null;
  readonly date: string | null;
  readonly hand: string | null;
  /** Name of the instrument part, as written. */
  readonly instrument: string | null;
  /** Temperature of the reading in kelvin. */
  readonly temperature: number | null;
  readonly reason: string | null;
  /** Practice label, part name, block label: whose figure it is, in words. */
  readonly whose: string;
  readonly origin: Origin;
  /** The text of the value and of its notes: equal text, layer and cells mean an equal figure. */
  readonly signature: string;
}

/** A part put on a mount, for some cells of the mount's axes. The greatest (layer, order) decides cell by cell. */
export interface PartFitted {
  readonly id: number;
  readonly mount: MountId;
  readonly selector: Selector;
  readonly part: string;
  /** The statement that says what the part is. */
  readonly declared: AstNode;
  readonly layer: Layer;
  readonly order: number;
  readonly origin: Origin;
}

export interface HistoryBlock {
  readonly kind: 'machining' | 'measured';
  readonly label: string;
  /** ISO date, its own or of the block above; null before any date. */ readonly date: string | null;
  readonly hand: string | null;
  readonly instrument: string | null;
  readonly origin: Origin;
}

export interface ExpectGiven {
  readonly demand: Demand;
  readonly because: string | null;
  readonly text: string;
  readonly origin: Origin;
  readonly inherited: boolean;
}
export interface AcceptGiven {
  readonly rule: string;
  readonly selector: readonly { readonly key: AxisKey; readonly axisName: string | null }[];
  readonly within: Expr;
  readonly because: string;
  readonly origin: Origin;
}

export interface Instrument {
  readonly name: string;
  readonly resolution: number | null;
  readonly uncertainty: number | null;
  /** Of what it shows; null where nothing says so. */
  readonly measure: Measure | null;
  readonly calibrated: string | null;
  /** The last day on which its calibration counts. */
  readonly expires: string | null;
  /** Whose calibration it is: its own name, or that of the instrument it has it from. */
  readonly calibration: string;
  /** How it grows with warmth, per kelvin. */
  readonly expansion: number | null;
  /** How far it and what it reads may be apart in warmth, in kelvin. */
  readonly soak: number | null;
  readonly origin: Origin;
}

/** A part or family the file sees, as far as fixes and orders need it. */
export interface BuildBinding {
  readonly name: string;
  readonly schema: Schema;
  /** Build this is a variant of. */
  readonly base: BuildBinding | null;
  /** Its own only; a variant's base keeps its own. */
  readonly assignments: readonly Assignment[];
  readonly parts: readonly PartFitted[];
  /** In the order in which they run. */
  readonly history: readonly HistoryBlock[];
  readonly expects: readonly ExpectGiven[];
  readonly accepts: readonly AcceptGiven[];
  /** Optional mounts that are fitted; `none` puts a mount into `removed`. */
  readonly fitted: ReadonlySet<MountId>;
  readonly removed: ReadonlySet<MountId>;
  /** Slots that the variant sets: all layers of the base for them are dropped. Mounts whose part it replaces: all below is dropped. */
  readonly drops: { readonly slots: ReadonlySet<SlotId>; readonly mounts: ReadonlySet<MountId> };
  readonly instruments: ReadonlyMap<string, Instrument>;
  readonly edition: number;
  readonly origin: Origin;
  readonly doc: string | undefined;
  readonly nameAt: AstNode;
}
