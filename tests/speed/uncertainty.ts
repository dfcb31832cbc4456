/**
 * What the uncertainty of a figure costs in the V8 sample, in evaluations of the whole engine: for each check asked by itself, for each derived
 * value asked by itself, and for all derived values together. A report, not a test: run it with `npx node tests/speed/uncertainty.ts`.
 * Ratios within one run are what counts.
 */
import { Plan, planBuild } from '../../language/src/semantics/plan/run.ts';
import { Sensitivities } from '../../language/src/semantics/plan/sensitivities.ts';
import type { Expr } from '../../language/src/semantics/ir.ts';
import type { Comparison } from '../../language/src/semantics/schema/schema.ts';
import { runSample } from '../reference/run.ts';

const rounds = 7;
const allowed = 5;

const { outcome } = runSample('tarn-427.thou').build('tarn-427');
const { binding, texts } = outcome;
const settled = planBuild(binding, undefined, texts);
const derived = settled.schema.slots.flatMap(({ id, sort }) =>
  sort === 'derive' && settled.valueOf(id, 'measured').value.is === 'numbers' ? [id] : [],
);

function timed(task: () => void): number {
  const start = performance.now();
  task();
  return performance.now() - start;
}

function median(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

const often = (task: () => void): number => median(Array.from({ length: rounds }, () => timed(task)));

/** Every derived figure once, as measured, in a plan that knows nothing yet. */
function evaluateOnce(): Plan {
  const plan = new Plan({ binding, texts, previous: null, parent: null });
  for (const id of derived) plan.valueOf(id, 'measured');
  return plan;
}

function sides(comparison: Comparison): readonly Expr[] {
  const { value, low, high, limits } = comparison;
  return [value, low, high, limits].filter((expr) => expr !== null);
}

for (let warm = 0; warm < 3; warm++) evaluateOnce();
const one = often(evaluateOnce);
settled.sensitivities().sources();

const checks = outcome.checks.flatMap((check) => {
  const comparisons = (check.rule ?? check.expect)?.demand.comparisons ?? [];
  return check.state === 'not-applicable' || comparisons.length === 0 ? [] : [comparisons.flatMap(sides)];
});
// what was asked before is forgotten: each starts with the sources alone
const asked = (ask: (fresh: Sensitivities) => void): number =>
  often(() => {
    const fresh = new Sensitivities(settled);
    fresh.sources();
    ask(fresh);
  }) / one;

const perCheck = checks.map((exprs) => asked((fresh) => exprs.forEach((expr) => void fresh.ofExpr(expr))));
const perFigure = derived.map((id) => asked((fresh) => void fresh.ofSlot(id)));
const together = asked((fresh) => derived.forEach((id) => void fresh.ofSlot(id)));

function told(name: string, costs: readonly number[]): string {
  const sorted = [...costs].sort((a, b) => a - b);
  const at = (share: number): string =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!.toFixed(2);
  const within = costs.filter((cost) => cost <= allowed).length;
  return `| ${name} | ${costs.length} | ${at(0.5)} | ${at(0.95)} | ${at(1)} | ${within} |`;
}

console.log(
  `One evaluation: ${derived.length} derived values, ${one.toFixed(1)} ms; ${settled.sensitivities().sources().length} sources. Medians of ${rounds}.\n`,
);
console.log(`| asked by itself | of them | median, in evaluations | 95 of a hundred | worst | within ${allowed} |`);
console.log('| --- | ---: | ---: | ---: | ---: | ---: |');
console.log(told('check', perCheck));
console.log(told('derived value', perFigure));
console.log(
  `\nAll derived values together: ${together.toFixed(1)} evaluations, ${(together / checks.length).toFixed(2)} for each of ${checks.length} checks.`,
);
