/** Clearances of the valves: to pistons along the crank, to pockets, to each other, to the bore. */
import { computed, engine, row, type Row } from './row.ts';

const rim = 'closed form, equal to a walk round the edge of the valve';
const open = (gap: number, valve: number, floor: number): string =>
  computed(
    'Length',
    `room-when-open(room-when-closed(${gap} in, 2.02 in, ${valve} deg, 0 deg, ${floor} deg, 0 deg), 0.050 in, 0.200 in, ${valve} deg, 0 deg, ${floor} deg, 0 deg)`,
  );
const phasors = `axis turn = -30 deg..30 deg step 5 deg
derive wanted-along: Length per turn = 0.300 in + 2 in * (1 - cos(turn)) - 0.150 in * (1 - cos(turn + 20 deg))
derive wanted: Length = least(wanted-along over turn)
derive wanted-at: Angle = least-at(wanted-along over turn)`;
const side = 'plane geometry, by hand';
const built = (more: string): string =>
  engine(`layout: single
  block { bore: 4.000 in, deck-height: 9.000 in }
  crank.stroke: 3.5 in
  rod.length: 6 in
  piston.compression-height: 1.240 in
  head-gasket.thickness: 0.040 in
  intake {
    lobe { lift: 0.362 in, centreline: 106 deg, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }
    rocker-ratio: 1.6
    valve { head: 2.02 in, angle: 20 deg }
    pocket-depth: 0.060 in
    ${more}
  }`);

export const clearanceRows: readonly Row[] = [
  row(
    'PV-01',
    'closed form by phasors: C₀ + r − A − |r − A·e^iθ₀|',
    engine('layout: single', phasors),
    'wanted',
    0.29024613791812,
    'in',
    1e-10,
  ),
  row('PV-01 place', 'closed form by phasors', engine('layout: single', phasors), 'wanted-at', 1.5807573, 'deg', 1e-6),
  row('PV-03', rim, open(0.36, 20, 17), 'wanted', 0.13949972718856, 'in', 1e-12),
  row('PV-04', rim, open(0.6, 20, 0), 'wanted', 0.1166211311, 'in', 1e-10),
  row(
    'PV-06',
    'closed form: −0.010 in × cos 20°',
    computed(
      'Length',
      'room-when-closed(0.350 in, 2.02 in, 20 deg, 0 deg, 20 deg, 0 deg) - room-when-closed(0.360 in, 2.02 in, 20 deg, 0 deg, 20 deg, 0 deg)',
    ),
    'wanted',
    -0.0093969262,
    'in',
    1e-10,
  ),
  row(
    'PV-07',
    'closed form: more lash is as much clearance',
    computed(
      'Length',
      'room-when-open(0.3 in, 0.05 in, lift-after-lash(0.2 in, 1.5, 0.024 in), 20 deg, 0 deg, 20 deg, 0 deg) - room-when-open(0.3 in, 0.05 in, lift-after-lash(0.2 in, 1.5, 0.020 in), 20 deg, 0 deg, 20 deg, 0 deg)',
    ),
    'wanted',
    0.004,
    'in',
    1e-12,
  ),
  row(
    'room when closed, by the sizes',
    `${side}: (0.140 + 0.040 + 0.010 + 0.060) × cos 20°`,
    built('closed-depth: 0.140 in'),
    'intake.room-closed',
    0.25 * Math.cos(Math.PI / 9),
    'in',
    1e-9,
  ),
  row(
    'the same back from a check',
    `${side}: 0.100 + 0.150 − 0 at the top`,
    built('clearance-check: 0.100 in, check-angle: 0 deg, check-lift: 0.150 in'),
    'intake.room-closed',
    0.25,
    'in',
    1e-9,
  ),
  row(
    'a cut after the check',
    `${side}: 0.250 − 0.010 × cos 20°`,
    engine(`layout: single
    crank.stroke: 3.5 in
    rod.length: 6 in
    block.deck: 9.000 in
    intake { valve { head: 2.02 in, angle: 20 deg }, check-angle: 0 deg, check-lift: 0.150 in }
    measured on 2026-01-02 { intake.clearance-check: [0.100] in }
    machining on 2026-02-02 { head.milled: was + 0.010 in }`),
    'intake.room-closed',
    0.25 - 0.01 * Math.cos(Math.PI / 9),
    'in',
    1e-9,
  ),
  row(
    'parallel valves',
    `${side}: 1.900 − (2.02 + 1.60) / 2`,
    engine('layout: single\nvalve-spacing: 1.900 in\nintake.valve.head: 2.02 in\nexhaust.valve.head: 1.60 in'),
    'valve-to-valve',
    0.09,
    'in',
    1e-9,
  ),
  row(
    'leaning valves, closed',
    `${side}: apart by the nearer ends of two stretches at 45°`,
    computed('Length', 'heads-apart(2 in, 0 in, 1 in, 45 deg, 0 in, 1 in, 45 deg, 0 in)'),
    'wanted',
    2 - Math.SQRT1_2,
    'in',
    1e-9,
  ),
  row(
    'leaning valves that cross',
    `${side}: each a full length down its valve, ends 0.414 in inside`,
    computed('Flag', 'heads-apart(1 in, 0 in, 1 in, 45 deg, 0.5 in, 1 in, 45 deg, 0.5 in) < 0 in'),
    'wanted',
    1,
    '1',
    0,
  ),
  row(
    'to the bore',
    `${side}: 2.000 − 1.010 − 0.900`,
    engine(`layout: single
    block.bore: 4.000 in
    intake { valve { head: 2.02 in, angle: 20 deg }, lobe.lift: 0.3 in, rocker-ratio: 1.5, valve-from-middle: 0.900 in }`),
    'intake.valve-to-bore',
    0.09,
    'in',
    1e-9,
  ),
];
