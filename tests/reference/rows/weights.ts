/** Bobweights, permissible residual, drilled and filled holes. */
import { computed, engine, type Row } from './row.ts';

const pin = (layout: string, members: string, before = ''): string =>
  engine(`layout: ${layout}\npiston.pin.mass: 0 g\n${members}`, before);
const twin = (factor: string, more: string): string =>
  pin(
    'vee-2-90',
    `balance-factor: ${factor}\nrod.small-end: 0 g\nring.mass: [top: 0, second: 0, oil: 0] g\npiston.pin.locks: 0 g\n${more}`,
  );
const bevan = engine(
  'layout: single\nbalance-factor: 50 %\noil-allowance: 0 g\npiston { mass: 150 lb, pin { mass: 0 g, locks: 0 g } }\nring.mass: [top: 0, second: 0, oil: 0] g\nrod { small-end: 0 g, big-end: 180 lb, bearing: 0 g }',
  'derive wanted: Mass per throw = bobweight * 7.5 / 6',
);
const sarkar = engine(
  'layout: single\nbalance-factor: 2/3\noil-allowance: 0 g\npiston { mass: 120 kg, pin { mass: 0 g, locks: 0 g } }\nring.mass: [top: 0, second: 0, oil: 0] g\nrod { small-end: 0 g, big-end: 70 kg, bearing: 0 g }',
  'derive wanted: Mass per throw = bobweight * 90 / 150',
);
const magazine = engine(
  'layout: vee-8-cross\noil-allowance: 4 g\npiston { mass: 583.9 g, pin { mass: 173.6 g, locks: 4.8 g } }\nring.mass: [top: 20, second: 18.5, oil: 31] g\nrod { small-end: 162.4 g, big-end: 229.8 g, bearing: 23.7 g }',
  'derive wanted: Mass per throw = bobweight - 2 * mean(rotating over cylinder) - oil-allowance',
);

export const weightRows: readonly Row[] = [
  {
    id: 'B-01',
    source: 'Bevan, Theory of Machines, ch. 14 ex. 5: prints 318.8',
    text: bevan,
    path: 'wanted',
    expected: [318.75],
    unit: 'lb',
    tolerance: 1e-9,
  },
  {
    id: 'B-04',
    source: 'Sarkar, ex. 12-1 p. 310',
    text: sarkar,
    path: 'wanted',
    expected: [90],
    unit: 'kg',
    tolerance: 1e-9,
  },
  {
    id: 'B-06',
    source: 'magazine article: big end 621.5 g, bearing 45 g',
    text: twin('0', 'oil-allowance: 0 g\npiston.mass: 0 g\nrod { big-end: 621.5 g, bearing: 45 g }'),
    path: 'bobweight',
    expected: [1333],
    unit: 'g',
    tolerance: 1e-9,
  },
  {
    id: 'B-07',
    source: 'magazine parts list; its printed total was not visible',
    text: magazine,
    path: 'bobweight',
    expected: [1505.2, 1505.2, 1505.2, 1505.2],
    unit: 'g',
    tolerance: 1e-9,
  },
  {
    id: 'BB-03',
    source: 'identity: with two rods and half, what is left is the reciprocating weight of one',
    text: magazine,
    path: 'wanted',
    expected: [994.2, 994.2, 994.2, 994.2],
    unit: 'g',
    tolerance: 1e-9,
  },
  {
    id: 'BB-05 mass',
    source: 'density by volume',
    text: computed('Mass', 'drilled-mass(12.7 mm, 20 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: 19.88827,
    unit: 'g',
    tolerance: 1e-4,
  },
  {
    id: 'BB-05 unbalance',
    source: 'first moment of a cylinder',
    text: computed('Unbalance', 'drilled-unbalance(12.7 mm, 20 mm, 80 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: 1392.179,
    unit: 'g*mm',
    tolerance: 1e-3,
  },
  {
    id: 'BB-06',
    source: 'BB-05 turned round',
    text: computed('Length', 'drill-depth(1500 g*mm, 12.7 mm, 80 mm, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: 21.835181,
    unit: 'mm',
    tolerance: 1e-5,
  },
  {
    id: 'BB-08',
    source: 'difference of densities by volume by radius',
    text: computed('Unbalance', 'slug-unbalance(25.4 mm, 25.4 mm, 70 mm, 17.0 g/cm^3, 7.85 g/cm^3)'),
    path: 'wanted',
    expected: 8243.472,
    unit: 'g*mm',
    tolerance: 0.01,
  },
  {
    id: 'G-01',
    source: "ISO 21940-11; a tool-maker's catalogue prints 12",
    text: engine('layout: single\nredline: 10000 rpm\nbalance-grade: 6.3 mm/s\ncrank.mass: 2 kg'),
    path: 'residual-allowed',
    expected: 12.032,
    unit: 'g*mm',
    tolerance: 0.1,
  },
  {
    id: 'G-02',
    source: 'ISO 21940-11, computed',
    text: engine('layout: single\nredline: 3000 rpm\nbalance-grade: 6.3 mm/s\ncrank.mass: 25 kg'),
    path: 'residual-allowed',
    expected: 501.3380707,
    unit: 'g*mm',
    tolerance: 1e-6,
  },
];
