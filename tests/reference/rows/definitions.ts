/** Definitions of layout, motion, stack-up, weights and cam cards on one small engine, computed again here. */
import { engine, type Row } from './row.ts';

const [bore, stroke, rod, area] = [4.125, 4, 6.125, 8] as const;
const cc = 2.54 ** 3;
const [chamber, dish] = [70, 11] as const;
const swept = (Math.PI / 4) * bore ** 2 * stroke;
const clear = (Math.PI / 4) * (bore ** 2 * 0.005 + 4.17 ** 2 * 0.039) + (chamber + dish) / cc;
const ratio = 1 + swept / clear;
/** Volume swept from a crank angle after bottom dead centre to the top. */
function trapped(afterBottom: number): number {
  const at = ((180 + afterBottom) * Math.PI) / 180;
  const r = stroke / 2;
  const drop = r + rod - (r * Math.cos(at) + Math.sqrt(rod ** 2 - (r * Math.sin(at)) ** 2));
  return 1 + ((Math.PI / 4) * bore ** 2 * drop) / clear;
}
/** Central difference of the ratio for a change of h in the stroke, rod and compression height as they are. */
function byStroke(h: number): number {
  const at = (change: number): number => {
    const own = clear - ((Math.PI / 4) * bore ** 2 * change) / 2;
    return 1 + ((Math.PI / 4) * bore ** 2 * (stroke + change)) / own;
  };
  return (at(h) - at(-h)) / 2;
}

const stack = (more: string): string => `layout: single
  block { bore: 4.125 in, deck-height: 9.240 in }
  crank.stroke: 4 in
  rod.length: 6.125 in
  piston { compression-height: 1.110 in, dish: 11 cc, dome: 0 cc, reliefs: 0 cc }
  head-gasket { bore: 4.17 in, thickness: 0.039 in }
  head { chamber: 70 cc, chamber-area: 8 in^2 }
  ${more}`;
const card = 'intake.lobe { durations: [0.006: 292, 0.050: 242] in -> deg, centreline: 106 deg }\nbarometer: 100 kPa';
const vee = (more: string): string => `layout: vee-2-90
  block.deck-height: 9 in
  head-gasket.thickness: 0.039 in
  head.intake-face-angle: 10 deg
  head.milled: 0 in
  machining on 2026-02-02 { head.milled: 0.020 in }
  ${more}`;
const offset = 'layout: single\ncrank.stroke: 4 in\nrod.length: 6 in\npiston.pin.offset: 0.06 in';
const ring = `layout: single
  block.bore: 4 in
  piston.top-land: 3.96 in
  ring.radial-wall: 0.15 in
  ring.groove-root: 3.66 in
  ring.groove-height: 0.0635 in
  ring.axial-height: 0.0620 in`;
const weights = `layout: inline-4
  piston.mass: [438, 438.2, 438.4, 441] g
  rod { small-end: [171, 171.2, 171.4, 172] g, big-end: [435, 435.2, 435.4, 434] g }
  piston.pin { mass: 118 g, locks: 2 g }
  ring.mass: [top: 12, second: 10, oil: 16] g`;

type Small = readonly [
  path: string,
  about: string,
  members: string,
  expected: number | readonly number[],
  unit: Row['unit'],
  tolerance?: number,
];
const small: readonly Small[] = [
  ['layout.evenness', 'LY-04: 405 − 315', 'layout: vee-2-45', 90, 'deg'],
  ['layout.even-fire', 'LY-04: no', 'layout: vee-2-45', 0, '1'],
  [
    'nominal-displacement',
    'four of mean bore and stroke',
    'layout: inline-4\nblock.bore: [79, 80, 80, 81] mm\ncrank.stroke: 80 mm\nrod.length: 140 mm',
    ((Math.PI / 4) * 80 ** 2 * 80 * 4) / 1000,
    'cc',
  ],
  ['true-top', 'DK-02', offset, [0.42972238], 'deg', 1e-8],
  ['true-bottom', 'DK-02', offset, [180.859469], 'deg', 1e-6],
  ['rod-ratio', '6 / 4', offset, [1.5], '1'],
  ['head.chamber-per-thou', '8 in² × 0.001 in', stack(''), [0.008 * cc], 'cc'],
  [
    'head.chamber-after-milling',
    '70 − 8 in² × 0.010 in',
    stack(
      'head.milled: 0 in\nhead.milled-other-edge: 0 in\nmachining on 2026-02-02 { head { milled: 0.010 in, milled-other-edge: 0.010 in } }',
    ),
    [70 - 0.08 * cc],
    'cc',
    1e-6,
  ],
  [
    'head.milling-for-target',
    'chamber less than wanted over its area',
    stack('compression-target: 11'),
    [(clear - swept / 10) / area],
    'in',
  ],
  [
    'rock-angle',
    '0.004 in on 3 in',
    `layout: single\ndeck-reading-apart: 3 in\nmeasured on 2026-01-02 { deck-reading: [[0.012, 0.008]] in }`,
    [((0.004 / 3) * 180) / Math.PI],
    'deg',
  ],
  ['manifold-drop', '0.020 in × cos 45°', vee(''), Array<number>(2).fill(0.02 * Math.SQRT1_2), 'in'],
  [
    'manifold-face-cut',
    '0.020 in × sin 45° × cos 10°',
    vee(''),
    Array<number>(2).fill(0.02 * Math.SQRT1_2 * Math.cos(Math.PI / 18)),
    'in',
  ],
  [
    'ring-crevice-volume',
    'behind the ring and under it',
    ring,
    [(Math.PI / 4) * ((3.7 ** 2 - 3.66 ** 2) * 0.0635 + (3.96 ** 2 - 3.7 ** 2) * 0.0015)],
    'in3',
  ],
  [
    'compression-per-thou-of-milling',
    'central difference',
    stack(''),
    [(swept / (clear - area * 0.001) - swept / (clear + area * 0.001)) / 2],
    '1',
    1e-5,
  ],
  [
    'compression-per-cc',
    'central difference',
    stack(''),
    [(swept / (clear + 0.01 / cc) - swept / (clear - 0.01 / cc)) / 0.02],
    '1',
    1e-5,
  ],
  ['compression-per-thou-of-stroke', 'central difference', stack(''), [byStroke(0.001)], '1', 1e-5],
  [
    'dynamic-compression',
    'slider-crank, closing 72° after the bottom',
    stack(`${card}\ntrapping-lift: 0.006 in`),
    [trapped(72)],
    '1',
  ],
  ['dynamic-compression-at-050', 'slider-crank, closing 47° after the bottom', stack(card), [trapped(47)], '1'],
  [
    'cranking-pressure-at-050-gauge',
    'polytropic with 1.2',
    stack(`${card}\ncranking-exponent: 1.2`),
    [1e5 * (trapped(47) ** 1.2 - 1)],
    'Pa',
    1e-3,
  ],
  ['boost-index', 'ratio × (1 + 50 / 100)', stack('barometer: 100 kPa\nturbo.boost-gauge: 50 kPa'), [ratio * 1.5], '1'],
  ['piston-over', 'the middle without the lightest and the heaviest is 438.3', weights, [-0.3, -0.1, 0.1, 2.7], 'g'],
  ['big-end-over', 'the middle is 435.1', weights, [-0.1, 0.1, 0.3, -1.1], 'g'],
  ['piston-mass-spread', 'heaviest less lightest', weights, 3, 'g'],
  ['small-end-spread', 'heaviest less lightest', weights, 1, 'g'],
  ['big-end-spread', 'heaviest less lightest', weights, 1.4, 'g'],
  ['reciprocating-spread', '441 + 172 − 438 − 171', weights, 4, 'g'],
];

export const definitionRows: readonly Row[] = [
  ...small.map(([path, about, members, expected, unit, tolerance]): Row => ({
    id: path,
    source: `definition, computed again here: ${about}`,
    text: engine(members),
    path,
    expected,
    unit,
    tolerance: tolerance ?? 1e-9,
  })),
  {
    id: 'piston-drop',
    source: 'DK-02: the whole stroke with an offset is 4.00022502 in',
    text: engine(offset, 'derive wanted: Length per cylinder = most(piston-drop over crank-angle)'),
    path: 'wanted',
    expected: [4.00022502],
    unit: 'in',
    tolerance: 1e-8,
  },
];
