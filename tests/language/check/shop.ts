/** A schema written by hand, with one rule that builds and shops judge by their own limits. */
import type { Expr } from '../../../language/src/semantics/ir.ts';
import type { CheckOutcome } from '../../../language/src/semantics/plan/outcome.ts';
import type { Plan } from '../../../language/src/semantics/plan/run.ts';
import { bin, gap, limits, list, n } from '../evaluate/build.ts';
import { limitsType, World } from '../plan/build.ts';
import type { Build } from '../plan/build.ts';

export const check = (plan: Plan, id: string): CheckOutcome => plan.outcome().checks.find((one) => one.id === id)!;
export const states = (plan: Plan, id: string) => check(plan, id).cells.map(({ state }) => state);
export const codes = (plan: Plan) => plan.outcome().problems.map(({ code }) => code);

/** gap = hole − pin per row, within gap-limits, which practice gives. */
export const world = (when?: (made: World) => Expr): World => {
  const made = new World()
    .axis('row', 3)
    .property('hole', { axes: ['row'] })
    .property('pin', { axes: ['row'] });
  made.derive('gap', bin(made.read('hole'), '-', made.read('pin')), { axes: ['row'] });
  made
    .property('gap-limits', { type: limitsType, formula: limits(n(0), n(10)) })
    .property('mode', { measurable: false, formula: n(1) });
  const more = when === undefined ? {} : { when: when(made) };
  return made.rule('gap', [{ value: made.read('gap'), limits: made.read('gap-limits') }], more);
};
export const three = (a: number | null, b: number | null, c: number | null): Expr =>
  list(
    0,
    [a, b, c].map((x) => (x === null ? gap : n(x))),
  );
export const shop = (build: Build, low: number | null, high: number | null): Build =>
  build.give('gap-limits', limits(low === null ? null : n(low), high === null ? null : n(high)), {
    layer: 'practice',
    whose: 'Brackwater',
  });
export const read = (build: Build, hole: Expr, pin: Expr): Build => build.measured().set('hole', hole).set('pin', pin);
