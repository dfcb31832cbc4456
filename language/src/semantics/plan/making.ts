/** What the memo asks of a plan: how a key is worked out, and which value of an earlier plan may stand for it. */
import type { Value } from '../evaluate/value.ts';
import type { Circles } from './circles.ts';
import type { Earlier } from './earlier.ts';
import { nothing } from './layers.ts';
import type { Heard, Listener } from './listener.ts';
import type { Made, Maker, Node } from './memo.ts';
import type { Plan } from './run.ts';
import { inView } from './views.ts';

/** What changes while a plan is being laid out. */
interface Standing {
  readonly earlier: Earlier;
  readonly circles: Circles;
}

export class Making implements Maker {
  private readonly plan: Plan;
  private readonly listener: Listener;
  private readonly standing: () => Standing;

  constructor(plan: Plan, listener: Listener, standing: () => Standing) {
    this.plan = plan;
    this.listener = listener;
    this.standing = standing;
  }

  make(key: number): Made {
    const { plan, listener } = this;
    const { earlier } = this.standing();
    const slot = plan.schema.slots[plan.clock.slotOf(key)]!;
    const moment = plan.clock.momentOf(key);
    const heard: Heard = { why: [], problems: [] };
    const made = listener.during(heard, () => earlier.replaced(slot, moment) ?? inView(plan, slot, moment));
    return { value: earlier.sameAsBefore(key, made), sources: made.sources, ...heard };
  }

  earlier(key: number): Node | null {
    return this.standing().earlier.node(key);
  }

  earlierValue(key: number): Value | null {
    return this.standing().earlier.value(key);
  }

  nothing(key: number): Made {
    const { plan } = this;
    return { ...nothing(plan, plan.schema.slots[plan.clock.slotOf(key)]!), why: [], problems: [] };
  }

  withoutFormula(key: number): void {
    this.standing().circles.withoutFormula.add(key);
  }

  head(circle: readonly number[]): number {
    return this.standing().circles.head(circle);
  }

  circle(keys: readonly number[]): void {
    this.standing().circles.note(keys);
  }

  foreign(key: number): Value | null {
    return key < 0 ? this.plan.bases.value(key) : null;
  }
}
