/** Crank and its bearings, block and fits: what is left of the definitions, by hand on small figures. */
import { engine, type Row } from './row.ts';

const read = (what: string): string => `measured on 2026-01-02 { ${what} }`;
const inch = 1e-9;

interface Small {
  readonly about: string;
  readonly path: string;
  readonly members: string;
  readonly expected: number | readonly number[];
  readonly unit?: Row['unit'];
  readonly tolerance?: number;
}

const worn = `layout: single
  block.main-housing: 2.6413 in
  crank { main-shell: 0.0945 in, standard-main-journal: 2.4500 in, standard-rod-journal: 2.1000 in, stroke: 4 in }
  rod { big-end-housing: 2.2249 in, shell: 0.0617 in }
  ${read(`crank {
    main-journal-reading: [[[2.4496, 2.4494], [2.4495, 2.4493]], [[2.4496, 2.4496], [2.4496, 2.4496]]] in
    rod-journal-reading: [[[2.0992, 2.0990], [2.0991, 2.0988]]] in
  }`)}`;
const shelf = (thinner: string): string => `layout: single
  engine-class: car
  rod { big-end-housing: 2.2249 in, shell: 0.0617 in }
  crank.rod-journal: 2.0992 in
  rod-clearance-limits: 0.0018..0.0032 in
  rod-shelf { sizes: 3, wall: [0.0612, 0.0617, 0.0622] in, on-hand: [1, 1, 2]${thinner} }`;
const plate = `layout: single
  ${read(`block {
    bore-reading: [[[4.1256, 4.1252], [4.1252, 4.1251], [4.1251, 4.1250]]] in
    bore-reading-free: [[[4.1254, 4.1253], [4.1252, 4.1251], [4.1251, 4.1250]]] in
  }`)}`;

const small: readonly Small[] = [
  { about: 'mains under their standard', path: 'crank.main-undersize', members: worn, expected: [0.0004, 0.0004] },
  { about: 'pin under its standard', path: 'crank.rod-undersize', members: worn, expected: [0.0008] },
  { about: 'taper of the mains', path: 'crank.main-journal-taper', members: worn, expected: [0.0001, 0] },
  { about: 'taper of the pin', path: 'crank.rod-journal-taper', members: worn, expected: [0.0002] },
  { about: 'oval of the pin', path: 'crank.rod-journal-out-of-round', members: worn, expected: [0.0003] },
  {
    about: 'clearance at the thinnest place of a main: 0.0027 + 0.0003',
    path: 'main-clearance-greatest',
    members: worn,
    expected: [0.003, 0.0027],
  },
  {
    about: 'clearance at the thinnest place of a pin: 0.0023 + 0.0004',
    path: 'rod-clearance-greatest',
    members: worn,
    expected: [0.0027],
  },
  {
    about: 'clearance of a main across the load, as read',
    path: 'main-clearance-across',
    members: `${worn}\n${read('main-shell-bore-across: [[2.4530, 2.4529], [2.4530, 2.4530]] in')}`,
    expected: [0.0033, 0.0034],
  },
  {
    about: 'bow: half of the run-out',
    path: 'crank.bow',
    members: 'layout: single\ncrank.run-out: [0, 0.0008] in',
    expected: [0, 0.0004],
  },
  {
    about: 'strokes apart',
    path: 'crank.stroke-spread',
    members: 'layout: inline-4\ncrank.stroke: [4.000, 4.002, 4.001, 4.000] in',
    expected: 0.002,
  },
  {
    about: 'arc of a pin 0.1 degrees off, on a radius of 2 in',
    path: 'crank.index-arc',
    members: `layout: inline-4\ncrank.stroke: 4 in\n${read('crank.pin-angle-reading: [0, 180.1, 180, 0] deg')}`,
    expected: [0, (0.1 * Math.PI * 2) / 180, 0, 0],
  },
  {
    about: 'end play, the mean of both ways',
    path: 'crank.end-play',
    members: `layout: single\n${read('crank.end-play-reading: [0.0060, 0.0064] in')}`,
    expected: 0.0062,
  },
  {
    about: 'thrust face: 400 lbf on 2 in²',
    path: 'crank.thrust-pressure',
    members: 'layout: single\ncrank { thrust-load: 400 lbf, thrust-area: 2 in^2 }',
    expected: 200,
    unit: 'psi',
  },
  {
    about: 'play of one rod on its pin',
    path: 'rod-side-clearance',
    members: 'layout: single\ncrank.pin-width: 0.952 in\nrod.width: 0.940 in',
    expected: [0.012],
  },
  {
    about: 'halves from the shelf: of the two walls that are there once, the thinner lies above',
    path: 'rod-shell-choice',
    members: shelf(''),
    expected: [0.0612, 0.0617],
  },
  {
    about: 'halves from the shelf: the thinner one below',
    path: 'rod-shell-choice',
    members: shelf(', thinner-half: lower-half'),
    expected: [0.0617, 0.0612],
  },
  {
    about: 'what they leave: 2.2249 − 2.0992 − 0.0612 − 0.0617',
    path: 'rod-clearance-from-shelf',
    members: shelf(''),
    expected: [0.0028],
  },
  {
    about: 'surface speed: π × 50 mm × 10 a second',
    path: 'rod-film.surface-speed',
    members: 'layout: single\nrod-film { journal: 50 mm, speed: 600 rpm, load: 1 kN }',
    expected: [Math.PI * 0.5],
    unit: 'm/s',
  },
  {
    about: 'viscosity where it enters: 14.5 mm²/s × 868 × (1 − 0.00065 × 85)',
    path: 'oil.inlet-viscosity',
    members: 'layout: single\noil { at-40: 105 cSt, at-100: 14.5 cSt, density-15: 868 kg/m^3, inlet: 100 degC }',
    expected: 14.5e-6 * 868 * (1 - 0.00065 * 85),
    unit: '1',
    tolerance: 1e-12,
  },
  {
    about: 'a solid pin is pushed all through with the pressure of the fit (Lamé)',
    path: 'gear-press.inner-hoop',
    members:
      'layout: single\ngear-press { outer: steel-4140, inner: steel-4140, hole: 25 mm, plug: 25.03 mm, boss: 60 mm }',
    expected: -((205e9 * 0.03) / 50) * (1 - (25 / 60) ** 2),
    unit: 'Pa',
    tolerance: 1,
  },
  {
    about: 'force to press it in: 0.12 × π × 25 × 18 mm × the pressure',
    path: 'gear-press.press-force',
    members:
      'layout: single\ngear-press { outer: steel-4140, inner: steel-4140, hole: 25 mm, plug: 25.03 mm, boss: 60 mm, engaged: 18 mm }',
    expected: 0.12 * Math.PI * 0.025 * 0.018 * ((205e9 * 0.03) / 50) * (1 - (25 / 60) ** 2),
    unit: 'N',
    tolerance: 1e-3,
  },
  {
    about: 'what the torque plate does',
    path: 'block.plate-effect',
    members: plate,
    expected: [0.0002, -0.0001, 0, 0, 0, 0],
  },
  {
    about: 'over standard: the mean of the grid less 4.120',
    path: 'block.overbore',
    members: `${plate}\nblock.standard-bore: 4.120 in`,
    expected: [0.0052],
  },
  {
    about: 'the most that comes out: 4.1305 − 4.1250',
    path: 'block.bore-stock-most',
    members: `${plate}\nmachining on 2026-02-02 { block.bore: 4.1300..4.1305 in }`,
    expected: [0.0055],
  },
  {
    about: 'core off the centre: half of 0.250 − 0.230',
    path: 'block.core-shift',
    members: `layout: single\n${read('block.wall: [[major: 0.250, minor: 0.230, front: 0.2, rear: 0.2]] in')}`,
    expected: [0.01],
  },
  {
    about: 'deck: rear less front',
    path: 'block.deck-slope',
    members: 'layout: inline-4\nblock { deck-height: [[9.240, 9.238]] in, deck-length: 20 in }',
    expected: [-0.002],
  },
  {
    about: 'angle of that deck',
    path: 'block.deck-angle',
    members: 'layout: inline-4\nblock { deck-height: [[9.240, 9.238]] in, deck-length: 20 in }',
    expected: [(Math.atan(-0.0001) * 180) / Math.PI],
    unit: 'deg',
  },
  {
    about: 'one bank 0.003 in higher',
    path: 'block.bank-to-bank',
    members: 'layout: vee-8-cross\nblock.deck-height: [[9.240, 9.238], [9.243, 9.241]] in',
    expected: 0.003,
  },
];

export const crankRows: readonly Row[] = small.map(({ about, path, members, expected, unit, tolerance }) => ({
  id: path,
  source: `definition, by hand: ${about}`,
  text: engine(members, path.startsWith('gear-press') ? 'extend Engine { gear-press: PressFit? }' : ''),
  path,
  expected,
  unit: unit ?? 'in',
  tolerance: tolerance ?? inch,
}));
