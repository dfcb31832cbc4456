// "Only the cells that matter": what is named as missing, to be measured or at fault follows indices cell by cell.
import { describe, expect, it } from 'vitest';
import { bin, gap, gather, list, n, reduce } from '../evaluate/build.ts';
import { World } from '../plan/build.ts';

/** Four rods on two pins: room = hole − pin[pin-of]. */
const world = (): World => {
  const made = new World()
    .axis('rod', 4)
    .axis('pin', 2)
    .property('hole', { axes: ['rod'] })
    .property('pin', { axes: ['pin'] });
  made.property('pin-of', { axes: ['rod'], measurable: false, formula: list(0, [n(0), n(0), n(1), n(1)]) });
  made.derive('room', bin(made.read('hole'), '-', gather(made.read('pin'), 1, made.read('pin-of'))), { axes: ['rod'] });
  return made.rule('room', [{ value: made.read('room'), low: n(1) }]);
};

describe('cells that matter', () => {
  it('follow an index', () => {
    const plan = world()
      .build()
      .give('hole', n(7))
      .give('pin', list(1, [gap, gap]))
      .plan();
    const [check] = plan.outcome().checks;
    expect(check!.cells.map(({ missing }) => missing.map(({ label }) => label))).toEqual([
      ['pin[1]'],
      ['pin[1]'],
      ['pin[2]'],
      ['pin[2]'],
    ]);
  });

  it('follow an index to what is still to be measured', () => {
    const plan = world()
      .build()
      .give('hole', n(7))
      .give('pin', n(5))
      .measured()
      .set('hole', list(0, [n(7), n(7), n(7), gap]))
      .set('pin', list(1, [n(5), gap]))
      .plan();
    expect(plan.outcome().toMeasure.map(({ input }) => input.label)).toEqual(['hole[4]', 'pin[2]']);
  });

  it('follow an index that a check itself writes', () => {
    const made = world();
    const build = made
      .build()
      .give('hole', n(7))
      .give('pin', list(1, [gap, n(5)]));
    build.expect('room[3] >= 2', [{ value: gather(made.read('room'), 0, n(2)), low: n(2) }]);
    build.expect('hole[1] - hole[2]', [
      {
        value: bin(gather(made.read('hole'), 0, n(0)), '-', gather(made.read('hole'), 0, n(1))),
        high: n(1),
        slot: null,
      },
    ]);
    const outcome = build.plan().outcome();
    expect(outcome.toMeasure.find(({ input }) => input.label === 'hole[3]')!.settles).toEqual(['room']);
    expect(outcome.toMeasure.find(({ input }) => input.label === 'hole[1]')!.settles).toEqual([
      'room',
      'expect hole[1] - hole[2]',
    ]);
  });

  it('are all cells of a reduction', () => {
    const made = world();
    made
      .derive('least', reduce('min', made.read('room'), [0]))
      .rule('least', [{ value: made.read('least'), low: n(1) }]);
    const outcome = made
      .build()
      .give('hole', n(7))
      .give('pin', list(1, [gap, n(5)]))
      .plan()
      .outcome();
    expect(outcome.checks.find(({ id }) => id === 'least')!.cells[0]!.missing.map(({ label }) => label)).toEqual([
      'pin[1]',
    ]);
  });
});
