/** Expressions outside of any slot: sides of checks, sizes of axes, one step of a cell's history. Each remembered. */
import { evaluate } from '../evaluate/interpreter.ts';
import { Mark } from '../evaluate/value.ts';
import type { Value } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import type { Origin } from '../schema/schema.ts';
import { markAt } from './cells.ts';
import { sameValue } from './same.ts';
import { PlanContext } from './context.ts';
import type { Desk } from './context.ts';
import type { Earlier } from './earlier.ts';
import type { Listener } from './listener.ts';
import type { Memo } from './memo.ts';
import type { Moment } from './moments.ts';

export interface Watched {
  readonly value: Value;
  readonly why: readonly string[];
  /** Keys that were read. */
  readonly trace: readonly number[];
  readonly settled: boolean;
}

export class Asides {
  private readonly desk: Desk;
  private readonly memo: Memo;
  private readonly listener: Listener;
  private readonly watched = new Map<Expr, Watched>();

  constructor(desk: Desk, memo: Memo, listener: Listener) {
    this.desk = desk;
    this.memo = memo;
    this.listener = listener;
  }

  known(expr: Expr): Watched | null {
    return this.watched.get(expr) ?? null;
  }

  /** As measured. Slips in it are kept with those of the plan. */
  watch(expr: Expr, origin: Origin, earlierOnes: Earlier): Watched {
    const known = this.watched.get(expr);
    if (known !== undefined) return known;
    const earlier = earlierOnes.watched(expr);
    const heard = { why: [] as string[], problems: [] };
    const { result, trace, settled } = this.memo.watch(() => {
      heard.why.length = heard.problems.length = 0;
      if (earlier?.settled === true && this.memo.unchanged(earlier.trace)) return earlier.value;
      const context = new PlanContext(this.desk, this.desk.clock.at('measured'), { origin }, null);
      return this.listener.during(heard, () => evaluate(expr, context));
    });
    const same = earlier !== null && sameValue(earlier.value, result);
    const made: Watched = {
      value: same ? earlier.value : result,
      why: same ? earlier.why : heard.why,
      trace,
      settled: settled && heard.problems.length === 0,
    };
    if (!this.desk.overridden) this.listener.slips.push(...heard.problems);
    this.watched.set(expr, made);
    return made;
  }

  /** Not remembered, its slips not kept: they are kept where it is used. */
  once(expr: Expr, moment: Moment, origin: Origin): Value {
    const context = new PlanContext(this.desk, moment, { origin }, null);
    return this.memo.settle(() => this.listener.during({ why: [], problems: [] }, () => evaluate(expr, context)));
  }

  /** One figure, as specified; null where it is missing. */
  scalar(expr: Expr, origin: Origin): number | null {
    const value = this.once(expr, this.desk.clock.at('specified'), origin);
    if (value.is !== 'numbers' || value.tensor.data.length !== 1) return null;
    return markAt(value.tensor.mark, 0) >= Mark.missing ? null : value.tensor.data[0]!;
  }
}
