/** Valve springs: wire, stress, nests, shims. */
import { computed, engine, type Row } from './row.ts';

const shigley = 'Shigley, 10th ed., ex. 10-1, p. 519';
const squared = engine(`layout: single
  intake {
    lobe.lift: 0.1 in, installed-height: 1.7 in
    spring[outer] { wire: 0.037 in, coil-diameter: 0.400 in, active-coils: 10.5, ends: squared, shear-modulus: 11850 ksi, free-height: 2.0 in }
  }`);
const handbook = 'a handbook page: wire 0.250, coil 1.69 in, 13 active coils, 11.5 Mpsi, 356 lbf';
const nest = (more: string): string =>
  engine(`layout: single
  intake {
    lobe.lift: 0.580 in, installed-height: 1.900 in
    spring[outer] { rate: 330 lbf/in, free-height: 2.220 in, solid: 1.180 in }
    spring[inner] { rate: 115 lbf/in, free-height: 2.100 in, seat-step: 0.050 in, solid: 1.232 in }
    ${more}
  }`);
const pairs = engine(`layout: single
  intake {
    lobe.lift: 0.580 in, installed-height: 1.900 in
    spring[outer] { loads: [1.300: 303.6, 1.900: 105.6] in -> lbf }
    spring[inner] { loads: [1.250: 97.75, 1.850: 28.75] in -> lbf, seat-step: 0.050 in }
  }`);
const third = nest('third-spring { rate: 50 lbf/in, free-height: 2.000 in, installed: 1.800 in, solid: 1.150 in }');

export const springRows: readonly Row[] = [
  {
    id: 'S-01 rate',
    source: `${shigley}: 4.13 lbf/in`,
    text: squared,
    path: 'intake.spring.rate',
    expected: [4.13, NaN],
    unit: 'lbf/in',
    tolerance: 0.005,
  },
  {
    id: 'S-01 solid height',
    source: `${shigley}: 0.500 in; 0.037 in × 13.5`,
    text: squared,
    path: 'intake.spring.solid',
    expected: [0.4995, NaN],
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'S-01 index',
    source: `${shigley}: 10.8`,
    text: squared,
    path: 'intake.spring.index',
    expected: [10.8, NaN],
    unit: '1',
    tolerance: 0.05,
  },
  {
    id: 'S-01 factor',
    source: `${shigley}: 1.124`,
    text: computed('Ratio', 'bergstraesser(0.400 in / 0.037 in)'),
    path: 'wanted',
    expected: 1.124,
    unit: '1',
    tolerance: 0.0005,
  },
  {
    id: 'S-01 load at the strength of the wire',
    source: `${shigley}: 6.46 lbf at 146 ksi`,
    text: computed('Force', 'coil-load-at(146 ksi, 0.400 in, 0.037 in, bergstraesser(0.400 in / 0.037 in))'),
    path: 'wanted',
    expected: 6.46,
    unit: 'lbf',
    tolerance: 0.005,
  },
  {
    id: 'S-01 deflection at that load',
    source: `${shigley}: 1.56 in`,
    text: computed(
      'Length',
      'coil-load-at(146 ksi, 0.400 in, 0.037 in, bergstraesser(0.400 in / 0.037 in)) / coil-rate(0.037 in, 0.400 in, 10.5, 11850 ksi)',
    ),
    path: 'wanted',
    expected: 1.56,
    unit: 'in',
    tolerance: 0.005,
  },
  {
    id: 'S-01 stress is that strength at that load',
    source: 'the two formulas are inverses',
    text: computed('Pressure', 'coil-stress(coil-load-at(146 ksi, 0.4 in, 0.037 in, 1.124), 0.4 in, 0.037 in, 1.124)'),
    path: 'wanted',
    expected: 146000,
    unit: 'psi',
    tolerance: 1e-6,
  },
  {
    id: 'S-02 factor',
    source: `${handbook}: Wahl 1.221`,
    text: computed('Ratio', 'wahl(1.69 in / 0.250 in)'),
    path: 'wanted',
    expected: 1.221,
    unit: '1',
    tolerance: 0.001,
  },
  {
    id: 'S-02 rate',
    source: `${handbook}: prints 89; 89.488`,
    text: computed('SpringRate', 'coil-rate(0.250 in, 1.69 in, 13, 11500 ksi)'),
    path: 'wanted',
    expected: 89.488,
    unit: 'lbf/in',
    tolerance: 0.0005,
  },
  {
    id: 'S-02 stress',
    source: `${handbook}: prints 119 695 psi with its rounded factor; 119 739.7`,
    text: computed('Pressure', 'coil-stress(356 lbf, 1.69 in, 0.250 in, wahl(1.69 in / 0.250 in))'),
    path: 'wanted',
    expected: 119739.7,
    unit: 'psi',
    tolerance: 0.1,
  },
  {
    id: 'SP-01 from one installed height and a step',
    source: 'sum of both springs',
    text: nest(''),
    path: 'intake.open-load',
    expected: 392.45,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'SP-01 bind',
    source: 'definition',
    text: nest(''),
    path: 'intake.coil-bind-margin',
    expected: [0.14, 0.038],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'SP-01 the one that binds first',
    source: 'definition',
    text: nest(''),
    path: 'intake.nest-bind-margin',
    expected: 0.038,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'SP-02 shim',
    source: '15 lbf / 445 lbf/in',
    text: nest('seat-load-target: 149.35 lbf'),
    path: 'intake.shim-for-target',
    expected: 0.033708,
    unit: 'in',
    tolerance: 1e-6,
  },
  {
    id: 'SP-02 shims that are sold: one of 0.030 in',
    source: 'brute force over all sums of three: 0.030 is 0.0037 off, 0.045 is 0.0113 off',
    text: nest('seat-load-target: 149.35 lbf'),
    path: 'intake.spring-shims',
    expected: [0, 1, 0],
    unit: '1',
    tolerance: 0,
  },
  {
    id: 'SP-02 every margin falls by the shim',
    source: '0.038 − 0.030',
    text: nest('seat-load-target: 149.35 lbf'),
    path: 'intake.bind-margin-shimmed',
    expected: 0.008,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'nest by loads at heights, seat',
    source: 'the springs of SP-01 written as two loads each',
    text: pairs,
    path: 'intake.seat-load',
    expected: 134.35,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'nest by loads at heights, open',
    source: 'the springs of SP-01 written as two loads each',
    text: pairs,
    path: 'intake.open-load',
    expected: 392.45,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'three springs, open',
    source: 'sum: 392.45 + 50 × (2.000 − 1.220)',
    text: third,
    path: 'intake.open-load',
    expected: 431.45,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'three springs, room',
    source: 'least of 0.140, 0.038 and 0.070',
    text: third,
    path: 'intake.nest-bind-margin',
    expected: 0.038,
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'a spring that stands free carries nothing',
    source: 'definition',
    text: engine(
      'layout: single\nintake { lobe.lift: 0.1 in, spring[outer] { rate: 100 lbf/in, free-height: 1.5 in, installed: 1.7 in } }',
    ),
    path: 'intake.seat-load',
    expected: 0,
    unit: 'lbf',
    tolerance: 0,
  },
  {
    id: 'own frequency',
    source: 'Shigley, eq. 10-25: ½ √(k / m), m = π²/4 d² D Na ρ, worked by hand for 4 mm, 24 mm, 5 coils, 80 GPa',
    text: engine(
      'layout: single\nintake.spring[outer] { wire: 4 mm, coil-diameter: 24 mm, active-coils: 5, shear-modulus: 80 GPa }',
    ),
    path: 'intake.spring.own-frequency',
    // k = 80e9 × 256e-12 / (8 × 13824e-9 × 5) = 37 037.04 N/m; m = 2.4674011 × 16e-6 × 0.024 × 5 × 7850 = 0.03718866 kg
    expected: [0.5 * Math.sqrt(37037.037037 / 0.0371886694), NaN],
    unit: '1',
    tolerance: 1e-4,
  },
];
