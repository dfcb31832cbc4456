/** Bores, decks, housings, finish: definitions on small figures. */
import { computed, engine, type Row } from './row.ts';

const read = (what: string): string => `measured on 2026-01-02 { ${what} }`;
const grid = read(
  'block.bore-reading: [[top: [4.1256, 4.1252], middle: [4.1252, 4.1251], bottom: [4.1251, 4.1250]]] in',
);
const corners = `layout: single
  ${read('block.deck-corner: [[front: [9.2410, 9.2406], rear: [9.2400, 9.2404]]] in')}
  machining on 2026-02-02 { block.deck-height: 9.235 in }`;
const flat = (which: string): string =>
  engine(
    'layout: single\nblock.finish { system: iso-13565-2, rk: 1 um, rpk: 0 um, rvk: 0 um, mr1: 0 %, mr2: 100 % }',
    `derive wanted: Ratio = ${which}`,
  );

export const blockRows: readonly Row[] = [
  ...(
    [
      ['size', 'block.bore', 4.1252],
      ['taper', 'block.taper', 0.0005],
      ['signed taper', 'block.taper-signed', 0.00035],
      ['out-of-round', 'block.out-of-round', 0.0004],
      ['roundness of a plain oval: half of it (ISO 1101)', 'block.roundness', 0.0002],
      ['widest place', 'block.largest-bore', 4.1256],
      ['narrowest place', 'block.smallest-bore', 4.125],
    ] as const
  ).map(([about, path, expected]): Row => ({
    id: `bore, ${about}`,
    source: 'definition, by hand',
    text: engine(`layout: single\n${grid}`),
    path,
    expected: [expected],
    unit: 'in',
    tolerance: 1e-9,
  })),
  {
    id: 'deck twist',
    source: 'definition: (9.2410 − 9.2400) − (9.2406 − 9.2404)',
    text: engine(corners.replace(/machining.*/, '')),
    path: 'block.deck-twist',
    expected: [0.0008],
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'cut at the corners',
    source: 'definition: corner − 9.235',
    text: engine(corners),
    path: 'block.deck-corner-cut',
    expected: [0.006, 0.0056, 0.005, 0.0054],
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'housing along the load',
    source: 'definition: the tighter of the two stations',
    text: engine(
      `layout: single\n${read('block.main-housing-reading: [[[2.6414, 2.6412], [2.6413, 2.6411]], [[2.6413, 2.6413], [2.6413, 2.6413]]] in')}`,
    ),
    path: 'block.main-housing',
    expected: [2.6413, 2.6413],
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'housing of a big end',
    source: 'definition: the tighter of the two stations',
    text: engine(`layout: single\n${read('rod.big-end-reading: [[[2.2250, 2.2248], [2.2249, 2.2247]]] in')}`),
    path: 'rod.big-end-housing',
    expected: [2.2249],
    unit: 'in',
    tolerance: 1e-9,
  },
  {
    id: 'R-02 peaks',
    source: 'ISO 13565-2: a straight Abbott curve has no peaks',
    text: flat('block.finish[1].peaks-to-core'),
    path: 'wanted',
    expected: 0,
    unit: '1',
    tolerance: 0,
  },
  {
    id: 'R-02 valleys',
    source: 'ISO 13565-2: a straight Abbott curve has no valleys',
    text: flat('block.finish[1].valleys-to-core + block.finish[1].oil-volume / 1 um'),
    path: 'wanted',
    expected: 0,
    unit: '1',
    tolerance: 0,
  },
  {
    id: 'oil volume',
    source: 'ISO 13565-2, annex (from memory): 1.6 µm × (100 − 80) / 200',
    text: engine('layout: single\nblock.finish { rvk: 1.6 um, mr2: 80 % }'),
    path: 'block.finish.oil-volume',
    expected: [0.16],
    unit: 'um',
    tolerance: 1e-12,
  },
  {
    id: 'crosshatch',
    source: 'definition: strokes as fast as it turns are 45 degrees',
    text: computed('Angle', 'crosshatch-from-speeds(pi * 100 mm * 1 Hz, 60 rpm, 100 mm)'),
    path: 'wanted',
    expected: 45,
    unit: 'deg',
    tolerance: 1e-9,
  },
  {
    id: 'wall of an undersize shell',
    source: 'definition: 0.010 in under, 0.005 in more on each side',
    text: computed('Length', 'undersize-wall(0.0945 in, 0.010 in)'),
    path: 'wanted',
    expected: 0.0995,
    unit: 'in',
    tolerance: 1e-12,
  },
];
