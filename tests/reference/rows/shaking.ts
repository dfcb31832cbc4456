/** Shaking forces and couples of known layouts. */
import { engine, type Row } from './row.ts';

const weights =
  'piston { mass: 1 kg, pin { mass: 0 g, locks: 0 g } }\nring.mass: [top: 0, second: 0, oil: 0] g\nrod { small-end: 0 g, big-end: 0 g, bearing: 0 g }';
/** One kilogram a piston, crank radius 1 m, rod of 4 m, pins 1 m apart, one radian a second: forces come out in units of m·r·ω². */
const unitEngine = (layout: string, wanted = '', type = 'Force per shaking-order'): string =>
  engine(
    `layout: ${layout}\n${weights}\ncrank.stroke: 2 m\nrod.length: 4 m\npin-spacing: 1 m\nredline: ${30 / Math.PI} rpm`,
    wanted === '' ? '' : `derive wanted: ${type} = ${wanted}`,
  );
const [second, fourth, sixth] = [0.254025, -0.00409811, 7.4379e-5];
/** Sums of unit vectors by hand, times the coefficient of each order. */
const orders = (first: number, sums: number, higher = 0): number[] => [
  first,
  sums * second,
  higher * Math.abs(fourth),
  higher * sixth,
];
const known = (
  id: string,
  source: string,
  text: string,
  path: string,
  expected: readonly number[],
  tolerance = 1e-6,
): Row => ({ id, source, text, path, expected, unit: '1', tolerance });
const part = (name: string, members: string): string => `part ${name}: Layout { ${members} }`;
const withPart = (name: string, members: string, wanted = '', type = ''): string =>
  unitEngine(name, wanted, type).replace('\nbuild', `\n${part(name, members)}\nbuild`);
const flatEight =
  'cylinders: 8, throws: 4, banks: 2, throw-angle: [45, 225, 225, 45] deg, bore-angle: [45, -45, 45, -45, 45, -45, 45, -45] deg, bank-of: [1, 2, 1, 2, 1, 2, 1, 2], crankpin: [1, 1, 2, 2, 3, 3, 4, 4], firing-order: [1, 8, 3, 6, 4, 5, 2, 7]';
const narrowTwin =
  'cylinders: 2, throws: 1, banks: 2, throw-angle: [30] deg, bore-angle: [30, -30] deg, bank-of: [1, 2], crankpin: [1, 1], firing-order: [1, 2]';
const shortFour = engine(
  `layout: swung\n${weights.replace('1 kg', '2 kg')}\ncrank.stroke: 100 mm\nrod.length: 200 mm\npin-spacing: 0.2 m\nredline: 2000 rpm`,
  part(
    'swung',
    'cylinders: 4, throws: 4, throw-angle: [0, 180, 270, 90] deg, crankpin: [1, 2, 3, 4], firing-order: [1, 3, 2, 4]',
  ),
);
const twin = engine(
  `layout: vee-2-90\n${weights.replace('1 kg', '2 kg')}\ncrank.stroke: 120 mm\nrod.length: 240 mm\npin-spacing: 0 m\nredline: 2500 rpm`,
);

export const shakingRows: readonly Row[] = [
  known('LY-17', 'numerical Fourier of the exact acceleration, rod four radii', unitEngine('single'), 'order-at-top', [
    1,
    second,
    fourth,
    sixth,
  ]),
  known(
    'one cylinder',
    'definition: its orders along the bore',
    unitEngine('single'),
    'shaking-force',
    orders(1, 1, 1),
  ),
  known('LY-07 forces', 'inline three: closed form, forces 0', unitEngine('inline-3'), 'shaking-force', [
    0,
    0,
    0,
    3 * sixth,
  ]),
  known('LY-07 couples', 'inline three: closed form, √3', unitEngine('inline-3'), 'shaking-couple', [
    1.732051,
    1.732051 * second,
    1.732051 * -fourth,
    0,
  ]),
  known(
    'inline four',
    'textbook: first order nil, second 4 m·r·ω²·λ',
    unitEngine('inline-4'),
    'shaking-force',
    orders(0, 4, 4),
  ),
  known(
    'inline four, couples',
    'textbook: none, the crank is a mirror of itself',
    unitEngine('inline-4'),
    'shaking-couple',
    [0, 0, 0, 0],
  ),
  known(
    'LY-08 forces',
    'inline five 1-2-4-5-3: closed form, forces 0',
    unitEngine('inline-5'),
    'shaking-force',
    [0, 0, 0, 0],
  ),
  {
    ...known(
      'LY-08 couples',
      'inline five 1-2-4-5-3: closed form; text books give 0.449 and 4.98',
      unitEngine('inline-5', 'shaking-couple / abs(mean(order-at-top over cylinder))', 'Force per shaking-order'),
      'wanted',
      [0.449028, 4.979797, 0.449028, 0.449028],
    ),
  },
  known('inline six', 'textbook: free of forces to the fifth order', unitEngine('inline-6'), 'shaking-force', [
    0,
    0,
    0,
    6 * sixth,
  ]),
  known('inline six, couples', 'textbook: none', unitEngine('inline-6'), 'shaking-couple', [0, 0, 0, 0]),
  known(
    'flat six',
    'textbook: forces of first and second order nil',
    unitEngine('flat-6'),
    'shaking-force',
    [0, 0, 0, 0],
  ),
  known(
    'LY-10',
    '90° vee eight, cross plane: closed form, first-order couple √10, turning with the crank',
    unitEngine('vee-8-cross', 'shaking-couple[shaking-order: 1]', 'Torque'),
    'wanted',
    [3.162278],
  ),
  known(
    'LY-10 least couple',
    '90° vee eight, cross plane: closed form, the couple turns and is as great all round, √10',
    unitEngine('vee-8-cross', 'shaking-couple-least[shaking-order: 1]', 'Torque'),
    'wanted',
    [3.162278],
  ),
  known(
    'a leaning single, direction',
    'definition: one cylinder shakes along its bore',
    withPart(
      'leaning',
      'cylinders: 1, throws: 1, banks: 1, throw-angle: [30] deg, bore-angle: [30] deg, bank-of: [1], crankpin: [1], firing-order: [1]',
      'shaking-direction[shaking-order: 1]',
      'Angle',
    ),
    'wanted',
    [Math.PI / 6],
  ),
  known(
    'LY-10 beyond counterweights',
    '90° vee eight, cross plane: closed form, nothing turns against the crank',
    unitEngine('vee-8-cross'),
    'couple-beyond-counterweights',
    [0],
  ),
  known(
    'LY-10 forces',
    '90° vee eight, cross plane: closed form, none of first and second order',
    unitEngine('vee-8-cross', 'shaking-force[shaking-order: 1] + shaking-force[shaking-order: 2]', 'Force'),
    'wanted',
    [0],
  ),
  known(
    'LY-11 first order',
    '90° vee eight, flat plane: closed form',
    withPart('flat-eight', flatEight, 'shaking-force[shaking-order: 1]', 'Force'),
    'wanted',
    [0],
  ),
  known(
    'LY-11 second order',
    '90° vee eight, flat plane: closed form, 4√2 across the vee',
    withPart('flat-eight', flatEight, 'shaking-force[shaking-order: 2]', 'Force'),
    'wanted',
    [5.656854 * second],
  ),
  known(
    'LY-11 across',
    '90° vee eight, flat plane: closed form, none up and down',
    withPart('flat-eight', flatEight, 'shaking-force-least[shaking-order: 2]', 'Force'),
    'wanted',
    [0],
  ),
  known(
    'LY-13 60°, greatest',
    '60° vee twin on one pin: closed form, √3/2 at every angle',
    withPart('narrow-twin', narrowTwin, 'shaking-force[shaking-order: 2]', 'Force'),
    'wanted',
    [0.866025 * second],
  ),
  known(
    'LY-13 60°, least',
    '60° vee twin on one pin: closed form, √3/2 at every angle',
    withPart('narrow-twin', narrowTwin, 'shaking-force-least[shaking-order: 2]', 'Force'),
    'wanted',
    [0.866025 * second],
  ),
  known(
    'LY-13 90°',
    '90° vee twin: closed form, √2 across the vee',
    unitEngine('vee-2-90', 'shaking-force[shaking-order: 2]', 'Force'),
    'wanted',
    [1.414214 * second],
  ),
  known(
    'LY-13 90°, first order',
    '90° vee twin: closed form, half of two pistons turns with the crank and nothing against it',
    unitEngine('vee-2-90'),
    'beyond-counterweights',
    [0],
  ),
  known(
    '90° vee twin, half hung on the pin',
    'closed form: nothing of the first order is left',
    unitEngine('vee-2-90').replace('redline', 'balance-factor: 50 %\nredline'),
    'first-order-left',
    [0],
  ),
  known(
    'one cylinder, half hung on the pin',
    'closed form: a half goes round the other way',
    unitEngine('single').replace('redline', 'balance-factor: 50 %\nredline'),
    'first-order-left',
    [0.5],
  ),
  {
    id: 'LY-14 primary',
    source: 'textbook problem, recomputed by closed form',
    text: shortFour.replace('build', 'derive wanted: Torque = shaking-couple[shaking-order: 1]\nbuild'),
    path: 'wanted',
    expected: 1240.687,
    unit: 'N*m',
    tolerance: 0.05,
  },
  {
    id: 'LY-14 secondary',
    source: 'textbook problem with λ alone, 877.2982; exact coefficient for λ = 1/4 is 0.2540250',
    text: shortFour.replace('build', 'derive wanted: Torque = shaking-couple[shaking-order: 2]\nbuild'),
    path: 'wanted',
    expected: (877.2982 * second) / 0.25,
    unit: 'N*m',
    tolerance: 0.05,
  },
  {
    id: 'LY-16 first order',
    source: 'textbook problem, closed form',
    text: twin.replace('build', 'derive wanted: Force = shaking-force[shaking-order: 1]\nbuild'),
    path: 'wanted',
    expected: 8224.67,
    unit: 'N',
    tolerance: 0.05,
  },
  {
    id: 'LY-16 second order',
    source: 'textbook problem with λ alone, 2907.86; exact coefficient for λ = 1/4 is 0.2540250',
    text: twin.replace('build', 'derive wanted: Force = shaking-force[shaking-order: 2]\nbuild'),
    path: 'wanted',
    expected: (2907.86 * second) / 0.25,
    unit: 'N',
    tolerance: 0.05,
  },
];
