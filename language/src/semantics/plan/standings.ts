/**
 * Where the figures of a slot stand that something may be made of: as measured, as before, and at the cuts from which readings made of
 * others are made. What is unsure is unsure in all of them alike. Knows no uncertainty.
 */
import type { SlotId } from '../ir.ts';
import { cutBlocks } from './history.ts';
import type { Node } from './memo.ts';
import type { Standing } from './overrides.ts';
import type { Plan } from './run.ts';
import { settledAxes } from './workings.ts';

/** One value of a slot, and where it is met. */
export interface Stand {
  readonly at: readonly Standing[];
  readonly node: Node;
}

/** The key at which a standing is met first. */
export function keyOfStanding(plan: Plan, slot: SlotId, at: Standing): number {
  return plan.keyOf(slot, typeof at === 'string' ? plan.clock.at(at) : at);
}

const now: readonly Standing[] = ['measured'];
const then: readonly Standing[] = ['before'];
const throughout: readonly Standing[] = ['measured', 'before'];

export class Stands {
  private readonly plan: Plan;
  private readonly among: ReadonlySet<number> | null;
  private readonly atCuts: ReadonlyMap<SlotId, readonly Stand[]>;

  /** `among`: look at earlier values under these keys alone. */
  constructor(plan: Plan, among: ReadonlySet<number> | null) {
    this.plan = plan;
    this.among = among;
    this.atCuts = standsAtCuts(plan, among ?? plan.under(beforeCuts(plan)));
  }

  /** That as measured first. */
  of(slot: SlotId): readonly Stand[] {
    const measured = this.plan.valueOf(slot, 'measured');
    const before = this.before(slot);
    const later = this.atCuts.get(slot) ?? [];
    if (before === null) return [{ at: now, node: measured }, ...later];
    if (before.value === measured.value && before.sources === measured.sources)
      return [{ at: throughout, node: measured }, ...later];
    return [{ at: now, node: measured }, { at: then, node: before }, ...later];
  }

  private before(slot: SlotId): Node | null {
    const key = keyOfStanding(this.plan, slot, 'before');
    return this.among?.has(key) === false ? null : this.plan.nodeAt(key);
  }
}

/** Of what is measured by readings, and has been cut since some of them. */
function beforeCuts(plan: Plan): readonly number[] {
  const { schema, given, clock } = plan;
  if (given.blocks.every(({ kind }) => kind !== 'machining')) return [];
  const moment = clock.at('before');
  const made = schema.slots.filter(
    (slot) =>
      slot.measuredBy !== null && settledAxes(plan, slot) !== null && cutBlocks(plan, slot, clock.blocks).length > 0,
  );
  return made.map(({ id }) => {
    const key = plan.keyOf(id, moment);
    plan.nodeAt(key);
    return key;
  });
}

function standsAtCuts(plan: Plan, keys: ReadonlySet<number>): ReadonlyMap<SlotId, readonly Stand[]> {
  const { clock } = plan;
  const found = new Map<SlotId, Stand[]>();
  for (const key of keys) {
    const moment = key < 0 ? null : clock.momentOf(key);
    if (moment?.view !== 'readings' || moment.upTo === clock.blocks) continue;
    const slot = clock.slotOf(key);
    const known = found.get(slot) ?? [];
    known.push({ at: [moment], node: plan.nodeAt(key) });
    found.set(slot, known);
  }
  return found;
}
