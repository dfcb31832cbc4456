// The JSON that `thou sheet --format json` and `thou check --format json` write: a contract with programs.
// Keys are added within a format, never changed. The published schemas beside it (shared/schema) say the same.

export const resultFormat = 1;

/** A figure, or rows of figures along `axes`, outermost first. */
export type Nested<T> = T | readonly Nested<T>[];

export type ViewName = 'specified' | 'ordered' | 'before' | 'measured';

export interface LimitsCell {
  /** `null`: open on this side. */
  readonly min: number | null;
  readonly max: number | null;
}
export interface CurveCell {
  /** One row of keys an argument; a plain row where there is one argument. */
  readonly keys: readonly number[] | readonly (readonly number[])[];
  readonly keyUnit: string | null | readonly (string | null)[];
  readonly values: readonly number[];
}
/** `null`: missing or not applicable; the state says which. */
export type Cell = number | string | boolean | LimitsCell | CurveCell | null;

export interface ValueResult {
  /** In `unit`; doubles as computed, never rounded, but where there is `along`. */
  readonly value: Nested<Cell>;
  /** `null` for plain numbers and for what is no figure. */
  readonly unit: string | null;
  readonly si: Nested<Cell>;
  readonly axes: readonly string[];
  /**
   * Only of figures along an axis of steps, hundreds of points: that axis. They have seven digits; views are null that are the same as the
   * value, and band and uncertainty are not worked out.
   */
  readonly along?: string;
  readonly layer: Nested<string | null>;
  readonly state: Nested<string>;
  readonly views: Readonly<Record<ViewName, Nested<Cell>>>;
  /** Worst case, in `unit`. */
  readonly band: Nested<readonly [number, number] | null>;
  /** One standard deviation, in `unit`. */
  readonly uncertainty: Nested<number | null>;
}

export interface Place {
  readonly file: string;
  /** From 1. */
  readonly line: number;
}
export type At = Readonly<Record<string, number | string>>;

export interface CheckCellResult {
  readonly at: At;
  readonly state: string;
  readonly value: number | null;
  readonly limits: LimitsCell | null;
  /** How wide the guard band is at each limit: nearer to it than that, on either side, is too close to call. `null`: nothing is unsure. */
  readonly guard: LimitsCell | null;
}
export interface CheckResult {
  readonly id: string;
  /** The worst of its cells. */
  readonly state: string;
  readonly severity: string;
  readonly message: string;
  /** Of the worst cell, in `unit`. */
  readonly value: number | null;
  readonly unit: string | null;
  readonly limits: LimitsCell | null;
  /** Whose limit speaks. */
  readonly source: { readonly words: string; readonly place: Place | null } | null;
  readonly because: string | null;
  readonly path: string | null;
  readonly axes: readonly string[];
  readonly cells: readonly CheckCellResult[];
}
export interface ToMeasureResult {
  readonly path: string;
  readonly at: At;
  readonly label: string;
  readonly why: string | null;
  /** A reading is there, but a later cut has overtaken it. */
  readonly stale: boolean;
  /** Checks that this reading would help to settle. */
  readonly settles: readonly string[];
  /** How much of them, in checks: 1 is one that hangs on this reading alone. The list begins with the greatest. */
  readonly weight: number;
}
/** A size to be bought that the build worked out. */
export interface ToOrderResult {
  readonly path: string;
  /** The part with that size, where the file sees one; else empty. */
  readonly part: string;
  readonly at: At;
  readonly label: string;
  readonly size: number;
  readonly unit: string | null;
  /** The formula that made it, and the figures that it was made of. */
  readonly formula: string;
  readonly from: readonly { readonly name: string; readonly figure: string }[];
}
/** A reading that a later cut has overtaken. */
export interface ReadAgainResult {
  readonly path: string;
  readonly at: At;
  readonly label: string;
  readonly readOn: string | null;
  readonly cut: { readonly label: string; readonly date: string | null };
  /** What was cut there, of what the reading rests on. */
  readonly changed: readonly string[];
  /** Of a derived value: it is worked out on from the reading until it is read again. */
  readonly carriedOver: boolean;
}
/** A task of a list. */
export interface TaskResult {
  readonly path: string;
  readonly at: At;
  readonly label: string;
  readonly done: boolean;
  /** When and by whom, where somebody says so. */
  readonly on: string | null;
  readonly by: string | null;
}
export interface BuildResult {
  readonly name: string;
  readonly variantOf: string | null;
  readonly axisLabels: Readonly<Record<string, readonly (string | number)[]>>;
  readonly values: Readonly<Record<string, ValueResult>>;
  readonly checks: readonly CheckResult[];
  readonly toMeasure: readonly ToMeasureResult[];
  readonly toOrder: readonly ToOrderResult[];
  readonly readAgain: readonly ReadAgainResult[];
  readonly tasks: readonly TaskResult[];
}
export interface SheetResult {
  readonly format: typeof resultFormat;
  readonly thou: string;
  readonly prelude: number | null;
  readonly builds: readonly BuildResult[];
}

export interface ProblemResult {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly related: readonly (Place & { readonly message: string })[];
}
/** What `thou check --format json` writes. */
export interface CheckReportResult {
  readonly format: typeof resultFormat;
  readonly thou: string;
  readonly problems: readonly ProblemResult[];
  readonly counts: Readonly<Record<'error' | 'warning' | 'advice' | 'hint', number>>;
}
