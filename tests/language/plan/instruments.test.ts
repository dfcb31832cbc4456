// decisions.md, "Risk": a reading is resolution/√12 of its own and U/2 shared by instrument; ± replaces both.
import { describe, expect, it } from 'vitest';
import { bin, list, n, reduce, toleranced } from '../evaluate/build.ts';
import { World } from './build.ts';
import type { Build } from './build.ts';

const micrometer = { resolution: 0.12, uncertainty: 0.4 };
const read = (build: Build): Build => build.instrument('mic', micrometer).measured('mic');
const own = 0.12 / Math.sqrt(12);
const shared = 0.4 / 2;

describe('instruments', () => {
  const world = (): World => {
    const made = new World()
      .axis('row', 2)
      .property('a', { axes: ['row'] })
      .property('b');
    made.derive('room', bin(made.read('a'), '-', made.read('b')), { axes: ['row'] });
    made.derive('sum', bin(made.read('a'), '+', made.read('b')), { axes: ['row'] });
    return made.derive('mean', reduce('mean', made.read('a'), [0]));
  };
  const u = (build: Build, path: string): number | null =>
    build
      .plan()
      .outcome()
      .slots.find(({ slot }) => slot.path === path)!
      .uncertainty()[0]!;

  it('give a reading its resolution and the share of the calibration', () => {
    expect(u(read(world().build()).set('a', list(0, [n(5), n(6)])), 'a')).toBeCloseTo(Math.hypot(own, shared), 12);
  });

  it('cancel where two readings of one instrument are subtracted, and add where they are added', () => {
    const build = read(world().build())
      .set('a', list(0, [n(5), n(6)]))
      .set('b', n(2));
    expect(u(build, 'room')).toBeCloseTo(Math.hypot(own, own), 12);
    expect(u(build, 'sum')).toBeCloseTo(Math.hypot(own, own, 2 * shared), 12);
    expect(u(build, 'mean')).toBeCloseTo(Math.hypot(own / Math.sqrt(2), shared), 12);
  });

  it('do not cancel between two instruments', () => {
    const build = read(world().build())
      .set('a', list(0, [n(5), n(6)]))
      .instrument('bore', micrometer)
      .measured('bore')
      .set('b', n(2));
    expect(u(build, 'room')).toBeCloseTo(Math.hypot(own, own, shared, shared), 12);
  });

  it('give way to a ± with the reading, which is two standard deviations', () => {
    expect(u(read(world().build()).set('b', toleranced(2, 1.9, 2.1)), 'b')).toBeCloseTo(0.05, 12);
  });

  it('set no bounds: the worst case is of tolerances alone', () => {
    const outcome = read(world().build()).set('b', n(2)).plan().outcome();
    expect(outcome.slots[1]!.band()).toEqual([null]);
  });

  it('reach what is measured by readings', () => {
    const made = new World().axis('end', 4).property('reading', { axes: ['end'] });
    made.property('width', { measuredBy: reduce('mean', made.read('reading'), [0]) });
    const build = read(made.build()).set('reading', list(0, [n(1), n(1.1), n(1.2), n(1.3)]));
    expect(u(build, 'width')).toBeCloseTo(Math.hypot(own / 2, shared), 12);
  });

  it('leave a reading of a derived value as sure as it was read, whatever is under it', () => {
    const made = world();
    const build = read(
      made
        .build()
        .give('a', toleranced(5, 4, 6))
        .give('b', n(1)),
    ).set('room', list(0, [n(4.2), n(4.1)]));
    expect(u(build, 'room')).toBeCloseTo(Math.hypot(own, shared), 12);
  });

  it('put a reading near its limit at risk', () => {
    const made = world().rule('b', [{ value: world().read('b'), high: n(3) }]);
    const state = (x: number) => read(made.build()).set('b', n(x)).plan().outcome().checks[0]!;
    expect([state(2.6).state, state(2.7).state, state(2.7).severity]).toEqual(['holds-measured', 'at-risk', 'warning']);
  });

  it('tell where a reading of a derived value is further off than both are unsure of', () => {
    const problems = (x: number) => {
      const build = read(
        world()
          .build()
          .give('a', toleranced(5, 4.9, 5.1))
          .give('b', n(1)),
      );
      return build
        .set('room', list(0, [n(x), n(4)]))
        .plan()
        .outcome().problems;
    };
    // 2 u = 2 · hypot(0.1/√3, 0.2, 0.0346) = 0.422
    expect(problems(4.42)).toEqual([]);
    expect(problems(4.43).map(({ code, args }) => [code, args['path']])).toEqual([['reading.disagrees', 'room[1]']]);
  });
});
