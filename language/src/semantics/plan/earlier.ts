/**
 * Where a value may be taken over from: an earlier plan of the same build, or the plan that this one differs from by a few
 * inputs. Says only which value could stand; whether all that it was made of is unchanged the memo finds out.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import type { Watched } from './asides.ts';
import { markAt } from './cells.ts';
import { sameValue } from './same.ts';
import type { Made, Node } from './memo.ts';
import type { Moment } from './moments.ts';
import { isMetAt, lanesAxis, overlaidBy } from './overrides.ts';
import { wholeStamp } from './stamps.ts';
import type { AxisId } from '../types/type.ts';
import type { Override } from './overrides.ts';
import type { Plan } from './run.ts';
import { axesOf } from './workings.ts';

export interface Earlier {
  node(key: number): Node | null;
  /** What a key was worth then. */
  value(key: number): Value | null;
  watched(expr: Expr): Watched | null;
  /** What stands in the place of a slot's own value. */
  replaced(slot: Slot, moment: Moment): Pick<Made, 'value' | 'sources'> | null;
  /** The earlier object where a value that was worked out afresh is the same to the last bit. */
  sameAsBefore(key: number, made: Pick<Made, 'value' | 'sources'>): Value;
}

export const nothingEarlier: Earlier = {
  node: () => null,
  value: () => null,
  watched: () => null,
  replaced: () => null,
  sameAsBefore: (_key, made) => made.value,
};

/** The build before an edit, or the one that a variant is based on: same schema, blocks and axes. */
export class FromPrevious implements Earlier {
  readonly previous: Plan;
  private readonly plan: Plan;
  private sameHistory: boolean | null = null;
  /** By slot, once it has been asked. */
  private readonly standing: (boolean | undefined)[] = [];

  constructor(plan: Plan, previous: Plan) {
    this.plan = plan;
    this.previous = previous;
  }

  node(key: number): Node | null {
    if (!this.couldStand(this.plan.clock.slotOf(key))) return null;
    const node = this.previous.known(key);
    return node === null || node.problems.length > 0 ? null : node;
  }

  /** True where nothing given to the slot itself has changed, or, of a key of the base, nothing under it either. */
  stands(key: number): boolean {
    if (key >= 0) {
      const slot = this.plan.clock.slotOf(key);
      return (this.standing[slot] ??= this.couldStand(slot));
    }
    const then = this.previous.bases.known(key);
    return then !== null && this.plan.bases.node(key) === then;
  }

  /** True where all that was read then is here what it was then, down to the last figure under it. */
  untouched(trace: readonly number[]): boolean {
    return trace.every((key) => {
      const then = key < 0 ? this.previous.bases.known(key) : this.previous.known(key);
      return then !== null && then === (key < 0 ? this.plan.bases.node(key) : this.plan.nodeAt(key));
    });
  }

  /** What is given to a slot says also when and where it was cut and read: only slots with other figures are looked into. */
  private hasSameHistory(): boolean {
    this.sameHistory ??= this.plan.schema.slots.every(
      ({ id }) => this.sameGiven(id) || this.plan.stamps.shapeOf(id) === this.previous.stamps.shapeOf(id),
    );
    return this.sameHistory;
  }

  private couldStand(slot: SlotId): boolean {
    if (!this.sameGiven(slot) || this.isCarried(slot)) return false;
    const feelsHistory = this.plan.touch[slot]! >= 0 || this.previous.touch[slot]! >= 0;
    return !feelsHistory || this.hasSameHistory();
  }

  value(key: number): Value | null {
    return (key < 0 ? this.previous.bases.known(key) : this.previous.known(key))?.value ?? null;
  }

  watched(expr: Expr): Watched | null {
    return this.previous.asides.known(expr);
  }

  replaced(): null {
    return null;
  }

  sameAsBefore(key: number, { value, sources }: Pick<Made, 'value' | 'sources'>): Value {
    const earlier = this.sameGiven(this.plan.clock.slotOf(key)) ? this.previous.known(key) : null;
    const same = earlier !== null && sameValue(earlier.value, value) && sameSources(earlier.sources, sources);
    return same ? earlier.value : value;
  }

  /** What a base read of a derived value is carried in its variants, however little they change. */
  private isCarried(slot: SlotId): boolean {
    const { schema, given } = this.plan;
    const isOther = given.depth !== this.previous.given.depth;
    return isOther && schema.slots[slot]!.sort === 'derive' && given.history(slot).length > 0;
  }

  private sameGiven(slot: SlotId): boolean {
    return this.plan.stamps.of(slot) === this.previous.stamps.of(slot);
  }
}

/** The same build with other figures in some cells. */
export class FromParent implements Earlier {
  private readonly plan: Plan;
  private readonly parent: Plan;
  private readonly overrides: ReadonlyMap<SlotId, readonly Override[]>;
  private readonly lanes: ReturnType<typeof lanesAxis> | null;

  constructor(plan: Plan, parent: Plan, overrides: readonly Override[], lanes: number) {
    this.plan = plan;
    this.parent = parent;
    this.overrides = Map.groupBy(overrides, ({ slot }) => slot);
    this.lanes = lanes === 0 ? null : lanesAxis(lanes);
  }

  node(key: number): Node | null {
    const { clock } = this.plan;
    return this.overrideOf(clock.slotOf(key), clock.momentOf(key)) === null ? this.parent.nodeAt(key) : null;
  }

  value(key: number): Value | null {
    return key < 0 ? this.parent.bases.value(key) : this.parent.nodeAt(key).value;
  }

  watched(expr: Expr): Watched | null {
    return this.parent.asides.known(expr);
  }

  replaced(slot: Slot, moment: Moment): Pick<Made, 'value' | 'sources'> | null {
    const override = this.overrideOf(slot.id, moment);
    if (override === null) return null;
    const node = this.parent.nodeAt(this.plan.keyOf(slot.id, moment));
    const cells = moment.view === 'readings' ? cellsWithFigure(node.value, override.cells) : override.cells;
    return { value: overlaidBy(node.value, cells, axesOf(this.plan, slot), this.lanes), sources: node.sources };
  }

  sameAsBefore(_key: number, made: Pick<Made, 'value' | 'sources'>): Value {
    return made.value;
  }

  private overrideOf(slot: SlotId, moment: Moment): Override | null {
    const { blocks } = this.plan.clock;
    return this.overrides.get(slot)?.find(({ view }) => isMetAt(view, moment, blocks)) ?? null;
  }
}

/** Cells that are no reading stay none. */
function cellsWithFigure(value: Value, cells: Override['cells']): Override['cells'] {
  if (value.is !== 'numbers') return new Map();
  return new Map([...cells].filter(([cell]) => markAt(value.tensor.mark, cell) < Mark.missing));
}

function sameSources(a: Int32Array | null, b: Int32Array | null): boolean {
  if (a === null || b === null) return a === b;
  return a.length === b.length && a.every((speaker, cell) => speaker === b[cell]);
}

/**
 * True where values of the one may stand in the other: same declarations, same blocks of history. A variant may stand on the build it is
 * based on, since that reads no base.
 */
export function comparable(previous: Plan, plan: Plan): boolean {
  if (previous.schema !== plan.schema || (previous.base !== null && plan.base === null)) return false;
  return wholeStamp(previous) === wholeStamp(plan);
}

export function sameSizes(a: ReadonlyMap<AxisId, Axis>, b: ReadonlyMap<AxisId, Axis> | undefined): boolean {
  return b !== undefined && a.size === b.size && [...a].every(([id, axis]) => b.get(id) === axis);
}
