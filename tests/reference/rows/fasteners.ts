/** Threads by formula, torque, stretch, angle, joint, clamp against gas. */
import { computed, engine, type Row } from './row.ts';

const areas = (
  source: string,
  formula: (diameter: string, pitch: string) => string,
  of: 'mm2' | 'in2',
  rows: readonly (readonly [diameter: string, pitch: string, area: number, tolerance: number])[],
): readonly Row[] =>
  rows.map(([diameter, pitch, area, tolerance]) => ({
    id: `${diameter} × ${pitch}`,
    source,
    text: computed('Area', formula(diameter, pitch)),
    path: 'wanted',
    expected: of === 'mm2' ? area : area * 645.16,
    unit: 'mm2',
    tolerance: of === 'mm2' ? tolerance : tolerance * 645.16,
  }));
const bolt = (members: string, wanted = ''): string =>
  engine(`layout: single\nrod.bolt { ${members} }`, wanted === '' ? '' : `derive wanted: ${wanted}`);
const twoPieces =
  'diameter: 7/16 in, thread: unified-fine, grip: 1.7 in, free-thread: 0.5 in, modulus: 30e6 psi, preload: 14000 lbf';
const pitches = (series: string, rows: readonly (readonly [string, number])[], source: string): readonly Row[] =>
  rows.map(([diameter, pitch]) => ({
    id: `${series}, ${diameter}`,
    source,
    text: bolt(`diameter: ${diameter}, thread: ${series}`),
    path: 'rod.bolt.pitch',
    expected: [pitch, pitch],
    unit: 'mm',
    tolerance: 1e-9,
  }));

export const fastenerRows: readonly Row[] = [
  {
    id: 'F-01',
    source: 'Wentzell, Machine Design, 6.1: 3/4-10, 85 % of 85 ksi on 0.334 in², K 0.2',
    text: computed('Torque', 'torque-of-preload(0.85 * 85 ksi * 0.334 in^2, 0.2, 0.75 in)'),
    path: 'wanted',
    expected: 3619.725,
    unit: 'in-lbf',
    tolerance: 1e-6,
  },
  {
    id: 'F-02',
    source: 'Wentzell, Machine Design, 6.2: the same bolt, 5 in long, the joint taken as stiff',
    text: computed('Angle', 'turn-for(0.85 * 85 ksi * 5 in / 30e6 psi, 1/10 in)'),
    path: 'wanted',
    expected: 43.35,
    unit: 'deg',
    tolerance: 1e-9,
  },
  ...areas('Jindal, ex. 9-1', (d, p) => `metric-stress-area(${d}, ${p})`, 'mm2', [
    ['16 mm', '2 mm', 156.668, 5e-4],
    ['16 mm', '1.5 mm', 167.248, 5e-4],
  ]),
  ...areas(
    'ISO 898-1, nominal stress areas, remembered and computed; rounded there to three figures',
    (d, p) => `metric-stress-area(${d}, ${p})`,
    'mm2',
    [
      ['5 mm', 'metric-coarse-pitch(5 mm)', 14.2, 0.005 * 14.2],
      ['6 mm', 'metric-coarse-pitch(6 mm)', 20.1, 0.005 * 20.1],
      ['8 mm', 'metric-coarse-pitch(8 mm)', 36.6, 0.005 * 36.6],
      ['10 mm', 'metric-coarse-pitch(10 mm)', 58.0, 0.005 * 58],
      ['12 mm', 'metric-coarse-pitch(12 mm)', 84.3, 0.005 * 84.3],
      ['16 mm', 'metric-coarse-pitch(16 mm)', 157, 0.005 * 157],
      ['20 mm', 'metric-coarse-pitch(20 mm)', 245, 0.005 * 245],
    ],
  ),
  ...areas('ASME B1.1, its formula computed', (d, p) => `unified-stress-area(${d}, ${p})`, 'in2', [
    ['3/8 in', '1/24 in', 0.087828, 1e-6],
    ['7/16 in', '1/14 in', 0.106308, 1e-6],
    ['7/16 in', '1/20 in', 0.118716, 1e-6],
    ['1/2 in', '1/13 in', 0.141898, 1e-6],
    ['1/2 in', '1/20 in', 0.159953, 1e-6],
    ['3/4 in', '1/10 in', 0.33446, 1e-6],
  ]),
  {
    id: 'F-08 torque',
    source: 'Jindal, ex. 9-6: M20, 120 kN, K 0.18',
    text: computed('Torque', 'torque-of-preload(120 kN, 0.18, 20 mm)'),
    path: 'wanted',
    expected: 432,
    unit: 'N*m',
    tolerance: 1e-9,
  },
  {
    id: 'F-08 stress',
    source:
      'Jindal, ex. 9-6, on the 245 mm² of ISO 898-1; the notebook prints 489.0 by a division of whole numbers. The formula of the thread gives 490.2',
    text: bolt('diameter: 20 mm, area: 245 mm^2, preload: 120 kN'),
    path: 'rod.bolt.clamp-stress',
    expected: [489.8e6, 489.8e6],
    unit: 'Pa',
    tolerance: 5e4,
  },
  ...(
    [
      ['as-received', 0.3],
      ['zinc-plated', 0.2],
      ['oiled', 0.18],
      ['cadmium-plated', 0.16],
      ['anti-seize', 0.12],
    ] as const
  ).map(([lubricant, factor]): Row => ({
    id: `F-11 ${lubricant}`,
    source:
      "Shigley's Mechanical Engineering Design, table 8-15; the last two from memory. Its one proprietary nut is left out",
    text: bolt(`diameter: 7/16 in, lubricant: ${lubricant}`),
    path: 'rod.bolt.torque-factor',
    expected: [factor, factor],
    unit: '1',
    tolerance: 0,
  })),
  {
    id: 'FB-02',
    source: "Hooke's law, springs in series: 1.2 in of shank and 0.5 in of free thread",
    text: bolt(twoPieces),
    path: 'rod.bolt.stretch-for-clamp',
    expected: [0.00569061, 0.00569061],
    unit: 'in',
    tolerance: 1e-8,
  },
  {
    id: 'FB-02 as one shank',
    source: "Hooke's law: the whole grip taken as shank is 7 % low",
    text: computed('Length', '14000 lbf * bar-give(1.7 in, pi / 4 * (7/16 in) ^ 2, 30e6 psi)'),
    path: 'wanted',
    expected: 0.00527727,
    unit: 'in',
    tolerance: 1e-8,
  },
  ...(
    [
      [0.3, 72.675],
      [0.25, 60.5625],
      [0.2, 48.45],
      [0.15, 36.3375],
      [0.1, 24.225],
    ] as const
  ).map(([factor, torque]): Row => ({
    id: `FB-03 K ${factor}`,
    source: 'Mechanical Fastening, Joining, and Assembly, p. 85: No. 10 (0.190 in), 1275 lbf; prints one decimal',
    text: computed('Torque', `torque-of-preload(1275 lbf, ${factor}, 0.190 in)`),
    path: 'wanted',
    expected: torque,
    unit: 'in-lbf',
    tolerance: 1e-9,
  })),
  {
    id: 'FB-09',
    source: "Shigley's Mechanical Engineering Design, eq. 8-26, from memory: 1/2-20, both frictions 0.15",
    text: computed('Ratio', 'torque-factor(0.5 in, 0.4675 in, 1/20 in, 0.15, 0.15)'),
    path: 'wanted',
    expected: 0.1912136,
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'FB-05',
    source: "Shigley's Mechanical Engineering Design, eq. 8-22",
    text: computed('SpringRate', 'clamped-stiffness(30e6 psi, 0.625 in, 1.5 in)'),
    path: 'wanted',
    expected: 19184194,
    unit: 'lbf/in',
    tolerance: 20,
  },
  {
    id: 'FB-07',
    source: 'pressure by area: 1500 psi in a fire ring of 4.250 in',
    text: computed('Force', 'gas-force(1500 psi, 4.250 in)'),
    path: 'wanted',
    expected: 21279.381,
    unit: 'lbf',
    tolerance: 1e-3,
  },
  {
    id: 'FB-08',
    source: 'the lead of a screw: 0.006 in at 20 threads to the inch, the joint taken as stiff',
    text: computed('Angle', 'turn-for(0.006 in, 1/20 in)'),
    path: 'wanted',
    expected: 43.2,
    unit: 'deg',
    tolerance: 1e-9,
  },
  ...pitches(
    'metric-coarse',
    [
      ['8 mm', 1.25],
      ['10 mm', 1.5],
      ['12 mm', 1.75],
    ],
    'ISO 261, from memory',
  ),
  ...pitches(
    'metric-fine',
    [
      ['8 mm', 1],
      ['10 mm', 1.25],
      ['14 mm', 1.5],
    ],
    'ISO 262, from memory',
  ),
  ...pitches(
    'unified-coarse',
    [
      ['3/8 in', 25.4 / 16],
      ['1/2 in', 25.4 / 13],
    ],
    'ASME B1.1, from memory',
  ),
  ...pitches(
    'unified-fine',
    [
      ['3/8 in', 25.4 / 24],
      ['7/16 in', 25.4 / 20],
    ],
    'ASME B1.1, from memory',
  ),
  {
    id: 'pitch diameter of M10',
    source: 'ISO 724: 9.026 mm',
    text: computed('Length', 'thread-pitch-diameter(10 mm, 1.5 mm)'),
    path: 'wanted',
    expected: 9.026,
    unit: 'mm',
    tolerance: 5e-4,
  },
  {
    id: 'minor diameter of M10',
    source: 'ISO 724: 8.376 mm',
    text: computed('Length', 'thread-minor-diameter(10 mm, 1.5 mm)'),
    path: 'wanted',
    expected: 8.376,
    unit: 'mm',
    tolerance: 5e-4,
  },
  {
    id: 'root of an M10 bolt',
    source: 'ISO 724 and ISO 68-1: 8.160 mm, from memory',
    text: computed('Length', 'thread-root-diameter(10 mm, 1.5 mm)'),
    path: 'wanted',
    expected: 8.16,
    unit: 'mm',
    tolerance: 5e-4,
  },
  {
    id: 'band of one torque',
    source: 'definition: 85 ft-lbf, K 0.18 on 7/16 in, less 30 %',
    text: bolt('diameter: 7/16 in, lubricant: oiled, torque: 85 ft-lbf'),
    path: 'rod.bolt.preload-by-torque-least',
    expected: [(0.7 * 85 * 12) / (0.18 * 0.4375), (0.7 * 85 * 12) / (0.18 * 0.4375)],
    unit: 'lbf',
    tolerance: 1e-6,
  },
  {
    id: 'measured stretch goes before torque',
    source: "Hooke's law turned round: FB-02 back to its load",
    text: bolt(
      `${twoPieces.replace('preload: 14000 lbf', 'stretch: 0.00569061 in')}, lubricant: oiled, torque: 85 ft-lbf`,
    ),
    path: 'rod.bolt.clamp',
    expected: [14000, 14000],
    unit: 'lbf',
    tolerance: 0.02,
  },
  {
    id: 'turn and stretch agree',
    source: 'the turn for a load, put back, gives the load',
    text: bolt(
      `${twoPieces.replace(', preload: 14000 lbf', '')}, turn: turn-for(14000 lbf * (bar-give(1.2 in, pi / 4 * (7/16 in) ^ 2, 30e6 psi) + bar-give(0.5 in, unified-stress-area(7/16 in, 1/20 in), 30e6 psi) + 1 / clamped-stiffness(205 GPa, 7/16 in, 1.7 in)), 1/20 in)`,
    ),
    path: 'rod.bolt.clamp',
    expected: [14000, 14000],
    unit: 'lbf',
    tolerance: 1e-6,
  },
  {
    id: 'share of a load that the bolt sees',
    source: 'springs beside each other: k_b / (k_b + k_m), with FB-05 and one shank of 5/8 in',
    text: bolt('diameter: 0.625 in, grip: 1.5 in, thread: unified-fine, modulus: 30e6 psi, clamped-modulus: 30e6 psi'),
    path: 'rod.bolt.joint-share',
    expected: [0.24233391, 0.24233391],
    unit: '1',
    tolerance: 1e-7,
  },
  {
    id: 'adapter on the wrench',
    source: 'moment of a force: 80 ft-lbf, 16 in wrench, 2 in adapter in line',
    text: computed('Torque', 'wrench-setting(80 ft-lbf, 16 in, 2 in, 0 deg)'),
    path: 'wanted',
    expected: (80 * 12 * 16) / 18,
    unit: 'in-lbf',
    tolerance: 1e-9,
  },
];
