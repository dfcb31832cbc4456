/** Ports, valves, air and fuel: definitions, textbook examples, closed forms. */
import { computed, engine, type Row } from './row.ts';

const rajput = 'Rajput, IC Engines, 7.12, p. 256: Taylor’s inlet Mach index, 110 × 140 mm, 340 K, coefficient 0.33';
const rajputIndex = (speed: string): string =>
  computed('Ratio', `mach-index(110 mm, 2 * 140 mm * (${speed} / 1 rev), 1, 44.95 mm, 0.33, sound-speed(340 K))`);
const single = (more: string): string =>
  engine(`layout: single\nredline: 7000 rpm
  block.bore: 104.775 mm\ncrank.stroke: 101.6 mm\nrod.length: 155 mm\npiston.pin.offset: 0 mm
  charge-temperature: 310 K
  ${more}`);
const mach = single('intake { valve.head: 51.3 mm, lift-mean-coefficient: 0.35 }');
const taylor = engine(`layout: single\nredline: 2400 rpm
  block.bore: 110 mm\ncrank.stroke: 140 mm\nrod.length: 220 mm\npiston.pin.offset: 0 mm
  charge-temperature: 340 K
  intake { valve.head: 40 mm, lift-mean-coefficient: 0.33, mach-limits: <= 0.55 }`);
const heywood = 'Heywood, eq. 6.7 to 6.9 (from memory): the pieces meet';
const area = (lift: number): string => computed('Area', `least-area(${lift} mm, 44 mm, 39 mm, 7 mm, 45 deg, 1.6 mm)`);
/** Change-overs of the least area, by their own formulas. */
const first = 1.6 / Math.sin(Math.PI / 4) ** 2;
const second = Math.sqrt(((39 ** 2 - 7 ** 2) / (4 * 42.4)) ** 2 - 1.6 ** 2) + 1.6;
const twoBarrel = engine(
  'layout: single\ncarburettor { rated-flow: 500 cfm, rated-at: 3 inHg, depression-wanted: 1.5 inHg }',
);
const v8 = (more: string): string =>
  engine(`layout: vee-8-cross\nredline: 7000 rpm
  block.bore: 4.125 in\ncrank.stroke: 4.000 in\nrod.length: 6.125 in\npiston.pin.offset: 0 in
  ${more}`);
const injector = v8(
  'power-target: 500 hp\nfuel-density: 0.720 g/cm^3\nbarometer: 100 kPa\ninjector { rated-flow: 440 cm^3/min, rated-at: 43.5 psi, rail-gauge: 60 psi }',
);

export const breathingRows: readonly Row[] = [
  {
    id: 'MZ-01 speed of sound',
    source: 'Taylor and Heywood, definition: 310 K',
    text: computed('Speed', 'sound-speed(310 K)'),
    path: 'wanted',
    expected: 352.958,
    unit: 'm/s',
    // with 287.0529 for 287.05 J/(kg·K)
    tolerance: 3e-3,
  },
  {
    id: 'MZ-01 index',
    source: 'Taylor and Heywood, definition',
    text: mach,
    path: 'intake.mach-at-redline',
    expected: [0.800496],
    unit: '1',
    tolerance: 1e-4,
  },
  {
    id: 'MZ-01 speed at 0.6',
    source: 'Taylor and Heywood, definition',
    text: mach,
    path: 'intake.speed-at-mach-limit',
    expected: [5246.74],
    unit: 'rpm',
    tolerance: 0.05,
  },
  {
    id: 'H-06 valve for 0.55 at 2400 rpm',
    source: `${rajput}: 44.95 mm`,
    text: taylor,
    path: 'intake.head-for-mach-limit',
    expected: [44.95],
    unit: 'mm',
    tolerance: 0.01,
  },
  {
    id: 'H-06 at 2800 rpm',
    source: `${rajput}: 0.64`,
    text: rajputIndex('2800 rpm'),
    path: 'wanted',
    expected: 0.64,
    unit: '1',
    tolerance: 0.005,
  },
  {
    id: 'H-06 at 4800 rpm',
    source: `${rajput}: 1.10`,
    text: rajputIndex('4800 rpm'),
    path: 'wanted',
    expected: 1.1,
    unit: '1',
    tolerance: 0.005,
  },
  {
    id: 'CT-01',
    source: 'curtain = head area at a quarter of the head',
    text: engine('layout: single\nintake.valve.head: 2.02 in'),
    path: 'intake.lift-of-full-curtain',
    expected: 0.505,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'CT-01 the areas',
    source: 'curtain less head area at a quarter of the head is nothing',
    text: computed('Area', 'curtain-area(2.02 in, 0.505 in) - pi / 4 * (2.02 in) ^ 2'),
    path: 'wanted',
    expected: 0,
    unit: 'mm2',
    tolerance: 1e-9,
  },
  ...[first - 1e-9, first + 1e-9].map((lift, side): Row => ({
    id: `CT-02 first change-over, ${side === 0 ? 'below' : 'above'}`,
    source: `${heywood} at 3.200 mm in 301.4052 mm²`,
    text: area(lift),
    path: 'wanted',
    expected: 301.4052,
    unit: 'mm2',
    tolerance: 1e-4,
  })),
  ...[second - 1e-9, second + 1e-9].map((lift, side): Row => ({
    id: `CT-02 second change-over, ${side === 0 ? 'below' : 'above'}`,
    source: `${heywood} at 10.13049 mm in 1156.1061 mm²`,
    text: area(lift),
    path: 'wanted',
    expected: 1156.1061,
    unit: 'mm2',
    tolerance: 1e-4,
  })),
  {
    id: 'AF-02',
    source: '√Δp: 500 cfm at 3 inHg is 353.5534 at 1.5',
    text: twoBarrel,
    path: 'carburettor.flow-there',
    expected: 353.5534,
    unit: 'cfm',
    tolerance: 1e-3,
  },
  {
    id: 'AF-03',
    source: '√Δp: 100 cfm at 10 inH2O is 167.332 at 28',
    text: computed('FlowRate', 'flow-at(100 cfm, 10 inH2O, 28 inH2O)'),
    path: 'wanted',
    expected: 167.332,
    unit: 'cfm',
    tolerance: 1e-3,
  },
  {
    id: 'a bench at 10 inH2O compared at 28',
    source: '√Δp, the table at full lift',
    text: engine(
      'layout: single\nintake { lobe.lift: 0.5 in, flow: [0.05: 10, 0.5: 100] in -> cfm, flow-depression: 10 inH2O }',
      'derive wanted: FlowRate = intake.table-flow[tenth: 10]',
    ),
    path: 'wanted',
    expected: 167.332,
    unit: 'cfm',
    tolerance: 1e-3,
  },
  {
    id: 'airflow of a four-stroke',
    source: 'in³ × rpm × efficiency / 3456',
    text: v8('volumetric-efficiency: 95 %'),
    path: 'airflow',
    expected: (((8 * Math.PI * 4.125 ** 2) / 4) * 4 * 7000 * 0.95) / 3456,
    unit: 'cfm',
    tolerance: 1e-6,
  },
  {
    id: 'airflow of a two-stroke',
    source: 'in³ × rpm × efficiency / 1728',
    text: engine(
      'layout: single { strokes: 2 }\nredline: 6000 rpm\nblock.bore: 3 in\ncrank.stroke: 3 in\nrod.length: 6 in\npiston.pin.offset: 0 in\nvolumetric-efficiency: 80 %',
    ),
    path: 'airflow',
    expected: (((Math.PI * 9) / 4) * 3 * 6000 * 0.8) / 1728,
    unit: 'cfm',
    tolerance: 1e-6,
  },
  {
    id: 'IN-02',
    source: '453.59237 / (60 × 0.720): 1 lb/h is the "10.5" cc/min',
    text: engine('layout: single\nfuel-density: 0.720 g/cm^3\ninjector.rated-mass-flow: 1 lb/h'),
    path: 'injector.rated-flow',
    expected: 10.49982,
    unit: 'cc/min',
    tolerance: 1e-5,
  },
  {
    id: 'IN-03',
    source: '√Δp: rated at 43.5, run at 60 psi, × 1.17444',
    text: injector,
    path: 'injector.flow-there',
    expected: 440 * 1.17444,
    unit: 'cc/min',
    tolerance: 3e-3,
  },
  {
    id: 'IN-05 time of a cycle',
    source: '120 / N: 17.14286 ms',
    text: v8('injector.many: 8'),
    path: 'injector.cycle-time',
    expected: 17.14286,
    unit: 'ms',
    tolerance: 1e-5,
  },
  {
    id: 'IN-05 80 % of it',
    source: '120 / N: 13.71429 ms; fuel for the power set so that it takes 80 %',
    text: v8(`fuel-density: 0.720 g/cm^3\nfuel-for-work: 0.5 lb/hp/h
      injector { rated-flow: ${(400 * 0.5 * 453.59237) / (60 * 0.72) / 8 / 0.8} cm^3/min, rated-at: 43.5 psi, rail-gauge: 43.5 psi }
      power-target: 400 hp`),
    path: 'injector.pulse',
    expected: 13.71429,
    unit: 'ms',
    tolerance: 1e-5,
  },
  {
    id: 'injector flow needed at 85 %',
    source: 'fuel for the power / (number × share × density): 250 lb/h on eight',
    text: injector,
    path: 'injector.flow-needed',
    expected: (250 * 10.49982) / 8 / 0.85,
    unit: 'cc/min',
    tolerance: 1e-3,
  },
  {
    id: 'BM-01',
    source: '4πT/V: 450 lbf·ft, 427.65 in³',
    text: computed('Pressure', 'mean-pressure(450 ft-lbf, 427.65 in^3, 2)'),
    path: 'wanted',
    expected: 158.6774,
    unit: 'psi',
    tolerance: 1e-4,
  },
  {
    id: 'PW-02',
    source: 'definition: 1 lbf·ft at 33 000 / 2π rpm is 1 hp',
    text: computed('Power', 'power-of(1 ft-lbf, 5252.113 rpm)'),
    path: 'wanted',
    expected: 1,
    unit: 'hp',
    tolerance: 1e-6,
  },
  {
    id: 'torque is the inverse',
    source: 'definition',
    text: computed('Power', 'power-of(torque-of(300 hp, 6000 rpm), 6000 rpm)'),
    path: 'wanted',
    expected: 300,
    unit: 'hp',
    tolerance: 1e-9,
  },
  {
    id: 'port speed',
    source: 'continuity: 2 × 4 in × 7000 rpm × (π/4 × 4.125²) / 2.4 in²',
    text: engine(
      'layout: single\nredline: 7000 rpm\nblock.bore: 4.125 in\ncrank.stroke: 4 in\nrod.length: 6 in\npiston.pin.offset: 0 in\nintake.port-section: 2.4 in^2',
    ),
    path: 'intake.port-speed',
    expected: [(((8 * 7000) / 60 / 12) * ((Math.PI / 4) * 4.125 ** 2)) / 2.4],
    unit: 'ft/s',
    tolerance: 1e-6,
  },
];
