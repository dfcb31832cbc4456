/** What a variant reads of the builds that it is based on: their values, under keys that say how far down they are. */
import type { Value } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import { nothing } from './layers.ts';
import type { Node } from './memo.ts';
import type { Moment } from './moments.ts';
import type { Plan } from './run.ts';
import { axesWithoutLanes } from './sensitivities.ts';

const levels = 64;

export class Bases {
  private readonly plan: Plan;

  /** `plan`: the variant itself. */
  constructor(plan: Plan) {
    this.plan = plan;
  }

  /** The key of a base's slot; negative, so that it is never one of the variant's own. */
  keyOf(level: number, slot: SlotId, view: View, upTo: number, bare: boolean): number {
    const base = this.at(level);
    const moment = base.clock.at(view, Math.min(upTo, base.clock.blocks), bare);
    return -1 - (base.keyOf(slot, moment) * levels + level);
  }

  node(key: number): Node {
    return this.at(levelOf(key)).nodeAt(keyThere(key));
  }

  value(key: number): Value {
    return this.node(key).value;
  }

  /** The value as it counts in the variant: figures that lie along axes of another size there are missing here. */
  valueHere(key: number, slot: SlotId): Value {
    this.plan.restsOn(key);
    const value = this.value(key);
    return liesHere(this.plan, value) ? value : nothing(this.plan, this.plan.schema.slots[slot]!).value;
  }

  /** What a slot was worth before the variant. */
  was(level: number, slot: SlotId, moment: Moment): Value {
    return this.valueHere(this.keyOf(level, slot, inBase(moment), moment.upTo, false), slot);
  }

  /** The key of the same slot in another view. */
  inView(key: number, view: View): number {
    const base = this.at(levelOf(key));
    const { upTo, bare } = base.clock.momentOf(keyThere(key));
    return this.keyOf(levelOf(key), base.clock.slotOf(keyThere(key)), view, upTo, bare);
  }

  /** What has been worked out for it. */
  known(key: number): Node | null {
    return this.at(levelOf(key)).known(keyThere(key));
  }

  private at(level: number): Plan {
    let plan = this.plan;
    for (let left = level; left > 0; left--) plan = plan.base!;
    return plan;
  }
}

/** Readings alone, and what is made of them, are asked of a base as it is measured. */
function inBase({ view }: Moment): View {
  return view === 'readings' || view === 'made' || view === 'figure' ? 'measured' : view;
}

function levelOf(key: number): number {
  return (-1 - key) % levels;
}

function keyThere(key: number): number {
  return Math.floor((-1 - key) / levels);
}

/** False where a value lies along an axis that is of another size in this build. */
function liesHere({ schema, axes }: Plan, value: Value): boolean {
  return axesWithoutLanes(value).every((axis) => schema.axes[axis.id]!.open || axis === axes.known(axis.id));
}
