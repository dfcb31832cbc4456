/**
 * How unsure a figure of before is: a reading that a later cut has overtaken is as unsure as it was read, and shares what its calibration is out
 * by with what is read now. Source: JCGM 100:2008, 5.1.2 (independent quantities) and 5.2.2 (correlated ones, through a common error).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { simulation, summaries } from '../../../language/src/semantics/certainty/monte-carlo.ts';
import { stackOf } from '../../../language/src/semantics/certainty/ranking.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import type { Plan } from '../../../language/src/semantics/plan/run.ts';
import { apply, bin, gap, list, n, reduce, toleranced } from '../evaluate/build.ts';
import { World } from './build.ts';
import type { Build } from './build.ts';

const fine = { resolution: 0.12, uncertainty: 0.4 };
const coarse = { resolution: 0.3, uncertainty: 0.1 };
const own = 0.12 / Math.sqrt(12);
const ownCoarse = 0.3 / Math.sqrt(12);
const [shared, sharedCoarse] = [0.4 / 2, 0.1 / 2];

/** What is worn is read before and after it ran: `hours` ages it. */
function world(): World {
  const made = new World().property('hours').property('size', { changedBy: ['hours'] });
  made.derive('worn', bin(made.in('before', 'size'), '-', made.read('size')));
  made.derive('both', bin(made.in('before', 'size'), '+', made.read('size')));
  return made.derive('was-sure', apply('uncertainty', [made.in('before', 'size')]));
}

function started(made: World): Build {
  return made.build().instrument('fine', fine).instrument('coarse', coarse);
}

const ran = (build: Build): Build => build.cut().set('hours', n(31));
const read = (build: Build, gauge: string, size: number): Build => build.measured(gauge).set('size', n(size));

function unsure(plan: Plan, path: string): number | null {
  return plan.outcome().slots[plan.schema.slotAt.get(path)!]!.uncertainty()[0]!;
}

describe('what is worn', () => {
  const worn = (first: string, second: string): Plan =>
    read(ran(read(started(world()), first, 20)), second, 19.4).plan();

  it('is unsure by both readings, with two instruments', () => {
    const plan = worn('fine', 'coarse');
    const due = Math.hypot(own, ownCoarse, shared, sharedCoarse);
    expect(unsure(plan, 'worn')).toBeCloseTo(due, 12);
    expect(unsure(plan, 'both')).toBeCloseTo(due, 12);
  });

  it('keeps nothing of a calibration that both readings share, and their sum has it twice', () => {
    const plan = worn('fine', 'fine');
    expect(unsure(plan, 'worn')).toBeCloseTo(Math.hypot(own, own), 12);
    expect(unsure(plan, 'both')).toBeCloseTo(Math.hypot(own, own, 2 * shared), 12);
  });

  it('is unsure through each of them by itself', () => {
    const plan = worn('fine', 'coarse');
    const { parts } = stackOf(plan, plan.schema.slotAt.get('worn')!)[0]!;
    expect(parts.map(({ source: { sort, cells } }) => [sort, cells[0]!.at.includes('measured')])).toEqual([
      ['instrument', false],
      ['resolution', true],
      ['instrument', true],
      ['resolution', false],
    ]);
    expect(new Set(parts.map(({ source }) => source.id)).size).toBe(4);
  });

  it('is as unsure in many trials', () => {
    for (const second of ['fine', 'coarse']) {
      const plan = worn('fine', second);
      const [found] = summaries(plan, [{ slot: plan.schema.slotAt.get('worn')! }], { trials: 20_000, seed: 3 });
      // of 20,000 trials the deviation is known to 0.5 %, one standard deviation
      expect(Math.abs(found!.cells[0]!.deviation / unsure(plan, 'worn')! - 1)).toBeLessThan(0.02);
    }
  });

  it('is nothing, surely, where it did not run', () => {
    const plan = read(started(world()), 'fine', 20).plan();
    expect(unsure(plan, 'worn')).toBe(null);
    expect(unsure(plan, 'both')).toBeCloseTo(2 * Math.hypot(own, shared), 12);
  });

  it('is unsure by the tolerance of what was specified, where nobody read it before it ran', () => {
    const build = started(world()).give('size', toleranced(20, 19.7, 20.3));
    expect(unsure(read(ran(build), 'fine', 19.4).plan(), 'worn')).toBeCloseTo(
      Math.hypot(0.3 / Math.sqrt(3), own, shared),
      12,
    );
  });

  it('takes a ± that was written with the earlier reading for that of two standard deviations', () => {
    const build = started(world())
      .measured('fine')
      .set('size', toleranced(20, 19.8, 20.2));
    expect(unsure(read(ran(build), 'fine', 19.4).plan(), 'worn')).toBeCloseTo(Math.hypot(0.1, own, shared), 12);
  });

  it('is too close to call where only the earlier reading makes it so', () => {
    const made = world().rule('holds', [{ value: world().read('worn'), high: n(1) }]);
    const state = (first: string): string => {
      const build = read(ran(read(started(made), first, 20)), 'fine', 19.3);
      return build
        .plan()
        .outcome()
        .checks.find(({ id }) => id === 'holds')!.state;
    };
    // 0.3 from its limit: 1.65 × 0.049 with one instrument, 1.65 × 0.23 with two
    expect([state('fine'), state('coarse')]).toEqual(['holds-measured', 'at-risk']);
  });
});

describe('uncertainty() of a figure of before', () => {
  it('is that of the earlier reading', () => {
    const plan = read(ran(read(started(world()), 'coarse', 20)), 'fine', 19.4).plan();
    const { value } = plan.valueOf(plan.schema.slotAt.get('was-sure')!, 'measured');
    expect(value.is === 'numbers' && value.tensor.data[0]).toBeCloseTo(Math.hypot(ownCoarse, sharedCoarse), 12);
  });
});

describe('what is measured by readings', () => {
  it('is unsure by those from before a cut, as by those since', () => {
    const made = new World()
      .axis('end', 4)
      .property('hours')
      .property('reading', { axes: ['end'] });
    made.property('width', { measuredBy: reduce('mean', made.read('reading'), [0]), changedBy: ['hours'] });
    made.derive('worn', bin(made.in('before', 'width'), '-', made.read('width')));
    const ends = (from: number): Expr => list(0, [n(from), n(from + 0.1), n(from), n(from + 0.1)]);
    const build = ran(started(made).measured('fine').set('reading', ends(20)));
    const plan = build.measured('fine').set('reading', ends(19)).plan();
    expect(unsure(plan, 'worn')).toBeCloseTo(Math.hypot(own / 2, own / 2), 12);
    expect(unsure(plan, 'width')).toBeCloseTo(Math.hypot(own / 2, shared), 12);
  });
});

// Random histories against a model that knows only which reading counts now, which counted before, and who read them.

type Gauge = 'fine' | 'coarse';
type Row = readonly (number | null)[];
type Block = { readonly kind: 'ran' } | { readonly kind: 'read'; readonly gauge: Gauge; readonly sizes: Row };
const places = 3;
const block: fc.Arbitrary<Block> = fc.oneof(
  fc.constant({ kind: 'ran' as const }),
  fc.record({
    kind: fc.constant('read' as const),
    gauge: fc.constantFrom<Gauge>('fine', 'coarse'),
    sizes: fc.array(fc.option(fc.integer({ min: 100, max: 999 })), { minLength: places, maxLength: places }),
  }),
);
const gauges = { fine: { own, shared }, coarse: { own: ownCoarse, shared: sharedCoarse } };
const specified = 0.5 / Math.sqrt(3);

/** Standard uncertainty of `now` times the figure that counts and `then` times that of before, in one place. */
function model(blocks: readonly Block[], place: number, now: number, then: number): number {
  const aged = blocks.findLastIndex(({ kind }) => kind === 'ran');
  const isRead = (one: Block): boolean => one.kind === 'read' && one.sizes[place] !== null;
  const newest = blocks.findLastIndex((one, at) => at > aged && isRead(one));
  const earlier = aged < 0 ? newest : blocks.findLastIndex((one, at) => at < aged && isRead(one));
  const figures = new Map<number, number>();
  for (const [which, weight] of [
    [newest, now],
    [earlier, then],
  ] as const)
    figures.set(which, (figures.get(which) ?? 0) + weight);
  const calibrations = new Map<Gauge, number>();
  let variance = 0;
  for (const [which, weight] of figures) {
    const reading = blocks[which];
    if (reading?.kind !== 'read') {
      variance += (weight * specified) ** 2;
      continue;
    }
    variance += (weight * gauges[reading.gauge].own) ** 2;
    calibrations.set(reading.gauge, (calibrations.get(reading.gauge) ?? 0) + weight);
  }
  for (const [gauge, weight] of calibrations) variance += (weight * gauges[gauge].shared) ** 2;
  return Math.sqrt(variance);
}

describe('random histories', () => {
  it('leave what counts and what counted before together as unsure as by hand, in loops as in the interpreter', () => {
    let earlierAlone = 0;
    const weight = fc.integer({ min: -3, max: 3 });
    fc.assert(
      fc.property(fc.array(block, { maxLength: 6 }), weight, weight, (blocks, now, then) => {
        const made = new World().axis('row', places).property('hours');
        made.property('size', { axes: ['row'], changedBy: ['hours'] });
        const of = bin(bin(n(now), '*', made.read('size')), '+', bin(n(then), '*', made.in('before', 'size')));
        made.derive('together', of, { axes: ['row'] });
        const build = started(made).give('size', toleranced(500, 499.5, 500.5));
        for (const one of blocks)
          if (one.kind === 'ran') ran(build);
          else
            build.measured(one.gauge).set(
              'size',
              list(
                0,
                one.sizes.map((size) => (size === null ? gap : n(size))),
              ),
            );
        const plan = build.plan();
        const slot = made.id('together');
        const found = plan.outcome().slots[slot]!.uncertainty();
        for (let place = 0; place < places; place++)
          expect(found[place] ?? 0).toBeCloseTo(model(blocks, place, now, then), 10);
        earlierAlone += plan
          .sensitivities()
          .sources()
          .filter(({ id }) => id.includes(' of ')).length;
        const quick = simulation(plan, [{ slot }], { trials: 40, seed: 9 });
        expect(quick.compiled).toBe(1);
        const slow = simulation(plan, [{ slot }], { trials: 40, seed: 9, how: 'interpreted' });
        expect(quick.found).toEqual(slow.found);
      }),
      { numRuns: 200, seed: 52 },
    );
    expect(earlierAlone).toBeGreaterThan(100);
  });
});
