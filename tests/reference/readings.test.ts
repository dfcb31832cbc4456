/** What a reading is worth: repeats, calibrations that are shared, readings taken warm, instruments out of their time or too coarse. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { engine, unit } from './rows/row.ts';
import { message } from '../../language/src/report/findings.ts';
import { run, runEdited } from './run.ts';
import type { Ran } from './run.ts';

const figure = (ran: Ran, path: string, of: keyof typeof unit): number => ran.builds[0]!.figures(path)[0]! / unit[of];
const deviation = (ran: Ran, path: string, of: keyof typeof unit): number => {
  const slot = ran.builds[0]!.outcome.slots.find((one) => one.slot.path === path)!;
  return (slot.uncertainty()[0] ?? 0) / unit[of];
};
const codes = ({ slips }: Ran): readonly string[] => slips.map((slip) => slip.slice(0, slip.indexOf(':')));

describe('repeats', () => {
  test('GUM 4.4.3: twenty readings, 100.145 degC, standard deviation of the mean 0.333 K', () => {
    const ran = run(readFileSync(new URL('certainty/thermometer.thou', import.meta.url), 'utf8'));
    expect(figure(ran, 'oven.temperature', 'K') - 273.15).toBeCloseTo(100.145, 9);
    expect(Math.abs(deviation(ran, 'oven.temperature', 'K') - 0.333)).toBeLessThan(0.0005);
  });

  const chambers = (readings: string, gauge = 'resolution: 0.1 cc'): Ran =>
    runEdited(
      engine(
        `layout: single\nmeasured with burette { head.chamber: [${readings}] cc }`,
        `part burette: Instrument { ${gauge} }`,
      ),
    );
  test('the mean counts, and s / √n where it is more than the steps: JCGM 100, 4.2.3', () => {
    const ran = chambers('repeated [66.1, 65.5, 66.7]');
    expect(figure(ran, 'head.chamber', 'cc')).toBeCloseTo(66.1, 9);
    expect(deviation(ran, 'head.chamber', 'cc')).toBeCloseTo(0.6 / Math.sqrt(3), 9);
  });
  test('readings that scatter less than the steps are as sure as one', () => {
    expect(deviation(chambers('repeated [66.1, 66.1, 66.1]'), 'head.chamber', 'cc')).toBeCloseTo(
      0.1 / Math.sqrt(12),
      9,
    );
  });
  test('the calibration is shared by all of them', () => {
    const ran = chambers('repeated [66.1, 65.5, 66.7]', 'resolution: 0.1 cc, uncertainty: 0.4 cc');
    expect(deviation(ran, 'head.chamber', 'cc')).toBeCloseTo(Math.hypot(0.6 / Math.sqrt(3), 0.2), 9);
  });
  test('one reading alone has no scatter, and without an instrument nothing is known of it', () => {
    const alone = runEdited(engine('layout: single\nmeasured { head.chamber: [repeated [66.1]] cc }'));
    expect(deviation(alone, 'head.chamber', 'cc')).toBe(0);
    const three = runEdited(engine('layout: single\nmeasured { head.chamber: [repeated [66.1, 65.5, 66.7]] cc }'));
    expect(deviation(three, 'head.chamber', 'cc')).toBeCloseTo(0.6 / Math.sqrt(3), 9);
  });
});

describe('calibrations', () => {
  const both = (second: string): Ran =>
    runEdited(
      engine(
        'layout: single\nmeasured { block.bore: [80.05] mm with first\npiston.skirt: [80.00] mm with second }',
        `part first: Instrument { uncertainty: 0.002 mm, calibrated: 2026-01-10 }
part second: Instrument ${second}`,
      ),
    );
  test('two instruments with one calibration share it: it cancels in a difference', () => {
    expect(deviation(both('of first { }'), 'piston-to-wall', 'mm')).toBe(0);
    expect(deviation(both('of first { resolution: 0.001 mm }'), 'piston-to-wall', 'mm')).toBeCloseTo(
      0.001 / Math.sqrt(12),
      9,
    );
  });
  test.each([
    'of first { calibrated: 2026-02-11 }',
    'of first { uncertainty: 0.002 mm }',
    '{ uncertainty: 0.002 mm, calibrated: 2026-01-10 }',
  ])('with calibrations of their own they do not: %s', (second) => {
    expect(deviation(both(second), 'piston-to-wall', 'mm')).toBeCloseTo(0.001 * Math.SQRT2, 9);
  });

  const read = (on: string): Ran =>
    runEdited(
      engine(
        `layout: single\nmeasured "Bore" on ${on} with gauge { block.bore: [80.05] mm\nblock.standard-bore: 80.0 mm }`,
        'part gauge: Instrument { resolution: 0.001 mm, calibrated: 2026-01-10, expires: 2026-07-10 }',
      ),
    );
  test('a reading after the last day is told, where the instrument is named and once', () => {
    expect(read('2026-07-10').slips).toEqual([]);
    expect(read('2026-07-11').slips).toEqual([
      'reading.calibration: The calibration of gauge counted until 2026-07-10; this reading is of 2026-07-11. Have it calibrated, and read again.',
    ]);
  });
  test('a reading that a later one has overtaken is not told', () => {
    const later = engine(
      'layout: single\nmeasured on 2026-08-01 with old { block.bore: [80.05] mm }\nmeasured on 2026-08-02 { block.bore: [80.06] mm }',
      'part old: Instrument { resolution: 0.001 mm, expires: 2026-07-10 }',
    );
    expect(runEdited(later).slips).toEqual([]);
  });
});

describe('too coarse, and for another sort of quantity', () => {
  const skirt = (resolution: string, more = ''): Ran =>
    runEdited(
      engine(
        `layout: single\n${more}\npiston.skirt: 4.120 in +0.0010/-0\nmeasured with mic { piston.skirt: [4.1205] in }`,
        `part mic: Instrument { resolution: ${resolution} }`,
      ),
    );
  // the rule of ten: common practice, no source
  test('a tolerance should hold ten steps', () => {
    expect(skirt('0.0001 in').slips).toEqual([]);
    expect(skirt('0.0002 in').slips).toEqual([
      'reading.coarse: The steps of mic, 0.0002 in, are coarse for piston.skirt: it has 0.001 in from limit to limit. Steps of 0.0001 in or less would do.',
    ]);
  });
  test('the library says how many; a build may say another number', () => {
    expect(skirt('0.0002 in', 'fineness: 5').slips).toEqual([]);
    expect(codes(skirt('0.0001 in', 'fineness: 11'))).toEqual(['reading.coarse']);
  });
  test('a gauge of lengths is not counted for a volume', () => {
    const ran = runEdited(
      engine(
        'layout: single\nmeasured with mic { head.chamber: [66.1] cc }',
        'part mic: Instrument { resolution: 0.1 mm, uncertainty: 0.1 mm }',
      ),
    );
    expect(codes(ran)).toEqual(['reading.instrument']);
    expect(deviation(ran, 'head.chamber', 'cc')).toBe(0);
  });
  test('a ± says all by itself', () => {
    const stated = engine(
      'layout: single\nmeasured with mic { head.chamber: [66.1 ± 0.2] cc }',
      'part mic: Instrument { resolution: 0.1 mm }',
    );
    expect(runEdited(stated).slips).toEqual([]);
  });
});

describe('read warm', () => {
  const bore = (reading: string, gauge: string, material: string): Ran =>
    runEdited(
      engine(
        `layout: single\nblock.material: ${material}\nmeasured with gauge at 30 degC { block.bore: [${reading}] }`,
        `part ring-22: Material of cast-aluminium { expansion: 22 um/m/K }\npart gauge: Instrument { ${gauge} }`,
      ),
    );
  // UN-03, ISO 1: 4.125 in of iron is 0.0004702 in larger at 30 degC, of aluminium of 22 um/m/K 0.0009075 in
  test.each([
    ['grey-iron', '4.12547025 in'],
    ['ring-22', '4.1259075 in'],
  ])('%s with a gauge that does not grow', (material, reading) => {
    expect(figure(bore(reading, 'expansion: 0 um/m/K', material), 'block.bore', 'in')).toBeCloseTo(4.125, 10);
  });
  test('the gauge grows as well: only the difference counts', () => {
    // 4.125 in · (11.4 − 11.5) · 10⁻⁶ · 10 = −0.0000041 in
    expect(figure(bore('4.125 in', 'expansion: 11.5 um/m/K', 'grey-iron'), 'block.bore', 'in')).toBeCloseTo(
      4.125 * (1.000115 / 1.000114),
      12,
    );
  });
  test('nothing is brought anywhere where nobody says how the gauge grows', () => {
    expect(figure(bore('4.125 in', 'resolution: 0.0001 in', 'grey-iron'), 'block.bore', 'in')).toBeCloseTo(4.125, 12);
  });
  test('what is at 20 degC already is not brought there twice', () => {
    const ran = bore('4.12547025 in', 'expansion: 0 um/m/K', 'grey-iron');
    expect(figure(ran, 'block.bore-at-20', 'in')).toBeCloseTo(4.125, 10);
    expect(figure(bore('4.125 in', 'resolution: 0.0001 in', 'grey-iron'), 'block.bore-at-20', 'in')).toBeCloseTo(
      4.125 - 0.00047025,
      10,
    );
  });
  test('a grid of readings, and the figure that they make; a ± goes with it', () => {
    const grid = runEdited(
      engine(
        'layout: single\nmeasured with gauge at 30 degC { block.bore-reading: [[[80.0, 80.2], [80.0, 80.2], [80.0, 80.2]]] mm\ncrank.stroke: [50 ± 0.01] mm }',
        'part gauge: Instrument { expansion: 0 um/m/K }',
      ),
    );
    expect(figure(grid, 'block.bore', 'mm')).toBeCloseTo(80.1 / 1.000114, 9);
    expect(figure(grid, 'crank.stroke', 'mm')).toBeCloseTo(50 / 1.000123, 9);
    expect(deviation(grid, 'crank.stroke', 'mm')).toBeCloseTo(0.005 / 1.000123, 9);
  });
  test('pistons of several metals grow each in its own way', () => {
    const pistons = runEdited(
      engine(
        'layout: inline-4-flat\npiston[1].metal: cast\npiston[2].metal: forged-2618\npiston[3].metal: cast\npiston[4].metal: cast\nmeasured with gauge at 30 degC { piston.skirt: [80, 80, 80, 80] mm }',
        'part gauge: Instrument { expansion: 0 um/m/K }',
      ),
    );
    const skirts = pistons.builds[0]!.figures('piston.skirt').map((si) => si / unit.mm);
    [20, 22.3, 20, 20].forEach((growth, at) => expect(skirts[at]).toBeCloseTo(80 / (1 + growth * 1e-5), 9));
  });
  test('how far gauge and part may be apart in warmth makes lengths unsure: α · L · u(ΔT), rectangular', () => {
    const ran = bore('100 mm', 'soak: 2 K', 'grey-iron');
    expect(deviation(ran, 'block.bore', 'mm')).toBeCloseTo((100 * 11.4e-6 * 2) / Math.sqrt(3), 9);
  });
});

describe('guard bands of what is too close to call', () => {
  const near = (more: string, reading = '4.1209') => {
    const { outcome } = runEdited(
      engine(
        `layout: single\n${more}\npiston.skirt: 4.120 in +0.0010/-0\nmeasured with mic { piston.skirt: [${reading}] in }`,
        'part mic: Instrument { uncertainty: 0.0002 in }',
      ),
    ).builds[0]!;
    const check = outcome.checks.find(({ id }) => id === 'piston.skirt.to-size')!;
    return { check, text: message(outcome, check, { placeOf: () => null, nameOf: () => '' }) };
  };
  // u = 0.0001 in; ISO 14253-1 by edition: 1.65 u (2017), 2 u (2013)
  test.each([
    [
      '',
      1.65,
      '0.00017 in (1.65 standard uncertainties, iso-14253-1-2017); surely inside 4.12017..4.12084 in, surely out beyond 4.11984..4.12117 in',
    ],
    [
      'decision-rule: iso-14253-1-2013',
      2,
      '0.0002 in (2 standard uncertainties, iso-14253-1-2013); surely inside 4.1202..4.1208 in, surely out beyond 4.1198..4.1212 in',
    ],
  ])('%s', (more, factor, words) => {
    const { check, text } = near(more);
    expect(check.state).toBe('at-risk');
    expect(check.cells[0]!.guard!.low! / unit.in).toBeCloseTo(factor * 0.0001, 9);
    expect(check.cells[0]!.guard!.high! / unit.in).toBeCloseTo(factor * 0.0001, 9);
    expect(text).toContain(`Guard band: ${words}.`);
  });
  test('what surely holds or is surely out is told without', () => {
    expect(near('', '4.1205').text).not.toContain('Guard');
    expect(near('', '4.1215').text).not.toContain('Guard');
  });
});

describe('a big end 0.002 mm under its least clearance', () => {
  const tight = (uncertainty: string): string =>
    runEdited(
      engine(
        `layout: single
rod { big-end-housing: 37.01 mm, shell: 1.492 mm }
rod-clearance-limits: 0.028..0.045 mm
measured on 2026-04-11 { crank.rod-journal: [33.998] mm with mic\nrod.big-end-housing: [37.008] mm with ring-gauge }`,
        `part mic: Instrument { resolution: 0.001 mm, uncertainty: ${uncertainty}, calibrated: 2026-01-20 }
part ring-gauge: Instrument { resolution: 0.001 mm, uncertainty: ${uncertainty}, calibrated: 2026-01-20 }`,
      ),
    ).builds[0]!.check('rod-oil-clearance').state;
  // common practice, no source: 0.001 mm for what compares with blocks and a ring near the size, 0.003 mm for a micrometer over its travel
  test('is surely out with gauges that compare, too close to call with a micrometer over its whole travel', () => {
    expect(tight('0.001 mm')).toBe('out-of-limits');
    expect(tight('0.003 mm')).toBe('at-risk');
  });
});
