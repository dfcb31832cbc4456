/** What counterweights, drilling and grinding correct: bobweights, two planes, holes, grades. */
import { computed, engine, type Row } from './row.ts';

const run = engine(
  'layout: single\ncrank { mass: 25 kg }\nredline: 3000 rpm\nbalance-grade: 6.3 mm/s\nbalancing { reading: [front-plane: 100, rear-plane: 0] g*mm, reading-angle: [front-plane: 0, rear-plane: 0] deg, read-places: [front-plane: 0, rear-plane: 500] mm, correction-places: [front-plane: 100, rear-plane: 400] mm, drill: 12.7 mm, drill-radius: 80 mm }',
);

export const balanceRows: readonly Row[] = [
  {
    id: 'BB-09',
    source: 'two-plane transfer: 133.33 in front, 33.33 opposite behind',
    text: run,
    path: 'balancing.correction',
    expected: [400 / 3, 100 / 3],
    unit: 'g*mm',
    tolerance: 1e-9,
  },
  {
    id: 'BB-09 where',
    source: 'two-plane transfer',
    text: run,
    path: 'balancing.correction-angle',
    expected: [0, 180],
    unit: 'deg',
    tolerance: 1e-9,
  },
  {
    id: 'G-02 per plane',
    source: 'ISO 21940-11, computed: half of 501.338',
    text: run,
    path: 'balancing.allowed',
    expected: [250.6690354, 250.6690354],
    unit: 'g*mm',
    tolerance: 1e-6,
  },
  {
    id: 'achieved grade',
    source: 'ISO 21940-11: 166.67 g·mm at 3000 rpm on 25 kg',
    text: run,
    path: 'balancing.grade',
    expected: ((500 / 3) * 1e-6 * 100 * Math.PI) / 25,
    unit: 'm/s',
    tolerance: 1e-12,
  },
  {
    id: 'BB-02',
    source: 'definition: one rod, half, and oil',
    text: engine(
      'layout: single\nbalance-factor: 50 %\noil-allowance: 6 g\npiston { mass: 438 g, pin { mass: 118 g, locks: 2 g } }\nring.mass: [top: 12, second: 10, oil: 16] g\nrod { small-end: 171 g, big-end: 435 g, bearing: 47 g }',
    ),
    path: 'bobweight',
    expected: [435 + 47 + 6 + 0.5 * 767],
    unit: 'g',
    tolerance: 1e-9,
  },
  {
    id: 'B-01 force left',
    source:
      'Bevan, Theory of Machines, ch. 14 ex. 5: 1436 lb with g = 32.2 and the radius 7.5 in; half of 150 lb at 300 rpm',
    text: computed('Force', 'whirled(75 lb * 7.5 in, 300 rpm)'),
    path: 'wanted',
    expected: 1436.76,
    unit: 'lbf',
    tolerance: 1.5,
  },
  {
    id: 'B-04 force left',
    source: 'Sarkar, ex. 12-1: a third along the bore at 30°, two thirds across it; 3264.06',
    text: computed(
      'Force',
      'hypot(whirled(40 kg * 90 mm, 250 rpm) * cos(30 deg), whirled(80 kg * 90 mm, 250 rpm) * sin(30 deg))',
    ),
    path: 'wanted',
    expected: 3264.06,
    unit: 'N',
    tolerance: 0.1,
  },
  {
    id: 'counterweight at another radius',
    source: 'Bevan, ex. 5: 255 lb at 7.5 in by 6 in; prints 318.8',
    text: computed('Mass', 'counterweight-for(255 lb, 7.5 in, 6 in)'),
    path: 'wanted',
    expected: 318.75,
    unit: 'lb',
    tolerance: 1e-9,
  },
  {
    id: 'hole with a point',
    source: 'first moments of cylinder and cone: cone 3.8154 mm, written out',
    text: computed('Unbalance', 'pointed-hole-unbalance(12.7 mm, 20 mm, 80 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: (() => {
      const a = (Math.PI / 4) * 12.7 ** 2;
      const cone = 12.7 / (2 * Math.tan((59 * Math.PI) / 180));
      return 7.85e-3 * a * (20 * 70 + (cone / 3) * (60 - cone / 4));
    })(),
    unit: 'g*mm',
    tolerance: 1e-6,
  },
  {
    id: 'hole along the crank',
    source: 'first moment of a cylinder',
    text: computed('Unbalance', 'axial-hole-unbalance(12.7 mm, 20 mm, 70 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: 19.88827 * 70,
    unit: 'g*mm',
    tolerance: 1e-2,
  },
  {
    id: 'rim ground right round',
    source: 'first moment of a half ring: 2ρb(R³ − r³)/3',
    text: computed('Unbalance', 'ground-unbalance(80 mm, 1 mm, 180 deg, 20 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: (7.85e-3 * 20 * 2 * (80 ** 3 - 79 ** 3)) / 3,
    unit: 'g*mm',
    tolerance: 1e-6,
  },
  {
    id: 'two holes 60 degrees apart',
    source: 'vector sum: 1000 / (2 cos 30°)',
    text: computed('Unbalance', 'split-hole-unbalance(1000 g*mm, 30 deg)'),
    path: 'wanted',
    expected: 1000 / Math.sqrt(3),
    unit: 'g*mm',
    tolerance: 1e-9,
  },
  {
    id: 'flywheel by itself',
    source: 'ISO 21940-11: 6.3 mm/s × 8 kg at 3000 rpm',
    text: engine('layout: single\nredline: 3000 rpm\nflywheel.mass: 8 kg'),
    path: 'flywheel.allowed',
    expected: [(6.3 * 8 * 1000) / (100 * Math.PI)],
    unit: 'g*mm',
    tolerance: 1e-9,
  },
  {
    id: 'grade of a flywheel',
    source: 'ISO 21940-11: 200 g·mm at 3000 rpm on 8 kg',
    text: engine('layout: single\nredline: 3000 rpm\nflywheel { mass: 8 kg, left: 200 g*mm }'),
    path: 'flywheel.grade-reached',
    expected: [(200e-6 * 100 * Math.PI) / 8],
    unit: 'm/s',
    tolerance: 1e-12,
  },
  {
    id: 'BB-09 how deep the holes are',
    source: 'first moment of a cylinder: ρ × π/4 × d² × (R × h − h²/2) put back gives the unbalance',
    text: run.replace('mass: 25 kg', 'mass: 25 kg, material.density: 7.85 g/cm^3'),
    path: 'balancing.hole-depth',
    // 133.33 and 33.33 g mm over 7.85 g/cm³ × 126.677 mm² are 134.0824 and 33.5206 mm²; h = R − √(R² − 2 × that), R 80 mm
    expected: [1.693964, 0.4201106],
    unit: 'mm',
    tolerance: 1e-6,
  },
];
