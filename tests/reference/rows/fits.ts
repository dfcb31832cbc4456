/** Bearings, rings, bores, springs, shims, closing of the intake: definitions and facts of the trade. */
import { computed, engine, type Row } from './row.ts';

const mains = (shells: string): string =>
  engine(`layout: single\nblock.main-housing: 2.6413 in\ncrank { main-journal: 2.4496 in, main-shell: ${shells} in }`);
const nest = engine(`layout: single
  intake {
    lobe.lift: 0.580 in
    spring[outer] { rate: 330 lbf/in, free-height: 2.220 in, installed: 1.900 in, solid: 1.180 in }
    spring[inner] { rate: 115 lbf/in, free-height: 2.100 in, installed: 1.850 in, solid: 1.232 in }
  }`);
const warmBore = engine(
  'layout: single\nmeasured on 2026-01-01 { block.bore: [4.125] in at 30 degC }',
  'derive wanted: Length per cylinder = block.bore - block.bore-at-20',
);

export const fitRows: readonly Row[] = [
  {
    id: 'RG-01',
    source: 'π × change of the bore',
    text: computed('Length', 'gap-change(0.030 in)'),
    path: 'wanted',
    expected: 0.0942478,
    unit: 'in',
    tolerance: 1e-7,
  },
  {
    id: 'RG-02',
    source: 'π × change of the bore',
    text: computed('Length', 'gap-change(0.0005 in)'),
    path: 'wanted',
    expected: 0.0015708,
    unit: 'in',
    tolerance: 1e-8,
  },
  {
    id: 'BR-01',
    source: 'definition',
    text: mains('0.0945'),
    path: 'main-clearance',
    expected: [0.0027, 0.0027],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'BR-01 one thin half',
    source: 'definition',
    text: mains('[[0.0945, 0.0940], [0.0940, 0.0945]]'),
    path: 'main-clearance',
    expected: [0.0032, 0.0032],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'SP-01 seat',
    source: 'sum of both springs',
    text: nest,
    path: 'intake.seat-load',
    expected: 134.35,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'SP-01 open',
    source: 'sum of both springs',
    text: nest,
    path: 'intake.open-load',
    expected: 392.45,
    unit: 'lbf',
    tolerance: 1e-9,
  },
  {
    id: 'SP-01 bind',
    source: 'definition',
    text: nest,
    path: 'intake.coil-bind-margin',
    expected: [0.14, 0.038],
    unit: 'in',
    tolerance: 1e-12,
  },
  {
    id: 'BS-01',
    source: 'shim + found − wanted: 2.560, in steps of 0.025 mm 2.550',
    text: engine(
      'layout: single\nintake { lash: 0.11 mm, lash-limits: 0.15..0.15 mm, shim: 2.600 mm, shim-step: 0.025 mm }',
    ),
    path: 'intake.shim-needed',
    expected: [2.55],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'BS-02 the lash that a shim two steps thinner leaves',
    source: 'by hand: 0.11 + 2.600 − 2.550 = 0.16 mm',
    text: engine(
      'layout: single\nintake { lash: 0.11 mm, lash-limits: 0.13..0.18 mm, shim: 2.600 mm, shim-step: 0.025 mm, shim-to-fit: 2.550 mm }',
    ),
    path: 'intake.lash-as-left',
    expected: [0.16],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'BS-02 without shims the lash is left as it was read',
    source: 'definition',
    text: engine('layout: single\nintake { lash: 0.11 mm, lash-limits: 0.13..0.18 mm }'),
    path: 'intake.lash-as-left',
    expected: [0.11],
    unit: 'mm',
    tolerance: 1e-12,
  },
  {
    id: 'BS-02 what is to be had for it',
    source: 'only the valve whose shim changes gets one',
    text: engine(
      'layout: single\nintake { valves-per-cylinder: 2, lash: 0.11 mm, shim: [1: [2.600, 2.650]] mm, shim-to-fit: [1: [2.550, 2.650]] mm }',
    ),
    path: 'intake.shim-to-order',
    expected: [2.55, Number.NaN],
    unit: 'mm',
    tolerance: 1e-9,
  },
  {
    id: 'V-06',
    source: 'slant-six page: duration 228, centreline 108, intake closes 42 after bottom dead centre',
    text: engine('layout: single\nintake.lobe { duration-at-006: 228 deg, centreline: 108 deg }'),
    path: 'intake-closes-at-006',
    expected: 42,
    unit: 'deg',
    tolerance: 1e-9,
  },
  {
    id: 'UN-03 iron',
    source: 'ISO 1; grey iron at 30 instead of 20 degC',
    text: warmBore,
    path: 'wanted',
    expected: [0.0004702],
    unit: 'in',
    tolerance: 1e-7,
  },
];
