/**
 * Everything that follows from one build, for every consumer alike: diagnostics, hover, sheet, JSON, command line.
 * Figures are in SI; nothing here is text for a person except reasons that a builder wrote.
 */
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import type { Assignment, BuildBinding, ExpectGiven, HistoryBlock, Layer, AcceptGiven } from '../bind/binding.ts';
import type { Origin, SchemaRule, Slot } from '../schema/schema.ts';

export type ValueState = 'measured' | 'carried-over' | 'ordered' | 'specified' | 'missing' | 'not-applicable';
export type CheckState =
  'holds-measured' | 'holds-on-paper' | 'at-risk' | 'out-of-limits' | 'accepted' | 'cannot-tell' | 'not-applicable';
export type Severity = 'error' | 'warning' | 'advice' | 'hint';

/** A reading that was not taken at 20 °C: brought there, from what it was as read (null where other readings were); or left as it was read. */
export type ReadWarm = { readonly is: 'brought'; readonly asRead: number | null } | { readonly is: 'left' };

export interface SlotOutcome {
  readonly slot: Slot;
  readonly axes: readonly Axis[];
  /** Cells along `axes`, in every view; the same object where views do not differ. `measured` is the value. */
  readonly views: Readonly<Record<View, Value>>;
  readonly states: readonly ValueState[];
  /** Whose figure each cell is; `formula` for a derive or a computed default. */
  layerOf(cell: number, view: View): Layer | 'formula' | null;
  sourceOf(cell: number, view: View): Assignment | null;
  /** Null where the reading needed nothing, or where there is none. */
  warmOf(cell: number, view: View): ReadWarm | null;
  /** All that was said of the cell, lowest first: what the hover and `explain` show as steps. */
  historyOf(cell: number): readonly {
    readonly layer: Layer | 'formula';
    readonly value: number;
    readonly source: Assignment | null;
    readonly warm: ReadWarm | null;
    readonly speaks: boolean;
  }[];
  /** Worst case from tolerances of what it is made of; null where nothing has a tolerance. One a cell. */
  band(): readonly ({ readonly low: number; readonly high: number } | null)[];
  /** Standard uncertainty from the same, one a cell; null where there is none. */
  uncertainty(): readonly (number | null)[];
}

export interface CheckCell {
  /** Place on each axis of the check. */
  readonly places: readonly number[];
  readonly state: CheckState;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Reading and order both tolerated: the band the value may lie in. */
  readonly band: { readonly low: number; readonly high: number } | null;
  /** How wide the guard band is at each limit; null where nothing is unsure. */
  readonly guard: { readonly low: number | null; readonly high: number | null } | null;
  /** Paths with cells of what is missing, for cannot-tell. */
  readonly missing: readonly MissingInput[];
  readonly accept: AcceptGiven | null;
}
export interface MissingInput {
  readonly path: string;
  readonly slot: SlotId;
  readonly cell: number;
  /** `row[3].width` */ readonly label: string;
  readonly why: string | null;
  /** a reading that a later cut has overtaken */ readonly stale: boolean;
}

/** A reading that a later cut has overtaken. */
export interface Overtaken {
  readonly slot: SlotId;
  readonly cell: number;
  readonly reading: Assignment;
  readonly cut: HistoryBlock;
  /** What was cut there, of what the reading rests on. */
  readonly what: readonly SlotId[];
  /** Of a derived value: it is worked out on from the reading until it is read again. */
  readonly carried: boolean;
}

export interface CheckOutcome {
  /** `left.flatness`, `left.plate.width.to-size`, `expect width within …`. */
  readonly id: string;
  readonly kind: 'rule' | 'expect' | 'to-size';
  readonly severity: Severity;
  readonly rule: SchemaRule | null;
  readonly expect: ExpectGiven | null;
  /** Slot on the left side, where it is one. */
  readonly slot: Slot | null;
  readonly axes: readonly Axis[];
  readonly cells: readonly CheckCell[];
  readonly state: CheckState;
  readonly because: string | null;
  /** Whose limit speaks, in words and where it stands: practice label, part, build. */
  readonly limitFrom: {
    readonly words: string;
    readonly origin: Origin | null;
    readonly layer: Layer | 'rule' | 'expect';
  } | null;
  readonly origin: Origin;
  /** Where squiggles go when it is out: the figures given that it rests on, worst cell's own reading first. */
  readonly blame: readonly {
    readonly origin: Origin;
    readonly path: string;
    readonly slot: SlotId;
    readonly cell: number;
    /** All cells of that figure on which the worst cell rests. */
    readonly cells: readonly number[];
  }[];
  /** Id of the cause that clears this and others when it returns to what was specified. */
  readonly cause: number | null;
}
export interface Cause {
  readonly id: number;
  readonly slot: SlotId;
  readonly cell: number;
  readonly label: string;
  readonly origin: Origin | null;
  readonly checks: readonly string[];
}

/** A slip found while laying figures together: a list too short, an accept that matches nothing, a key off its axis. */
export interface PlanProblem {
  readonly code: string;
  readonly severity: Severity;
  readonly args: Readonly<Record<string, string>>;
  readonly origin: Origin;
  readonly related: readonly Origin[];
}

export interface Outcome {
  readonly binding: BuildBinding;
  readonly axes: ReadonlyMap<number, Axis>;
  readonly slots: readonly SlotOutcome[];
  readonly checks: readonly CheckOutcome[];
  readonly causes: readonly Cause[];
  readonly toMeasure: readonly { readonly input: MissingInput; readonly settles: readonly string[] }[];
  /** In the order of the declarations. */
  readonly readAgain: readonly Overtaken[];
  readonly problems: readonly PlanProblem[];
  /** Texts by number: what a text-valued cell means. */
  readonly texts: readonly string[];
  tensorOf(slot: SlotId, view?: View): Tensor | null;
}
