/** Masses, speed bound, rockers, pushrods: closed forms and definitions. */
import { computed, engine, type Row } from './row.ts';

const train = (more = ''): string =>
  engine(`layout: single\nredline: 7000 rpm
  intake {
    rocker-ratio: 1.6, pushrod-mass: 60 g, follower.mass: 95 g
    valve.mass: 115 g, retainer.mass: 28 g, lock.mass: 6 g
    spring[outer] { rate: 330 lbf/in, mass: 90 g, free-height: 2.220 in, installed: 1.900 in }
    ${more}
  }`);
/** Cosine lift of 14 mm over ±140°: lift″ at the nose is 7 mm × (180/140)² for each radian squared. */
const cosine = '7 mm * (180 / 140) ^ 2 / (1 rad * 1 rad)';
const rocker = (more: string): string =>
  engine(`layout: single\nintake { lobe.lift: 0.400 in, rocker-ratio: 1.5, rocker { valve-arm: 1.500 in, ${more} } }`);
const checker = (more: string): string =>
  engine(`layout: vee-8-cross\nengine-class: car
  intake { rocker-ratio: 1.6, lash: 0.016 in }
  exhaust { rocker-ratio: 1.6, lash: 0.016 in }
  pushrod { length-as: overall, ball: 5/16 in, oil-hole: 0.100 in }
  ${more}`);
const both = (figure: number): readonly number[] => [figure, figure];

export const valveTrainRows: readonly Row[] = [
  {
    id: 'VT-01 at the valve',
    source: 'kinetic energy: 115 + 28 + 6 + 90/3 + (95 + 60)/1.6²',
    text: train(),
    path: 'intake.mass-at-valve',
    expected: 239.54688,
    unit: 'g',
    tolerance: 1e-5,
  },
  {
    id: 'VT-01 at the cam',
    source: 'kinetic energy: × 1.6²',
    text: train(),
    path: 'intake.mass-at-cam',
    expected: 613.24,
    unit: 'g',
    tolerance: 1e-6,
  },
  {
    id: 'VT-01 with a rocker',
    source: 'kinetic energy: 200 kg·mm² on an arm of 40 mm is 125 g',
    text: train('rocker { valve-arm: 40 mm, inertia: 200 kg*mm^2 }'),
    path: 'intake.mass-at-valve',
    expected: 364.54688,
    unit: 'g',
    tolerance: 1e-5,
  },
  {
    id: 'VT-02 bound',
    source: 'F = m·y″·ω²: 1500 N, 0.165 kg, cosine lift 14 mm over ±140°',
    text: computed('RotationalSpeed', `rigid-train-limit(1500 N, 165 g, ${cosine})`),
    path: 'wanted',
    expected: 8464.115,
    unit: 'rpm',
    tolerance: 0.01,
  },
  {
    id: 'VT-02 10 g lighter',
    source: 'F = m·y″·ω²: 0.155 kg',
    text: computed('RotationalSpeed', `rigid-train-limit(1500 N, 155 g, ${cosine})`),
    path: 'wanted',
    expected: 8732.884,
    unit: 'rpm',
    tolerance: 0.01,
  },
  {
    id: 'VT-02 as a ratio, ×1.03',
    source: 'F = m·y″·ω²: √(165 / 155)',
    text: engine(
      'layout: single\nintake { valve.mass: 100 g, retainer.mass: 25 g, lock.mass: 10 g, spring[outer] { rate: 30 N/mm, mass: 90 g } }',
    ),
    path: 'intake.rigid-train-ratio-if-lighter',
    expected: 8732.884 / 8464.115,
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'retainer 14 g lighter on the scale',
    source: 'F = m·y″·ω²: √(239.54688 / 225.54688)',
    text: engine(`layout: single
      intake {
        rocker-ratio: 1.6, pushrod-mass: 60 g, follower.mass: 95 g
        valve.mass: 115 g, retainer.mass: 28 g, lock.mass: 6 g
        spring[outer] { rate: 330 lbf/in, mass: 90 g, free-height: 2.220 in, installed: 1.900 in }
        lobe.lift: 0.3 in
      }
      machining on 2026-01-05 { intake.retainer.mass: was - 14 g }`),
    path: 'intake.rigid-train-ratio-since-specified',
    expected: Math.sqrt(239.546875 / 225.546875),
    unit: '1',
    tolerance: 1e-9,
  },
  {
    id: 'RK-01 mid-lift set',
    source: 'a − √(a² − (y/2)²)',
    text: computed('Length', 'rocker-sweep(1.500 in, 0.600 in, 0.5)'),
    path: 'wanted',
    expected: 0.0303062,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'RK-01 square at the seat',
    source: 'a − √(a² − y²)',
    text: computed('Length', 'rocker-sweep(1.500 in, 0.600 in, 0)'),
    path: 'wanted',
    expected: 0.125227,
    unit: 'in',
    tolerance: 1e-6,
  },
  {
    id: 'RK-01 in the engine',
    source: 'a − √(a² − (y/2)²)',
    text: rocker('fixing: stud'),
    path: 'intake.rocker.sweep',
    expected: 0.0303062,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'sweep of a third set against every angle in turn',
    source: 'brute force: greatest less least of a·cos θ from 0.2 in above square to 0.4 in below',
    text: rocker('square-at: 1/3'),
    path: 'intake.rocker.sweep',
    expected: 1.5 - 1.5 * Math.cos(Math.asin(0.4 / 1.5)),
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'pivot by the mid-lift rule',
    source: 'roller radius − half of the lift',
    text: rocker('roller-radius: 0.25 in'),
    path: 'intake.rocker.pivot-height-wanted',
    expected: -0.05,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'pivot to rise 0.020 in on a stud',
    source: '0.020 × (1 + 1.5)',
    text: rocker('fixing: stud, checker-reading: 0.020 in'),
    path: 'intake.rocker.pushrod-change',
    expected: 0.05,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'pivot to rise 0.020 in on a shaft',
    source: 'one to one',
    text: rocker('fixing: shaft, checker-reading: 0.020 in'),
    path: 'intake.rocker.stand-change',
    expected: 0.02,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'PR-02 3/8-24, half a turn, ratio 1.5',
    source: 'turns × pitch × (1 + 1/R); confirmed by a 2-D linkage',
    text: rocker('fixing: stud, adjuster-pitch: 1/24 in, adjuster-turns: 0.5 rev'),
    path: 'intake.rocker.adjuster-travel',
    expected: 0.0347222,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'PR-02 7/16-20, half a turn, ratio 1.6',
    source: 'turns × pitch × (1 + 1/R)',
    text: computed('Length', 'cup-travel(0.5 rev, 1/20 in, 1.6)'),
    path: 'wanted',
    expected: 0.040625,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'PR-02 an adjuster in the cup of a shaft rocker',
    source: 'turns × pitch: the factor (1 + 1/R) does not apply',
    text: rocker('fixing: shaft, adjuster-pitch: 1/24 in, adjuster-turns: 0.5 rev'),
    path: 'intake.rocker.adjuster-travel',
    expected: 0.5 / 24,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'PR-01 one end',
    source: 'sagitta of the ball: 5/16 in, hole 0.100 in',
    text: computed('Length', 'ball-flat(5/16 in, 0.100 in)'),
    path: 'wanted',
    expected: 0.00821601,
    unit: 'in',
    tolerance: 1e-8,
  },
  {
    id: 'PR-01 both ends',
    source: 'sagitta of the ball: 0.016432 in',
    text: checker('pushrod.length: 7.800 in'),
    path: 'pushrod.theoretical-length',
    expected: both(7.816432),
    unit: 'in',
    tolerance: 1e-6,
  },
  {
    id: 'hydraulic: checker and preload',
    source: 'definition: 7.800 + 0.040',
    text: checker('pushrod { lifter: hydraulic, checker-length: 7.800 in }'),
    path: 'pushrod.length-needed',
    expected: both(7.84),
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'hydraulic: preload of the sizes that can be bought',
    source: 'definition: 7.800, 7.850 and 7.900 where 7.840 leaves 0.040 in',
    text: checker('pushrod { lifter: hydraulic, checker-length: 7.800 in }'),
    path: 'pushrod.preload-with',
    expected: [0, 0.05, 0.1, 0, 0.05, 0.1],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'hydraulic: the nearest pushrod of the shelf',
    source: 'definition: of 7.800, 7.850 and 7.875 the last is nearest to 7.870 and leaves 0.045 in',
    text: engine(
      `layout: vee-8-cross\nengine-class: car\npushrod { length-as: overall, lifter: hydraulic, checker-length: 7.830 in }`,
      'part PR-A: Pushrod { length: 7.800 in }\npart PR-B: Pushrod { length: 7.850 in }\npart PR-C: Pushrod { length: 7.875 in }',
    ),
    path: 'pushrod.shelf-preload',
    expected: both(0.045),
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'solid without adjuster: lash by the ratio',
    source: 'definition: 7.800 − 0.016 / 1.6',
    text: checker('pushrod { lifter: solid, checker-length: 7.800 in }'),
    path: 'pushrod.length-needed',
    expected: both(7.79),
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'a head cut after the checker was read',
    source: 'plane geometry: 7.800 + 0.040 − 0.020',
    text: checker(`pushrod.lifter: hydraulic
      measured on 2026-01-01 { pushrod.checker-length: [intake: 7.800, exhaust: 7.900] in }
      machining on 2026-02-01 { head.milled: 0.020 in }`),
    path: 'pushrod.length-needed',
    expected: [7.82, 7.92],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'a head cut before the checker was read changes nothing',
    source: 'plane geometry: 7.800 + 0.040',
    text: checker(`pushrod.lifter: hydraulic
      machining on 2026-01-01 { head.milled: 0.020 in }
      measured on 2026-02-01 { pushrod.checker-length: [intake: 7.800, exhaust: 7.900] in }`),
    path: 'pushrod.length-needed',
    expected: [7.84, 7.94],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'reground cam and raised rockers, at angles',
    source: 'plane geometry: 7.800 + 0.030·cos 10° + (0.010 + 0.004 − 0.020)·cos 20°, adjustable',
    text: checker(`pushrod {
      lifter: solid, adjustable: yes, checker-length: 7.800 in, angle-to-lifter: 10 deg, angle-to-deck: 20 deg
      base-circle-smaller-since: 0.030 in, rocker-raised-since: 0.010 in, gasket-thicker-since: 0.004 in, heads-lowered-since: 0.020 in
    }`),
    path: 'pushrod.length-needed',
    expected: both(7.8 + 0.03 * Math.cos(Math.PI / 18) - 0.006 * Math.cos(Math.PI / 9)),
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'a checker with a screw',
    source: 'definition: 7.700 + 2 turns of 1/20 in',
    text: checker('pushrod { checker-closed: 7.700 in, checker-turns: 2 rev, checker-pitch: 1/20 in }'),
    path: 'pushrod.length-read',
    expected: both(7.8),
    unit: 'in',
    tolerance: 1e-12,
  },
];
