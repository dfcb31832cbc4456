/** Crank layouts: pins, intervals, splits. Order of cells: cylinders, pins or places in the firing order from 1. */
import { engine, type Row } from './row.ts';

const of = (layout: string): string => engine(`layout: ${layout}`);
const repeat = (figure: number, times: number): number[] => Array.from({ length: times }, () => figure);
const intervals = (id: string, layout: string, expected: readonly number[], source = 'closed form'): Row => ({
  id,
  source,
  text: of(layout),
  path: 'layout.firing-interval',
  expected,
  unit: 'deg',
  tolerance: 1e-9,
});

const fromPinOne = engine(
  'layout: vee-8-cross',
  'derive wanted: Angle per throw = wrap(layout.throw-angle - layout.throw-angle[1], 1 rev)',
);
const even = engine('layout: vee-8-cross', 'derive wanted: Angle per cylinder = layout.pin-lead');

export const layoutRows: readonly Row[] = [
  {
    id: 'LY-01 pins',
    source: 'closed form; the usual two-plane crank',
    text: fromPinOne,
    path: 'wanted',
    expected: [0, 90, 270, 180],
    unit: 'deg',
    tolerance: 1e-9,
  },
  intervals('LY-01 intervals', 'vee-8-cross', repeat(90, 8)),
  {
    id: 'LY-01 both cylinders of a pin agree',
    source: 'closed form',
    text: even,
    path: 'wanted',
    expected: repeat(0, 8),
    unit: 'deg',
    tolerance: 1e-9,
  },
  intervals('LY-04', 'vee-2-45', [315, 405]),
  intervals('LY-05 common pins', 'vee-6-90', [150, 90, 150, 90, 150, 90]),
  {
    id: 'LY-05 split',
    source: '120 − 90',
    text: of('vee-6-90'),
    path: 'layout.split-for-even',
    expected: [30, 30, 30],
    unit: 'deg',
    tolerance: 1e-9,
  },
  intervals('LY-05 split pins', 'vee-6-90-split', repeat(120, 6)),
  intervals('single', 'single', [720], 'one firing a cycle'),
  intervals('single, two-stroke', 'single { strokes: 2 }', [360], 'one firing a turn'),
  intervals('twin, pistons together', 'inline-2', [360, 360]),
  intervals('twin, pistons opposed', 'inline-2-180', [540, 180]),
  intervals('cross-plane twin', 'inline-2-270', [270, 450]),
  intervals('inline three', 'inline-3', repeat(240, 3)),
  intervals('inline four', 'inline-4', repeat(180, 4)),
  intervals('inline four, the other order', 'inline-4-flat { firing-order: [1, 2, 4, 3] }', repeat(180, 4)),
  intervals('cross-plane four', 'inline-4-cross', [270, 180, 90, 180]),
  intervals('inline five', 'inline-5', repeat(144, 5)),
  intervals('inline six', 'inline-6', repeat(120, 6)),
  intervals('inline eight', 'inline-8', repeat(90, 8)),
  intervals('vee twin 60', 'vee-2-60', [300, 420]),
  intervals('vee twin 90', 'vee-2-90', [270, 450]),
  intervals('vee four', 'vee-4', [180, 90, 180, 270]),
  intervals('vee six 60', 'vee-6-60', repeat(120, 6)),
  intervals('flat-plane vee eight', 'vee-8-flat', repeat(90, 8)),
  intervals('vee ten', 'vee-10', repeat(72, 10)),
  intervals('vee twelve', 'vee-12', repeat(60, 12)),
  intervals('flat twin', 'flat-2', [360, 360]),
  intervals('flat four', 'flat-4', repeat(180, 4)),
  intervals('flat six', 'flat-6', repeat(120, 6)),
  ...[3, 5, 7, 9].map((n) =>
    intervals(`radial ${n}`, `radial-${n}`, repeat(720 / n, n), '720 by the number of cylinders'),
  ),
];

/** LY-02: the bank sign wrong, with the usual order. */
export const wrongBanks = of('vee-8-cross { bore-angle: [-45, 45, -45, 45, -45, 45, -45, 45] deg }');
/** A cylinder named twice in the order. */
export const namedTwice = of('inline-4 { firing-order: [1, 3, 4, 3] }');
