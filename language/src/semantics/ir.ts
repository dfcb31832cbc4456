/**
 * Expressions after names, dimensions and axes are settled: what the evaluator runs.
 * Nothing here is looked up by name; every figure is in SI; no syntax tree is needed to evaluate it
 * (`at` leads back to the text for explaining and messages, and is never read while evaluating).
 */
import type { AstNode } from 'langium';
import type { AxisId, ExprType } from './types/type.ts';

export type SlotId = number;
export type View = 'specified' | 'ordered' | 'before' | 'measured';

interface Common {
  readonly type: ExprType;
  readonly at: AstNode | null;
}

/** A number in SI; a flag as 0 or 1; a choice as its place in the type's names; an index as its place on its axis from 0; a date as days since 1970-01-01; a text as its number in `texts`. */
export interface Constant extends Common {
  readonly op: 'constant';
  readonly value: number;
}
/** `_`, or `unknown("why")`. */
export interface Missing extends Common {
  readonly op: 'missing';
  readonly why: string | null;
}
/** A property or derived value, in the view that is being evaluated. */
export interface SlotRead extends Common {
  readonly op: 'slot';
  readonly slot: SlotId;
}
/** `let` binds one more local for its body; locals are numbered outermost first within one formula. */
export interface Let extends Common {
  readonly op: 'let';
  readonly local: number;
  readonly name: string;
  readonly value: Expr;
  readonly body: Expr;
}
export interface LocalRead extends Common {
  readonly op: 'local';
  readonly local: number;
  readonly name: string;
}
/** The value just before this block: only in machining and in variants; for the cells of the slot that is being set. */
export interface Was extends Common {
  readonly op: 'was';
  readonly slot: SlotId;
}
/** An axis used as a value: the place of each cell on it (type index). */
export interface Place extends Common {
  readonly op: 'place';
  readonly axis: AxisId;
}
/** The quantity of a place on a numeric axis: `coordinate(i)`; an axis with a step used as a value is this directly. `of` null: of the axis itself. */
export interface Coordinate extends Common {
  readonly op: 'coordinate';
  readonly axis: AxisId;
  readonly of: Expr | null;
}

export type Binary = '+' | '-' | '*' | '/' | '^' | '==' | '!=' | '<' | '<=' | '>' | '>=' | 'and' | 'or' | 'otherwise';
export interface BinaryOp extends Common {
  readonly op: 'binary';
  readonly operator: Binary;
  readonly left: Expr;
  readonly right: Expr;
}
export interface Negate extends Common {
  readonly op: 'negate';
  readonly of: Expr;
}
export interface Not extends Common {
  readonly op: 'not';
  readonly of: Expr;
}
export interface Within extends Common {
  readonly op: 'within';
  readonly value: Expr;
  readonly limits: Expr;
}
/** Only the branch taken counts, cell by cell: what is missing in the other does not matter. */
export interface Choose extends Common {
  readonly op: 'if';
  readonly condition: Expr;
  readonly yes: Expr;
  readonly no: Expr;
}
/** `[street: a, others: b] by subject`: cases by choice number or by place. */
export interface ByChoice extends Common {
  readonly op: 'by-choice';
  readonly subject: Expr;
  readonly cases: readonly { readonly key: number; readonly value: Expr }[];
  readonly others: Expr | null;
}

/** Elementwise built-ins and those that look at a value's standing; broadcast over axes. Options (`nearest`, `up`, `linear`) are in `option`. */
export type Elementwise =
  | 'abs'
  | 'sign'
  | 'largest'
  | 'smallest'
  | 'sqrt'
  | 'exp'
  | 'log'
  | 'log10'
  | 'sin'
  | 'cos'
  | 'tan'
  | 'asin'
  | 'acos'
  | 'atan'
  | 'atan2'
  | 'hypot'
  | 'wrap'
  | 'wrap-centred'
  | 'to-step'
  | 'round'
  | 'floor'
  | 'ceiling'
  | 'absolute'
  | 'low'
  | 'middle'
  | 'high'
  | 'given'
  | 'present'
  | 'machined'
  | 'uncertainty'
  | 'read-on'
  | 'read-at';
export interface Apply extends Common {
  readonly op: 'apply';
  readonly function: Elementwise;
  readonly args: readonly Expr[];
  readonly option: string | null;
}
/** specified(x), ordered(x), before(x), measured(x); computed(x): the formula of a derive without its readings. */
export interface InView extends Common {
  readonly op: 'view';
  readonly view: View | 'computed';
  readonly of: Expr;
}

export type Reduction =
  | 'sum'
  | 'min'
  | 'max'
  | 'mean'
  | 'spread'
  | 'count'
  | 'any'
  | 'all'
  | 'where-least'
  | 'where-most'
  | 'where-first'
  | 'least'
  | 'most'
  | 'least-at'
  | 'most-at'
  | 'area';
export interface Reduce extends Common {
  readonly op: 'reduce';
  readonly function: Reduction;
  readonly of: Expr;
  readonly over: readonly AxisId[];
  readonly where: Expr | null;
  /** `by g`: cells are grouped by the place that `index` gives, onto axis `to`. */
  readonly by: { readonly index: Expr; readonly to: AxisId } | null;
}
export type AlongAxis = 'next' | 'previous' | 'running' | 'rank' | 'slope' | 'smoothed';
/** `smoothed` has args window, order. */
export interface Along extends Common {
  readonly op: 'along';
  readonly function: AlongAxis;
  readonly of: Expr;
  readonly axis: AxisId;
  readonly args: readonly Expr[];
}
/** inverse(p: a per b): b per a. */
export interface Inverse extends Common {
  readonly op: 'inverse';
  readonly of: Expr;
  readonly from: AxisId;
  readonly to: AxisId;
}
/** x[i] with i an index: the axis of x is replaced by i's axes. A constant index is a slice. */
export interface Gather extends Common {
  readonly op: 'gather';
  readonly of: Expr;
  readonly axis: AxisId;
  readonly index: Expr;
}
/** The same cells under a twin axis. */
export interface Retitle extends Common {
  readonly op: 'retitle';
  readonly of: Expr;
  readonly from: AxisId;
  readonly to: AxisId;
}

/** A key on an axis: a label, or a number (1, 2 … or a coordinate in SI); the plan finds its place. */
export interface AxisKey {
  readonly label: string | null;
  readonly number: number | null;
  readonly at: AstNode | null;
}
/** `[…]` along an axis. Entries without keys stand in order and must be as many as the axis is long. */
export interface ListOf extends Common {
  readonly op: 'list';
  readonly axis: AxisId;
  readonly entries: readonly { readonly key: AxisKey | null; readonly value: Expr }[];
  readonly others: Expr | null;
}
/** Cells read from a file: one row a cell; a cell without a row, or with an empty one, is no reading. */
export interface Table extends Common {
  readonly op: 'table';
  readonly axes: readonly AxisId[];
  readonly rows: readonly { readonly keys: readonly AxisKey[]; readonly value: number | null; readonly line: number }[];
  readonly file: string;
}
export interface Toleranced extends Common {
  readonly op: 'toleranced';
  readonly nominal: Expr;
  readonly low: Expr;
  readonly high: Expr;
}
export interface LimitsOf extends Common {
  readonly op: 'limits';
  readonly low: Expr | null;
  readonly high: Expr | null;
}
/** Mean of several readings of one thing. */
export interface Repeated extends Common {
  readonly op: 'repeated';
  readonly readings: readonly Expr[];
}

/** A curve written out: keys rise; for two arguments `values` has one row a first key. */
export interface CurveOf extends Common {
  readonly op: 'curve';
  readonly keys: readonly (readonly Expr[])[];
  readonly values: readonly Expr[];
}
/** curve(keys, values over a): a curve from the cells along an axis. */
export interface CurveOver extends Common {
  readonly op: 'curve-over';
  readonly keys: Expr;
  readonly values: Expr;
  readonly axis: AxisId;
}
/** c(x), c(x, z): outside the data missing, unless clamped. */
export interface CurveCall extends Common {
  readonly op: 'curve-call';
  readonly curve: Expr;
  readonly args: readonly Expr[];
}
export type CurveFunction = 'through' | 'clamped' | 'slope' | 'smoothed' | 'rises-at' | 'falls-at' | 'keys' | 'values';
/** `slope(c, n)` is again a curve; `rises-at(c, level)` a number; through has its kind (linear, log, monotone) in `option`. keys/values: onto the axis of `axis`. max/min of a curve come as 'greatest'/'least'. */
export interface CurveApply extends Common {
  readonly op: 'curve-apply';
  readonly function: CurveFunction | 'greatest' | 'least';
  readonly curve: Expr;
  readonly args: readonly Expr[];
  readonly option: string | null;
  readonly axis: AxisId | null;
}

/** `solve x in a..b where f = g`: the value of the first unknown. Unknowns are locals inside the equations. */
export interface Solve extends Common {
  readonly op: 'solve';
  readonly unknowns: readonly {
    readonly local: number;
    readonly name: string;
    readonly from: Expr;
    readonly to: Expr;
    readonly type: ExprType;
  }[];
  readonly equations: readonly { readonly left: Expr; readonly right: Expr }[];
}
/** assign(cost over row to p where ok of stock over s): for every row the place chosen on each of `to` (this is the one for `result`). */
export interface Assign extends Common {
  readonly op: 'assign';
  readonly cost: Expr;
  readonly row: AxisId;
  readonly to: readonly AxisId[];
  readonly result: AxisId;
  readonly where: Expr | null;
  readonly stock: { readonly of: Expr; readonly over: AxisId } | null;
  /** 'sum' least total, 'spread' least greatest-less-least. */
  readonly aim: 'sum' | 'spread';
}
/** nearest-sum(sizes over s, target, at-most): the count of each size whose sum comes nearest. Result over s. */
export interface NearestSum extends Common {
  readonly op: 'nearest-sum';
  readonly sizes: Expr;
  readonly axis: AxisId;
  readonly target: Expr;
  readonly atMost: Expr;
}
/** pooled(x, y … over p): cells of several values in one row along p. */
export interface Pooled extends Common {
  readonly op: 'pooled';
  readonly parts: readonly Expr[];
  readonly from: readonly AxisId[];
  readonly to: AxisId;
}
/** offered(PATH): that property over the parts and families the file sees; figures are ready. Along axis `to`. */
export interface Offered extends Common {
  readonly op: 'offered';
  readonly values: readonly number[];
  readonly names: readonly string[];
  readonly to: AxisId;
}

export type Expr =
  | Constant
  | Missing
  | SlotRead
  | Let
  | LocalRead
  | Was
  | Place
  | Coordinate
  | BinaryOp
  | Negate
  | Not
  | Within
  | Choose
  | ByChoice
  | Apply
  | InView
  | Reduce
  | Along
  | Inverse
  | Gather
  | Retitle
  | ListOf
  | Table
  | Toleranced
  | LimitsOf
  | Repeated
  | CurveOf
  | CurveOver
  | CurveCall
  | CurveApply
  | Solve
  | Assign
  | NearestSum
  | Pooled
  | Offered;
