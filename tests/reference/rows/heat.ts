/** Growth of materials, press fits by Lamé, parts heated to go together. */
import { computed, engine, type Row } from './row.ts';

const callister = 'Callister, table B.6';
const dataBook = "a maker's data book, table 17-1";
/** Growth in 1e-6 for each kelvin. */
const growths = [
  ['X-01', 'steel-4340', 12.3, callister],
  ['X-01', 'steel-4140', 12.3, callister],
  ['X-01', 'steel-1020', 11.7, callister],
  ['X-02', 'grey-iron', 11.4, callister],
  ['X-02', 'ductile-iron', 11.2, `${callister}, which gives 11.2 and 10.6 for two grades`],
  ['X-03', 'cast-aluminium', 21.5, `${callister}, 356.0`],
  ['X-03', 'aluminium-2024', 22.9, callister],
  ['X-03', 'aluminium-6061', 23.6, callister],
  ['X-03', 'aluminium-7075', 23.4, callister],
  ['X-04', 'titanium-6-4', 8.6, callister],
  ['X-04', 'bearing-bronze', 18.0, `${callister}, C93200`],
  ['X-05', 'aluminium-4032', 19.4, dataBook],
  ['X-05', 'aluminium-2218', 22.3, dataBook],
  ['X-05', 'aluminium-a132', 19.0, dataBook],
  ['X-05', 'aluminium-142', 22.5, dataBook],
  ['X-05', 'aluminium-355', 22.0, dataBook],
  ['X-06', 'aluminium-si12', 20.0, "a piston maker's page: 19.5 to 20.5"],
  ['X-07', 'aluminium-2618', 22.3, 'from memory'],
] as const;

const hub = '70 GPa, 0.25, 210 GPa, 0.30';
const press = (interference: string): string => `press-pressure(${interference}, 100 mm, 250 mm, 50 mm, ${hub})`;
const guide = (wanted: string): string =>
  engine(
    `layout: single
    intake-guide-press {
      outer: boss, inner: guide
      hole: 0.5605 in, plug: 0.562 in, core: 0.3435 in, boss: 1.2 in, engaged: 2 in
    }`,
    `part boss: Material { expansion: 11.4 um/m/K, modulus: 14.5e6 psi, poisson: 0.26 }

part guide: Material { expansion: 18 um/m/K, modulus: 16e6 psi, poisson: 0.33 }

derive wanted: ${wanted}`,
  );

export const heatRows: readonly Row[] = [
  ...growths.map(([id, part, growth, source]): Row => ({
    id: `${id} ${part}`,
    source,
    text: engine(`layout: single\nblock.material: ${part}`),
    path: 'block.material.expansion',
    expected: growth * 1e-6,
    unit: '1',
    tolerance: 1e-15,
  })),
  {
    id: 'PW-01',
    source: 'linear expansion: bore 4.125, cold 0.0045 in, iron bore +70 K, 2618 skirt +90 K',
    text: engine(
      `layout: single
      block.bore: 4.125 in
      piston { skirt: 4.1205 in, metal: forged-2618 }
      heat { bores-at: 90 degC, skirts-at: 110 degC }`,
    ),
    path: 'heat.piston-to-wall',
    expected: [-0.00048713],
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'UN-03 iron, as a change',
    source: 'ISO 1; linear expansion',
    text: computed('Length', 'growth-at(4.125 in, 11.4 um/m/K, 30 degC)'),
    path: 'wanted',
    expected: 0.0004702,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'UN-03 aluminium',
    source: 'ISO 1; linear expansion with 22e-6',
    text: computed('Length', 'growth-at(4.125 in, 22 um/m/K, 30 degC)'),
    path: 'wanted',
    expected: 0.0009075,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'LM-01 pressure',
    source: 'textbook problem; Lamé: 0.03237685 mm radial between a hub of 70 GPa and a shaft of 210 GPa',
    text: computed('Pressure', press('2 * 0.03237685 mm')),
    path: 'wanted',
    expected: 21.72414e6,
    unit: 'Pa',
    tolerance: 20,
  },
  {
    id: 'LM-01 hoop',
    source: 'textbook problem: 30 MPa round the bore of the hub',
    text: computed('Pressure', `ring-hoop(${press('2 * 0.03237685 mm')}, 100 mm, 250 mm, 100 mm)`),
    path: 'wanted',
    expected: 30e6,
    unit: 'Pa',
    tolerance: 30,
  },
  {
    id: 'LM-01 force',
    source: 'textbook problem: friction 0.15 over 100 mm',
    text: computed('Force', `push-force(0.15, 100 mm, 100 mm, ${press('2 * 0.03237685 mm')})`),
    path: 'wanted',
    expected: 102372.6,
    unit: 'N',
    tolerance: 0.1,
  },
  {
    id: 'LM-01 torque',
    source: 'textbook problem: friction 0.15 over 100 mm',
    text: computed('Ratio', `slip-torque(0.15, 100 mm, 100 mm, ${press('2 * 0.03237685 mm')}) / 1 J`),
    path: 'wanted',
    expected: 5118.63,
    unit: '1',
    tolerance: 0.01,
  },
  {
    id: 'LM-03 pressure',
    source: 'Lamé: bronze guide in an iron boss, 0.0015 in; the outside of the guide taken for the fit',
    text: computed(
      'Pressure',
      'press-pressure(0.0015 in, 0.562 in, 1.2 in, 0.3435 in, 14.5e6 psi, 0.26, 16e6 psi, 0.33)',
    ),
    path: 'wanted',
    expected: 11025.9,
    unit: 'psi',
    tolerance: 0.1,
  },
  {
    id: 'LM-03 closing',
    source: 'Lamé: the bore of that guide',
    text: computed('Length', 'core-closing(11025.9 psi, 0.562 in, 0.3435 in, 16e6 psi)'),
    path: 'wanted',
    expected: 0.0007558,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'LM-03 as a fit',
    source: 'Lamé, on the hole of 0.5605 in: the same to half a percent',
    text: guide('Ratio = intake-guide-press.pressure / 1 psi'),
    path: 'wanted',
    expected: 11025.9,
    unit: '1',
    tolerance: 60,
  },
  {
    id: 'LM-03 opening and closing',
    source: 'closed form: what the hole opens and the guide gives way outside is the interference',
    text: guide(
      `Length = intake-guide-press.opening
      + intake-guide-press.pressure * 0.5605 in / 16e6 psi * (ring-factor(0.3435 in, 0.5605 in) - 0.33)`,
    ),
    path: 'wanted',
    expected: 0.0015,
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'LM-04',
    source: 'δ/(αD): pin 0.927 in, interference 0.0012, room 0.0010 in, steel 12.3e-6',
    text: engine(
      `layout: single
      pin-press { outer: steel-4340, inner: steel-4340, hole: 0.927 in, plug: 0.9282 in, room-to-fit: 0.0010 in }`,
    ),
    path: 'pin-press.heat-to-fit',
    expected: [192.95],
    unit: 'K',
    tolerance: 0.1,
  },
  {
    id: 'P-01 pressure',
    source:
      'Ugural and Fenster, example 8.3: a 0.15, b 0.20, c 0.25 m, 0.1 mm radial, 200 GPa (a notebook prints 0.3076 MPa by a slip)',
    text: computed('Pressure', 'press-pressure(0.2 mm, 400 mm, 500 mm, 300 mm, 200 GPa, 0.3, 200 GPa, 0.3)'),
    path: 'wanted',
    expected: 12.3047e6,
    unit: 'Pa',
    tolerance: 50,
  },
  ...(
    [
      ['outer, inside', 'ring-hoop(12.3 MPa, 400 mm, 500 mm, 400 mm)', 56.03],
      ['outer, outside', 'ring-hoop(12.3 MPa, 400 mm, 500 mm, 500 mm)', 43.73],
      ['inner, inside', 'core-hoop(12.3 MPa, 300 mm, 400 mm, 300 mm)', -56.23],
      ['inner, outside', 'core-hoop(12.3 MPa, 300 mm, 400 mm, 400 mm)', -43.93],
    ] as const
  ).map(([where, formula, stress]): Row => ({
    id: `P-01 ${where}`,
    source: 'Ugural and Fenster, example 8.3, with 12.3 MPa',
    text: computed('Pressure', formula),
    path: 'wanted',
    expected: stress * 1e6,
    unit: 'Pa',
    tolerance: 0.01e6,
  })),
  ...([10, 25, 50] as const).map((radius, i): Row => ({
    id: `P-02 at ${radius}`,
    source: 'Boresi and Schmidt, example 11.1: radii 10 to 50 mm, 300 MPa inside',
    text: computed('Pressure', `ring-hoop(300 MPa, 20 mm, 100 mm, ${2 * radius} mm)`),
    path: 'wanted',
    expected: [325e6, 62.5e6, 25e6][i]!,
    unit: 'Pa',
    tolerance: 0.001,
  })),
  {
    id: 'solid shaft of the same metal',
    source: 'Lamé, closed form: E δ / (2 D) × (1 − (D / outside)²)',
    text: computed('Pressure', 'press-pressure(0.03 mm, 25 mm, 60 mm, 0 mm, 205 GPa, 0.29, 205 GPa, 0.29)'),
    path: 'wanted',
    expected: ((205e9 * 0.03) / 50) * (1 - (25 / 60) ** 2),
    unit: 'Pa',
    tolerance: 1e-3,
  },
];
