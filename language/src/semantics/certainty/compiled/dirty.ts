/** What of a plan moves when drawn figures move: the rest stands as it was worked out. */
import type { Plan } from '../../plan/run.ts';
import type { DrawnFigures } from './drawn.ts';

/**
 * A value moves where something that was read for it does. What was not read, such as the other case of a choice, is looked at
 * when it is asked for: the choice may fall another way in some trials.
 */
export class Moved {
  private readonly plan: Plan;
  private readonly drawn: DrawnFigures;
  private readonly known = new Map<number, boolean>();

  constructor(plan: Plan, drawn: DrawnFigures) {
    this.plan = plan;
    this.drawn = drawn;
  }

  has(key: number): boolean {
    if (!this.known.has(key)) this.look(key);
    return this.known.get(key)!;
  }

  /** At all that is under it and was not looked at. */
  private look(asked: number): void {
    this.plan.nodeAt(asked);
    const usedBy = new Map<number, number[]>();
    const open: number[] = [];
    const news = [asked, ...this.plan.under([asked])].filter((key) => key >= 0 && !this.known.has(key));
    for (const key of news) {
      this.known.set(key, false);
      if (this.isDrawn(key)) open.push(key);
      for (const under of this.plan.known(key)?.trace ?? []) {
        if (this.known.get(under) === true && !open.includes(under)) open.push(under);
        const users = usedBy.get(under) ?? [];
        users.push(key);
        usedBy.set(under, users);
      }
    }
    const reached = new Set(open);
    for (let key = open.pop(); key !== undefined; key = open.pop()) {
      this.known.set(key, true);
      for (const user of usedBy.get(key) ?? []) {
        if (reached.has(user)) continue;
        reached.add(user);
        open.push(user);
      }
    }
  }

  private isDrawn(key: number): boolean {
    const { clock } = this.plan;
    return this.drawn.at(clock.slotOf(key), clock.momentOf(key)) !== null;
  }
}
