/** Uncertainty, Monte Carlo and decisions against published examples; each example is a file of its own in `certainty/`. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { guardBands } from '../../language/src/semantics/certainty/decision.ts';
import { simulated, summaries } from '../../language/src/semantics/certainty/monte-carlo.ts';
import { correlation, stackOf } from '../../language/src/semantics/certainty/ranking.ts';
import { planBuild } from '../../language/src/semantics/plan/run.ts';
import type { Plan } from '../../language/src/semantics/plan/run.ts';
import { run } from './run.ts';
import type { Ran } from './run.ts';

function example(name: string): Ran {
  return run(readFileSync(new URL(`certainty/${name}.thou`, import.meta.url), 'utf8'));
}

function planOf(ran: Ran, build: string): Plan {
  expect(ran.slips).toEqual([]);
  const { binding, texts } = ran.build(build).outcome;
  return planBuild(binding, undefined, texts);
}

function slotOf(plan: Plan, path: string): number {
  return plan.schema.slotAt.get(path)!;
}

const stack = (plan: Plan, path: string) => stackOf(plan, slotOf(plan, path))[0]!;
const trials = 100_000;
const summary = (plan: Plan, path: string) =>
  summaries(plan, [{ slot: slotOf(plan, path) }], { trials, seed: 1 })[0]!.cells[0]!;

describe('GUM H.1, JCGM 100:2008: end-gauge calibration', () => {
  const plan = planOf(example('end-gauge'), 'comparison');
  test('length and combined standard uncertainty', () => {
    const { middle, uncertainty } = stack(plan, 'end-gauge');
    expect(Math.abs(middle - 50.000838e-3)).toBeLessThan(0.5e-9);
    expect(Math.abs(uncertainty - 31.6639e-9)).toBeLessThan(0.5e-9);
  });
  test('the parts of table H.1, largest first', () => {
    const parts = stack(plan, 'end-gauge').parts.map(({ uncertainty }) => uncertainty * 1e9);
    [25, 16.6, 6.7, 5.8, 3.9, 2.9].forEach((part, at) => expect(Math.abs(parts[at]! - part)).toBeLessThan(0.05));
  });
  test('with the second order, which H.1.7 gives as 34 nm, by Monte Carlo', () => {
    // a deviation of 100,000 trials is known to about 0.2 %
    expect(Math.abs(summary(plan, 'end-gauge').deviation - 33.8e-9)).toBeLessThan(0.5e-9);
  });
});

describe('GUM H.2, JCGM 100:2008: resistance and reactance taken together', () => {
  const plan = planOf(example('impedance'), 'impedance');
  test.each([
    ['resistance', 127.732, 0.071],
    ['reactance', 219.847, 0.295],
    ['impedance', 254.26, 0.236],
  ])('%s %f, u %f', (path, figure, u) => {
    expect(Math.abs(stack(plan, path).middle - figure)).toBeLessThan(0.0006);
    expect(Math.abs(stack(plan, path).uncertainty - u)).toBeLessThan(0.0012);
    expect(Math.abs(summary(plan, path).deviation - u)).toBeLessThan(0.003);
  });
  test.each([
    ['resistance', 'reactance', -0.588],
    ['resistance', 'impedance', -0.485],
    ['reactance', 'impedance', 0.993],
  ])('%s and %s go together by %f', (a, b, r) => {
    expect(Math.abs(correlation(stack(plan, a), stack(plan, b)) - r)).toBeLessThan(0.003);
  });
});

describe('JCGM 101:2008, 9.2: sums of four', () => {
  const plan = planOf(example('sums'), 'sums');
  // an end that leaves out 1 trial in 40 of 100,000 is known to sqrt(0.025 × 0.975 / 100,000) / 0.0292 = 0.017; four times that. Of the shortest
  // interval only the length is: it may lie a little to either side and be hardly longer
  test('normal figures: 9.2.2, ± 3.92', () => {
    const { percentiles, shortest, deviation } = summary(plan, 'sum-of-normal');
    for (const end of [-percentiles.low, percentiles.high]) expect(Math.abs(end - 3.919928)).toBeLessThan(4 * 0.017);
    for (const { low, high } of [percentiles, shortest])
      expect(Math.abs(high - low - 2 * 3.919928)).toBeLessThan(4 * 0.017 * Math.SQRT2);
    for (const end of [-shortest.low, shortest.high]) expect(Math.abs(end - 3.919928)).toBeLessThan(0.2);
    expect(Math.abs(deviation - 2)).toBeLessThan((2 * 3) / Math.sqrt(2 * trials));
  });
  test('rectangular figures: 9.2.3, ± 3.88', () => {
    const { percentiles, shortest } = summary(plan, 'sum-of-rectangular');
    // Irwin and Hall's distribution, exactly
    expect(Math.abs(percentiles.high - percentiles.low - 2 * 3.87940674134783)).toBeLessThan(0.06);
    expect(shortest.high - shortest.low).toBeLessThanOrEqual(percentiles.high - percentiles.low);
    expect(summary(plan, 'sum-of-rectangular').mean).toBeCloseTo(0, 1);
  });
});

describe('conformity', () => {
  test('global risks, JCGM 106:2012: limits ± 2, ratio 4 (the NASA table after Deaver: .008 and .015)', () => {
    const plan = planOf(example('inspection'), 'inspection');
    // 0.008006 and 0.014851; three standard deviations of a share of 100,000
    expect(Math.abs(summary(plan, 'false-accept').mean - 0.008006)).toBeLessThan(3 * Math.sqrt(0.008 / trials));
    expect(Math.abs(summary(plan, 'false-reject').mean - 0.014851)).toBeLessThan(3 * Math.sqrt(0.015 / trials));
  });

  test('ISO 14253-1 by edition (from memory): what surely holds, what is surely out, and what lies between', () => {
    const ran = run(readFileSync(new URL('certainty/housings.thou', import.meta.url), 'utf8'));
    const states = (build: string) =>
      ran
        .build(build)
        .check('width-in-limits')
        .cells.map(({ state }) => state);
    const [out, risk, holds] = ['out-of-limits', 'at-risk', 'holds-measured'];
    expect(states('by-2017')).toEqual([out, out, risk, risk, holds, holds, out]);
    expect(states('by-2013')).toEqual([out, risk, risk, risk, risk, holds, out]);
  });

  test('guard bands in inches: accept 2.0996 to 2.0999, reject outside of 2.0994 to 2.1001', () => {
    const { accept, reject } = guardBands({ low: 2.0995, high: 2.1 }, { low: 0.0001, high: 0.0001 });
    const near = (found: number, due: number) => expect(Math.abs(found - due)).toBeLessThan(1e-12);
    near(accept!.low, 2.0996);
    near(accept!.high, 2.0999);
    near(reject.low, 2.0994);
    near(reject.high, 2.1001);
    expect(guardBands({ low: 0, high: 1 }, { low: 0.6, high: 0.6 }).accept).toBeNull();
  });

  test('a reading one standard uncertainty beyond its limit neither holds nor is out', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.boolean(),
        fc.integer({ min: -99, max: 99 }),
        (u, above, share) => {
          // up to one standard uncertainty on either side of the limit
          const figure = (above ? 100 : 99) + ((share / 100) * u) / 100_000;
          const text = `use prelude 1\nextend Engine {\n  width: Length\n  rule width-holds: error { expect width within 99..100 mm, because "it must" }\n}\nbuild b { measured on 2026-02-02 { width: ${figure.toFixed(9)} mm ± ${((2 * u) / 100_000).toFixed(9)} mm } }\n`;
          expect(run(text).build('b').check('width-holds').state).toBe('at-risk');
        },
      ),
      { seed: 14253, numRuns: 8 },
    );
  });
});

describe('stacks', () => {
  const widths = [10, 20, 5, 7];
  const halves = [0.1, 0.05, 0.2, 0.15];
  const text = `use prelude 1
part gauge: Instrument { uncertainty: 0.004 mm, calibrated: 2026-01-10 }
extend Engine {
  ${widths.map((_, at) => `width-${at + 1}: Length`).join('\n  ')}
  outer: Length
  inner: Length
  derive stack: Length as 0.000 mm = width-1 + width-2 - width-3 + width-4
  derive room: Length as 0.000 mm = outer - inner
  derive both: Length as 0.000 mm = outer + inner
}
build stacks {
  ${widths.map((width, at) => `width-${at + 1}: ${width} ± ${halves[at]!} mm`).join('\n  ')}
  measured on 2026-02-02 with gauge { outer: 10 mm, inner: 9 mm }
}
`;
  const plan = planOf(run(text), 'stacks');
  const mm = 1e-3;

  test('worst case, root-sum-square and one and a half times that', () => {
    const { worstCase, rootSumSquare, inflated, uncertainty } = stack(plan, 'stack');
    const together = Math.hypot(...halves);
    expect(worstCase / mm).toBeCloseTo(0.5, 9);
    expect(rootSumSquare / mm).toBeCloseTo(together, 9);
    expect(inflated / mm).toBeCloseTo(1.5 * together, 9);
    expect(uncertainty / mm).toBeCloseTo(together / Math.sqrt(3), 9);
  });

  test('Monte Carlo of a linear stack is the root-sum-square within 3 / sqrt(M)', () => {
    const { uncertainty, middle } = stack(plan, 'stack');
    const { mean, deviation } = summary(plan, 'stack');
    expect(Math.abs(deviation / uncertainty - 1)).toBeLessThan(3 / Math.sqrt(trials));
    expect(Math.abs(mean - middle)).toBeLessThan((3 * uncertainty) / Math.sqrt(trials));
  });

  test('what one gauge has in common cancels in a difference and doubles in a sum: JCGM 100:2008, 5.2.2', () => {
    expect(stack(plan, 'room').uncertainty).toBe(0);
    expect(summary(plan, 'room').deviation).toBeLessThan(1e-17);
    expect(stack(plan, 'both').uncertainty / mm).toBeCloseTo(0.004, 12);
    expect(summary(plan, 'both').deviation / mm).toBeCloseTo(0.004, 4);
  });

  test('a figure is drawn alike whatever else is asked for with it', () => {
    const few = { trials: 100, seed: 3 };
    const alone = simulated(plan, [{ slot: slotOf(plan, 'stack') }], few)[0]!.columns[0]!;
    const paths = ['both', 'stack', 'room'];
    const among = simulated(
      plan,
      paths.map((path) => ({ slot: slotOf(plan, path) })),
      few,
    )[1]!.columns[0]!;
    expect([...among]).toEqual([...alone]);
    expect([...simulated(plan, [{ slot: slotOf(plan, 'stack') }], { ...few, seed: 4 })[0]!.columns[0]!]).not.toEqual([
      ...alone,
    ]);
  });
});
