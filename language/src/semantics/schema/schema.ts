/**
 * The whole of what can be said of a build in one scope: mounts, slots, axes and rules, with all names, dimensions and axes
 * settled. One schema serves every build of the scope; it knows no figure of a build.
 */
import type { AstNode } from 'langium';
import type { AxisId, ValueType } from '../types/type.ts';
import type { Measure } from '@thou/shared/dimension/types';
import type { Unit } from '@thou/shared/unit/unit';
import type { Expr, SlotId } from '../ir.ts';

export type MountId = number;
/** A place in a file: what messages, provenance and "go to definition" lead to. */
export interface Origin {
  readonly uri: string;
  readonly at: AstNode;
}

export interface SchemaAxis {
  readonly id: AxisId;
  /** As written: `row`; not unique, an axis declared in a component exists once for each mount. */
  readonly name: string;
  readonly mount: MountId;
  readonly labels: readonly string[] | null;
  /** from..to step: counts 1, 2, 3 when `step` is null. */
  readonly range: { readonly from: Expr; readonly to: Expr; readonly step: Expr | null } | null;
  /** `axis order = [1, 2, 4, 6]`. */
  readonly listed: readonly number[] | null;
  readonly twinOf: AxisId | null;
  /** Set by pooled(…) and offered(…): its size comes with the value. */
  readonly open: boolean;
  /** Of its coordinates; null where places are only counted or labelled. */
  readonly measure: Measure | null;
  readonly doc: string | undefined;
  readonly origin: Origin;
}

export interface Shown {
  readonly decimals: number;
  readonly unit: Unit | null;
}
export type Feature = 'grows' | 'falls' | 'bought' | 'set' | 'ticked';

export interface Slot {
  readonly id: SlotId;
  /** Dotted names without indices: what JSON and `explain` call it. */
  readonly path: string;
  readonly name: string;
  readonly mount: MountId;
  readonly sort: 'property' | 'derive';
  readonly type: ValueType;
  /** Outermost first: the mounts' axes, then its own. */
  readonly axes: readonly AxisId[];
  /** Default (property) or formula (derive). Reads in it may be of other slots only. */
  readonly formula: Expr | null;
  /** A plain figure as default ("allowance 0 mm"), not computed from others. */
  readonly exactDefault: boolean;
  readonly measuredBy: Expr | null;
  readonly shown: readonly Shown[];
  readonly features: readonly Feature[];
  readonly changedBy: readonly SlotId[];
  /** Of the trade library: where nobody gave it, it is worked out when something asks for it. All else is, to see whether it can be. */
  readonly onDemand: boolean;
  /** Readings of it settle something: a dimensioned property on a mount, not a limit, not a setting of the root. */
  readonly measurable: boolean;
  readonly doc: string | undefined;
  readonly origin: Origin;
}

export interface Mount {
  readonly id: MountId;
  readonly path: string;
  readonly name: string;
  readonly parent: MountId | null;
  readonly component: string;
  readonly axes: readonly AxisId[];
  readonly optional: boolean;
  readonly children: readonly MountId[];
  readonly slots: readonly SlotId[];
  readonly doc: string | undefined;
  readonly origin: Origin;
}

/** One side-by-side comparison: value against limits; several when the words `and` join them. A flag stands alone. */
export interface Comparison {
  readonly value: Expr;
  readonly low: Expr | null;
  readonly high: Expr | null;
  /** `within x`: limits-valued; low and high are then null. */
  readonly limits: Expr | null;
  /** `<` and `>` leave the limit itself out. */
  readonly lowOpen: boolean;
  readonly highOpen: boolean;
  /** Set where the whole left side is one slot, or cells of it. */
  readonly slot: SlotId | null;
  readonly at: AstNode;
}
export interface Demand {
  readonly comparisons: readonly Comparison[];
  /** Anything else: true or false cell by cell. */ readonly flag: Expr | null;
  readonly at: AstNode;
}

export interface AdjustTarget {
  readonly slot: SlotId;
  readonly keys: readonly { readonly axis: AxisId; readonly number: number | null; readonly label: string | null }[];
  readonly even: boolean;
  /** joined to the one before */ readonly link: 'or' | 'then' | null;
}

export interface SchemaRule {
  /** Through its mounts: `left.flatness`. */
  readonly id: string;
  readonly name: string;
  readonly mount: MountId;
  readonly severity: 'error' | 'warning' | 'advice';
  readonly when: Expr | null;
  readonly demand: Demand;
  readonly because: string;
  readonly adjust: readonly AdjustTarget[];
  readonly doc: string | undefined;
  readonly origin: Origin;
}

export interface Schema {
  /** The root component's name in lower case: what the word before the first dot may be in the trade library. */
  readonly rootName: string;
  readonly mounts: readonly Mount[];
  readonly slots: readonly Slot[];
  readonly axes: readonly SchemaAxis[];
  readonly rules: readonly SchemaRule[];
  /** Paths without indices → slot; the same for mounts. */
  readonly slotAt: ReadonlyMap<string, SlotId>;
  readonly mountAt: ReadonlyMap<string, MountId>;
}
