/** Figures of cam, valve train, ports and air that follow from others, each worked out here again by its definition. */
import { describe, expect, test } from 'vitest';
import { engine, unit } from './rows/row.ts';
import { run, type Result } from './run.ts';

function built(members: string): Result {
  const ran = run(engine(members));
  expect(ran.slips.filter((slip) => !/^(finding|accept)/.test(slip))).toEqual([]);
  return ran.build('row');
}
const { in: inch, deg, mm, lbf, cfm, hp } = unit;
const card = 'lobe { lift: 0.362 in, centreline: 106 deg, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }';

describe('cam', () => {
  test('ramp and intensity of a card: (292 − 242) / 2 and 242 − 157 degrees', () => {
    const row = built(`layout: single\nintake { ${card} }`);
    expect(row.figures('intake.lobe.ramp')[0]! / deg).toBeCloseTo(25, 9);
    expect(row.figures('intake.lobe.intensity')[0]! / deg).toBeCloseTo(85, 9);
  });
  test('readings 0.002 in under the card; the greatest slope of a parabola over 60° is 120 / 360 mm a degree', () => {
    const points = Array.from({ length: 61 }, (_, at) => 2 * at - 60).map((q) => `${q}: ${10 - (q * q) / 360}`);
    const row = built(`layout: single
      intake.lobe { lift: ${10 + 0.002 * 25.4} mm, readings: [${points.join(', ')}] deg -> mm, indicator-resolution: 0.0001 mm }`);
    expect(row.figures('intake.lobe.lift-off-card')[0]! / inch).toBeCloseTo(-0.002, 9);
    expect((row.figures('intake.lobe.greatest-slope')[0]! / mm) * deg).toBeCloseTo(120 / 360, 9);
    // a parabola is not moved by more neighbours
    expect((row.figures('intake.lobe.bend-moved-by-smoothing')[0]! / mm) * deg ** 2).toBeCloseTo(0, 12);
  });
  test('a lobe found 2° early: its sprocket goes back 1 cam degree', () => {
    const row = built(
      `layout: single\nintake.lobe { lift: 0.362 in, centreline: 106 deg }
      measured on 2026-03-02 { intake.lobe.centreline: 104 deg with wheel }`.replace(' with wheel', ''),
    );
    expect(row.figures('sprocket-turn')[0]! / deg).toBeCloseTo(-1, 9);
  });
  test('ports of a two-stroke: blowdown by the law of cosines, crankcase and compression above the port', () => {
    const row = built(`layout: single
      block { bore: 54 mm, deck-height: 200 mm }
      crank.stroke: 54 mm, rod.length: 110 mm, piston.compression-height: 63 mm
      head.chamber: 10 cc, head-gasket { bore: 54 mm, thickness: 0 mm }
      crankcase-volume: 300 cc, port[exhaust-port].edge: 30 mm, port[transfer-port].edge: 42 mm`);
    const opens = (edge: number): number => {
      const height = 27 + 110 - edge;
      return Math.acos((27 ** 2 + height ** 2 - 110 ** 2) / (2 * 27 * height)) / deg;
    };
    const area = (Math.PI / 4) * 5.4 ** 2;
    expect(row.figures('blowdown')[0]! / deg).toBeCloseTo(opens(42) - opens(30), 7);
    expect(row.figures('crankcase-ratio')[0]).toBeCloseTo((300 + area * 5.4) / 300, 9);
    expect(row.figures('port-compression')[0]).toBeCloseTo((area * 3 + 10) / 10, 9);
  });
});

describe('valve train', () => {
  test('stress in the wire of an open spring', () => {
    const row = built(
      'layout: single\nintake { lobe.lift: 10 mm, spring[outer] { wire: 4 mm, coil-diameter: 24 mm, active-coils: 5, rate: 30 N/mm, free-height: 50 mm, installed: 40 mm } }',
    );
    const stress = ((26 / 21) * 8 * 600 * 0.024) / (Math.PI * 0.004 ** 3);
    expect(row.figures('intake.spring.stress-open')[0]! / stress).toBeCloseTo(1, 9);
  });
  test('a rocker of 1.5 in at 0.600 in of lift, square at a third: sines of 0.2 and 0.4 thirds of it', () => {
    const row = built(
      'layout: single\nintake { lobe.lift: 0.4 in, rocker-ratio: 1.5, rocker { valve-arm: 1.5 in, square-at: 1/3 } }',
    );
    expect(row.figures('intake.rocker.angle-when-closed')[0]).toBeCloseTo(Math.asin(0.2 / 1.5), 9);
    expect(row.figures('intake.rocker.angle-when-open')[0]).toBeCloseTo(Math.asin(0.4 / 1.5), 9);
  });
  test('a pushrod of 7.8164 in as if its balls were whole is 7.800 in over the flats of 0.100 in', () => {
    const row = built(
      'layout: vee-8-cross\npushrod { length: 7.8164 in, length-as: theoretical, ball: 5/16 in, oil-hole: 0.100 in }',
    );
    const flat = 5 / 32 - Math.sqrt((5 / 32) ** 2 - 0.05 ** 2);
    expect(row.figures('pushrod.overall-length')[0]! / inch).toBeCloseTo(7.8164 - 2 * flat, 9);
    expect(row.figures('pushrod.overall-length')[0]! / inch).toBeCloseTo(7.8, 3);
  });
  test('a stem worn by 0.0003 in, a face 1° flatter than its seat', () => {
    const row = built(`layout: single
      intake { guide.bore: 0.3435 in, seat.angle: 45 deg, valve { face-angle: 44 deg, stem-reading: [1: [1: [0.3415, 0.3412, 0.3414]]] in } }`);
    expect(row.figures('intake.guide.stem-wear')[0]! / inch).toBeCloseTo(0.0003, 9);
    expect(row.figures('intake.seat.interference-angle')[0]! / deg).toBeCloseTo(1, 9);
  });
});

describe('lift and clearance along the crank', () => {
  const members = (key: number): string => `layout: single
    block { bore: 4 in, deck-height: 9 in }
    crank.stroke: 3.5 in, rod.length: 6 in, piston.compression-height: 1.24 in, head-gasket.thickness: 0.04 in
    key-advance: ${key} deg
    intake { ${card}, rocker-ratio: 1.6, lash: 0.018 in, valve { head: 2.02 in, angle: 15 deg }, closed-depth: 0.145 in, pocket-depth: 0.065 in }`;
  const row = built(members(0));
  const model = (name: string): number => row.figures(`intake.lobe.${name}`)[0]!;
  const liftAt = (crank: number): number => {
    const q = Math.abs(crank - 106) * deg;
    const lobe =
      q < model('model-width')
        ? 0.362 * (1 - (q / model('model-width')) ** model('nose-power')) ** model('foot-power')
        : 0;
    return Math.max(0, 1.6 * lobe - 0.018);
  };
  const along = row.figures('intake.lift-along');
  const at = (crank: number): number => along.length / 2 + crank;

  test('the lift at each degree is that of the model', () => {
    for (const crank of [-40, 0, 50, 106, 200, 260]) expect(along[at(crank)]! / inch).toBeCloseTo(liftAt(crank), 9);
  });
  test('the area under it, and how full it is', () => {
    const area = Array.from({ length: 720 }, (_, place) => liftAt(place - 360)).reduce((sum, lift) => sum + lift, 0);
    expect(row.figures('intake.lift-area')[0]! / (inch * deg)).toBeCloseTo(area, 2);
    const full = area / ((1.6 * 0.362 - 0.018) * 242);
    expect(row.figures('intake.fullness')[0]).toBeCloseTo(full, 4);
  });
  test('at the top the valve has what it has when closed, less its lift', () => {
    const closed = 0.145 + 0.04 + 0.01 + 0.065;
    // the pocket is parallel to the valve
    const room = closed * Math.cos(15 * deg) - liftAt(0);
    expect(row.figures('intake.valve-to-piston-along')[at(0)]! / inch).toBeCloseTo(room, 9);
  });
  test('one degree of later cam is the slope between a hundredth of a degree earlier and later', () => {
    const least = (key: number): number => built(members(key)).figures('intake.valve-to-piston')[0]! / inch;
    const slope = (least(-0.01) - least(0.01)) / 0.02;
    expect(row.figures('intake.valve-to-piston-per-degree')[0]! / inch).toBeCloseTo(slope, 6);
    expect(slope).toBeGreaterThan(0.003);
  });
});

describe('ports, carburettor, torque', () => {
  test('tables of a port by tenths of its lift', () => {
    const row = built(`layout: single
      redline: 6000 rpm
      block.bore: 4 in
      crank.stroke: 3 in
      rod.length: 6 in
      intake { lobe.lift: 0.5 in, valve { head: 2 in, stem: 0.3415 in }, seat { angle: 45 deg, width: 0.060 in }, port-throat: 1.75 in, port-section: 2.5 in^2
        bench-air: 1.2 kg/m^3, flow-depression: 28 inH2O, flow: [0.05: 30, 0.500: 250] in -> cfm }`);
    const last = (name: string): number => row.figures(`intake.${name}`)[9]!;
    const ideal = (area: number): number => area * inch ** 2 * Math.sqrt((2 * 28 * 249.08891) / 1.2);
    expect(last('table-curtain') / inch ** 2).toBeCloseTo(Math.PI * 2 * 0.5, 9);
    // the frustum between seat and valve, then the port less the stem, whichever comes
    const mean = 2 - 0.06;
    const port = (Math.PI / 4) * (1.75 ** 2 - 0.3415 ** 2);
    const frustum = Math.PI * mean * Math.hypot(0.5 - 0.06 * Math.tan(45 * deg), 0.06);
    expect(last('table-least-area') / inch ** 2).toBeCloseTo(Math.min(port, frustum), 9);
    expect(last('curtain-coefficient') * ideal(Math.PI)).toBeCloseTo(250 * cfm, 8);
    expect(last('head-coefficient') * ideal(Math.PI)).toBeCloseTo(250 * cfm, 8);
    expect(row.figures('intake.flow-by-section')[0]! / (cfm / inch ** 2)).toBeCloseTo(100, 9);
    const pistons = (2 * 3 * inch * 6000) / 60;
    expect(row.figures('intake.port-speed-peak')[0]).toBeCloseTo((1.6 * pistons * (Math.PI / 4) * 16) / 2.5, 6);
  });
  test('a carburettor of 500 cfm at 3 inHg under an engine that breathes 347.2, in air of 1.2 kg/m³', () => {
    const row = built(`layout: single
      redline: 6000 rpm
      block.bore: 4 in
      crank.stroke: 3 in
      rod.length: 6 in
      volumetric-efficiency: 90 %
      carburettor { rated-flow: 500 cfm, rated-at: 3 inHg }
      barometer: 101.325 kPa
      air-temperature: 20 degC
      humidity: 0 %`);
    const breathes = ((Math.PI / 4) * 16 * 3 * inch ** 3 * 0.9 * 100) / 2 / cfm;
    expect(row.figures('carburettor.size-share')[0]).toBeCloseTo(500 / breathes, 9);
    expect(row.figures('carburettor.depression-at-redline')[0]! / 3386.389).toBeCloseTo(3 * (breathes / 500) ** 2, 5);
    const density = 101325 / (287.05 * 293.15);
    expect(row.figures('air-mass-flow')[0]).toBeCloseTo(breathes * cfm * density, 5);
  });
  test('torque and power: 300 lbf·ft at 5,252.113 rpm are 300 hp', () => {
    const row = built(`layout: vee-8-cross
      redline: 5252.1131 rpm
      block.bore: 4 in
      crank.stroke: 3 in
      rod.length: 6 in
      torque-read: 300 ft-lbf
      torque-speed: 5252.1131 rpm
      power-target: 300 hp`);
    expect(row.figures('power-at-torque')[0]! / hp).toBeCloseTo(300, 4);
    expect(row.figures('torque-for-target')[0]! / (0.3048 * lbf)).toBeCloseTo(300, 4);
    const displacement = (Math.PI / 4) * 16 * 3 * 8 * inch ** 3;
    expect(row.figures('brake-mean-pressure')[0]).toBeCloseTo((4 * Math.PI * 300 * 0.3048 * lbf) / displacement, 3);
  });
  test('power in the standard’s air is what was read by its correction', () => {
    const row = built(
      'layout: single\nbarometer: 97.5 kPa\nair-temperature: 15 degC\nhumidity: 0 %\npower-read: 200 hp',
    );
    // 1.18 × (99 / 97.5) × √(288 / 298) − 0.18
    const factor = 1.18 * (99 / 97.5) * Math.sqrt(288 / 298) - 0.18;
    expect(row.figures('power-corrected')[0]! / hp).toBeCloseTo(200 * factor, 6);
  });
  test('a nest of 90 lbf that is to have 99: one shim of 0.030 in at 300 lbf/in', () => {
    const row = built(
      'layout: single\nintake { lobe.lift: 0.5 in, seat-load-target: 99 lbf, spring[outer] { rate: 300 lbf/in, free-height: 2.2 in, installed: 1.9 in, solid: 1.0 in } }',
    );
    expect(row.figures('intake.seat-load-shimmed')[0]! / lbf).toBeCloseTo(99, 9);
  });
});
