/** Guides, seats, heights and vacuum readings: definitions, worked by hand. */
import { engine, type Row } from './row.ts';

const two = (more: string): string => engine(`layout: inline-2\nengine-class: motorcycle\n${more}`);
const guide = two(`intake {
    valve.material: steel-4140
    guide { material: bearing-bronze, bore: 5.500 mm, warmer-by: 80 K, stem-warmer-by: 150 K }
  }
  measured on 2026-01-01 {
    intake.valve.stem-reading: [1: [[5.480, 5.478, 5.476]], 2: [[5.481, 5.481, 5.481]]] mm
    intake.guide.bore-reading: [1: [[5.504, 5.500, 5.506]], 2: [[5.501, 5.500, 5.500]]] mm
  }`);
const heights = two(`intake {
    installed-height: 1.900 in, tip-height: 2.000 in, valve.head: 2.00 in, closed-depth: 0.145 in
    installed-height-reading: [1: [1.905], 2: [1.900]] in
    seat.sunk: [1: [0.042], 2: [0.010]] in
  }`);

export const seatRows: readonly Row[] = [
  {
    id: 'play of the stems',
    source: 'definition: guide − stem at three places',
    text: guide,
    path: 'intake.guide.clearance',
    expected: [0.024, 0.022, 0.03, 0.02, 0.019, 0.019],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'bell-mouth',
    source: 'definition',
    text: guide,
    path: 'intake.guide.bell-mouth',
    expected: [0.006, 0.001],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'tightest play, hot',
    // 5.5 mm × (18.0e-6 × 80 − 12.3e-6 × 150) = −0.0022275 mm
    source: 'linear expansion; bronze 18.0, steel 12.3 um/m/K (Callister, table B.6)',
    text: guide,
    path: 'intake.guide.clearance-hot',
    expected: [0.0197725, 0.0167725],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'installed height after seat work',
    source: 'definition: height + how far the valve sank',
    text: heights,
    path: 'intake.installed-height-after',
    expected: [1.947, 1.91],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'shims that bring it back',
    source: 'brute force over all sums of three: 0.047 is nearest to 0.045, 0.010 to 0.015',
    text: heights,
    path: 'intake.height-shims',
    expected: [1, 1, 0, 1, 0, 0],
    unit: '1',
    tolerance: 0,
  },
  {
    id: 'tips after seat work',
    source: 'definition: a sunk valve stands higher',
    text: heights,
    path: 'intake.tip-spread',
    expected: 0.032,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'chambers after seat work',
    source: 'definition: π/4 × 2.00² × 0.042 and 0.010 in³',
    text: heights,
    path: 'intake.chamber-from-seats',
    expected: [Math.PI * 0.042, Math.PI * 0.01],
    unit: 'in3',
    tolerance: 1e-9,
  },
  {
    id: 'depth of the closed face after seat work',
    source: 'definition',
    text: heights,
    path: 'intake.closed-depth-after',
    expected: [0.187, 0.155],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'vacuum under the best port',
    source: 'definition',
    text: two('intake.vacuum: [21, 15.5] inHg'),
    path: 'intake.vacuum-under-best',
    expected: [0, 5.5 * 3386.388640341],
    unit: 'Pa',
    tolerance: 1e-6,
  },
  {
    id: 'interference angle and band',
    source: 'definition: (30 − 28) / 2 mm',
    text: two('intake { valve { head: 30 mm, face-angle: 44 deg }, seat { angle: 45 deg, contact: 28 mm } }'),
    path: 'intake.seat.band-from-edge',
    expected: 1,
    unit: 'mm',
    tolerance: 1e-12,
  },
];
