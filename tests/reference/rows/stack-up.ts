/** Ratios, volumes and pressures: closed forms, and limits that must hold whatever the engine. */
import { computed, engine, type Row } from './row.ts';

/** The engine of rows CR-01 to CR-09: its inputs were found back from CR-02, CR-03 and CR-05, which agree to all their figures. */
const stack = (more: string): string =>
  engine(`layout: single
  block { bore: 4.125 in, deck-height: 9.235 in }
  crank.stroke: 4.000 in
  rod.length: 6.125 in
  piston { compression-height: 1.110 in, reliefs: 5 cc, top-land: 4.085 in, top-land-height: 0.300 in }
  head.chamber: 66 cc
  head-gasket { bore: 4.155 in, thickness: 0.039 in }
  compression-target: 10.5
  barometer: 14.6959 psi
  ${more}`);
const closing = (exponent: string): string =>
  stack(`intake.lobe { duration-at-006: 292 deg, centreline: 106 deg }\ncranking-exponent: ${exponent}`);
const cylinder =
  'layout: single\nblock { bore: 20 cm, deck-height: 400 mm }\ncrank.stroke: 25 cm\nrod.length: 225 mm\npiston.compression-height: 50 mm';
const gupta = engine(`${cylinder}\nhead.chamber: 1570 cc\nhead-gasket { bore: 20 cm, thickness: 0 mm }
  charge-pressure: 1 bar\ncharge-temperature: 300 K\ncompression-exponent: 1.4`);
const polytropic = (ratio: number, exponent: number): string =>
  computed('Ratio', `(cranking-pressure-gauge(1 bar, ${ratio}, ${exponent}, 0 bar)) / 1 bar`);

export const stackUpRows: readonly Row[] = [
  {
    id: 'CR-01 ratio',
    source: 'definition; inputs found back from CR-02, CR-03',
    text: stack(''),
    path: 'compression',
    expected: [11.99583],
    unit: '1',
    tolerance: 1e-5,
  },
  {
    id: 'CR-02 gasket 0.001 in thicker',
    source: 'derivative of the definition',
    text: stack(''),
    path: 'compression-per-thou-of-gasket',
    expected: [-0.0306684],
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'CR-03 chamber for 10.5',
    source: 'definition turned round',
    text: stack(''),
    path: 'chamber-for-target',
    expected: [78.54385],
    unit: 'cc',
    tolerance: 1e-4,
  },
  {
    id: 'CR-05 crevice',
    source: 'definition',
    text: stack(''),
    path: 'crevice-volume',
    expected: [1.267989],
    unit: 'cc',
    tolerance: 1e-5,
  },
  {
    id: 'CR-05 ratio with crevice',
    source: 'definition',
    text: stack(''),
    path: 'compression-with-crevice',
    expected: [11.82356],
    unit: '1',
    tolerance: 1e-5,
  },
  {
    id: 'CR-06 dome',
    source: 'closed form',
    text: engine('layout: single\nblock.bore: 4.125 in\npiston { crown-down: 0.500 in, crown-filled: 104.3 cc }'),
    path: 'crown-by-burette',
    expected: [5.1987],
    unit: 'cc',
    tolerance: 1e-4,
  },
  {
    id: 'CR-08 closes at the bottom',
    source: 'limit at the true bottom: the trapped ratio is the static one',
    text: computed(
      'Ratio',
      'trapped-ratio(bottom-angle(4 in, 6.125 in, 0.05 in) - top-angle(4 in, 6.125 in, 0.05 in) - 180 deg, 4 in, 6.125 in, 0.05 in, 4.125 in, 80 cc) / (1 + pi / 4 * (4.125 in) ^ 2 * whole-travel(4 in, 6.125 in, 0.05 in) / 80 cc)',
    ),
    path: 'wanted',
    expected: 1,
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'CR-08 closes at the bottom, no offset',
    source: 'limit: the trapped ratio is the static one',
    text: computed(
      'Ratio',
      'trapped-ratio(0 deg, 4 in, 6.125 in, 0 in, 4.125 in, 80 cc) - pi / 4 * (4.125 in) ^ 2 * 4 in / 80 cc',
    ),
    path: 'wanted',
    expected: 1,
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'CR-08 closes at the top',
    source: 'limit: nothing is trapped',
    text: computed('Ratio', 'trapped-ratio(180 deg, 4 in, 6.125 in, 0 in, 4.125 in, 80 cc)'),
    path: 'wanted',
    expected: 1,
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'CR-09 effective stroke',
    source: 'closed form',
    text: closing('1.2'),
    path: 'effective-stroke-at-006',
    expected: [2.92087],
    unit: 'in',
    tolerance: 1e-5,
  },
  {
    id: 'CR-09 trapped ratio',
    source: 'closed form',
    text: closing('1.2'),
    path: 'dynamic-compression-at-006',
    expected: [9.029351],
    unit: '1',
    tolerance: 1e-5,
  },
  {
    id: 'CR-09 cranking, 1.2',
    source: 'polytropic',
    text: closing('1.2'),
    path: 'cranking-pressure-at-006-gauge',
    expected: [191.36],
    unit: 'psi',
    tolerance: 5e-3,
  },
  {
    id: 'CR-09 cranking, 1.3',
    source: 'polytropic',
    text: closing('1.3'),
    path: 'cranking-pressure-at-006-gauge',
    expected: [242.077],
    unit: 'psi',
    tolerance: 5e-4,
  },
  {
    id: 'H-01 ratio',
    source: 'Gupta, Fundamentals of IC Engines, ex. 2.1',
    text: gupta,
    path: 'compression',
    expected: [6.0025],
    unit: '1',
    tolerance: 5e-5,
  },
  {
    id: 'H-01 pressure',
    source: 'Gupta ex. 2.1',
    text: gupta,
    path: 'compression-end-pressure',
    expected: [12.29],
    unit: 'bar',
    tolerance: 5e-3,
  },
  {
    id: 'H-01 temperature',
    source: 'Gupta ex. 2.1 prints 341.3 degC, from 27 degC taken as 300 K',
    text: gupta,
    path: 'compression-end-temperature',
    expected: [341.3 + 273.15],
    unit: 'K',
    tolerance: 0.05,
  },
  ...(
    [
      [1.3, [14.9285, 19.9526, 25.2892, 30.9006]],
      [1.35, [16.5642, 22.3872, 28.6348, 35.2592]],
      [1.4, [18.3792, 25.1189, 32.423, 40.2327]],
    ] as const
  ).flatMap(([exponent, expected]) =>
    expected.map((figure, i): Row => ({
      id: `H-05 ratio ${8 + 2 * i}, n ${exponent}`,
      source: 'ratio ^ n',
      text: polytropic(8 + 2 * i, exponent),
      path: 'wanted',
      expected: figure,
      unit: '1',
      tolerance: 1e-4,
    })),
  ),
  ...(
    [
      [1000, 97716.57],
      [2000, 94212.91],
      [3000, 90811.67],
      [5000, 84307.28],
      [10000, 69681.66],
    ] as const
  ).map(([feet, pascals]): Row => ({
    id: `A-02 ${feet} ft`,
    source: 'US Standard Atmosphere 1976, closed form (5000 ft is AIR-01 too)',
    text: engine(`layout: single\naltitude: ${feet} ft`),
    path: 'barometer',
    expected: pascals,
    unit: 'Pa',
    tolerance: 0.01,
  })),
];
