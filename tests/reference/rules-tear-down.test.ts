/** Rules of the tear-down and the wear that they judge. Each once where it must speak and once where it must not. */
import { describe, expect, test } from 'vitest';
import { engine } from './rows/row.ts';
import { testRules } from './rule-cases.ts';
import { run } from './run.ts';

const single = 'layout: single\n';

/** Built, run for a season, taken apart: readings of both days. */
const season = (built: string, apart: string, rest = ''): string =>
  `layout: inline-2\ntear-down { last-run: 2026-10-18 ${rest} }
   measured "Built" on 2026-03-01 { ${built} }
   machining "Season" on 2026-10-18 { hours-run: was + 31 h }
   measured "Taken apart" on 2026-11-02 { ${apart} }`;

testRules('the tear-down', [
  {
    rule: 'tear-down.bore-wear',
    about: '0.02 mm and 0.005 mm, 0.010 allowed',
    members: season(
      'block.bore: [80.010, 80.010] mm',
      'block.bore: [80.030, 80.015] mm',
      ', bore-worn-limits: <= 0.010 mm',
    ),
    out: ['[1]'],
  },
  {
    rule: 'tear-down.skirt-wear',
    about: '0.03 mm and 0.005 mm, 0.010 allowed',
    members: season(
      'piston.skirt: [79.95, 79.95] mm',
      'piston.skirt: [79.945, 79.92] mm',
      ', skirt-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'tear-down.main-journal-wear',
    about: 'one of three',
    members: season(
      'crank.main-journal: [50, 50, 50] mm',
      'crank.main-journal: [50, 49.98, 50] mm',
      ', journal-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'tear-down.rod-journal-wear',
    about: 'one of two',
    members: season(
      'crank.rod-journal: [40, 40] mm',
      'crank.rod-journal: [40, 39.98] mm',
      ', journal-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'intake.spring-tired-since',
    about: '13 % and 3 % less than when it was new',
    members: season(
      'intake.spring[outer].load-reading: [[300], [300]] N',
      'intake.spring[outer].load-reading: [[260], [290]] N',
    ),
    out: ['[outer, 1, 1]'],
  },
  {
    rule: 'exhaust.valve-sunk',
    about: 'lash 0.05 mm and 0.01 mm less',
    members: season(
      'exhaust.lash: [1: [0.20], 2: [0.20]] mm',
      'exhaust.lash: [1: [0.15], 2: [0.19]] mm',
      ', lash-lost-limits: <= 0.03 mm',
    ),
    out: ['[1, 1]'],
  },
]);

describe('wear', () => {
  const ran = run(
    engine(
      season(
        'block.bore: [80.010, 80.010] mm ring.gap[top]: [0.30, 0.30] mm',
        'block.bore: [1: 80.030] mm ring.gap[top]: [1: 0.40] mm',
      ),
    ),
  );
  const figures = (path: string): readonly number[] => ran.builds[0]!.figures(path).map((figure) => figure * 1000);

  test('is what was read before it ran against what was read after; what was not read again is not known', () => {
    expect(ran.slips).toEqual([]);
    expect(figures('tear-down.bore-worn')[0]).toBeCloseTo(0.02, 9);
    expect(figures('tear-down.bore-worn')[1]).toBeNaN();
    expect(figures('tear-down.ring-gap-grown')[0]).toBeCloseTo(0.1, 9);
    // (0.1 / π − 0.02) / 2
    expect(figures('tear-down.ring-face-worn')[0]).toBeCloseTo(0.0059155, 6);
  });
  test('turning torque is told as it rises', () => {
    const { builds } = run(
      engine(`${single}assembly.turning: [crank-in: 2, one-piston-in: 3, all-pistons-in: 9, cam-driven: 10] N*m`),
    );
    expect(builds[0]!.figures('assembly.turning-added').map((figure) => Number(figure.toFixed(9)))).toEqual([
      2, 1, 6, 1,
    ]);
  });
});
