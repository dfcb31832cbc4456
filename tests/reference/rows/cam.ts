/** Cams: cards, events, degree wheel, the model of a card, noise of readings, ports of two-strokes. */
import { computed, engine, row, type Row } from './row.ts';

const club = 'small-car club page: card "20-60 / 60-20"';
const slant = 'slant-six page: IO 6 BTDC, IC 42 ABDC, EC 12 ATDC';
const card = engine(`layout: single
  intake.lobe { lift: 0.362 in, centreline: 106 deg, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }`);
const events = (opens: number, closes: number, more = ''): string =>
  engine(`layout: single
  intake { event-lift: 0.006 in, lobe { card-opens: ${opens} deg, card-closes: ${closes} deg } }
  ${more}`);
const pair = (more: string): string =>
  engine(`layout: single
  intake.lobe.duration-at-050: 228 deg
  exhaust.lobe.duration-at-050: 228 deg
  ${more}`);
const model = 'closed form: lift × (1 − (|q| / Φ)^a)^b through three durations, solved by an independent program';
const noise = 'propagation of error; second differences 2° apart, 0.0003/√3 in';

export const camRows: readonly Row[] = [
  row('V-05 duration', `${club}: 260°`, events(20, 60), 'intake.lobe.duration-by-events', 260, 'deg', 1e-9),
  row('V-05 opens', `${club}: 20° before`, events(20, 60), 'intake.opens', 20, 'deg', 1e-9),
  row(
    'V-05 closes 5° later',
    `${club}: retarded by 5°, every event moves 5°`,
    events(20, 60, 'key-advance: -5 deg'),
    'intake.closes',
    65,
    'deg',
    1e-9,
  ),
  row(
    'V-05 opens 5° later',
    `${club}: retarded by 5°, every event moves 5°`,
    events(20, 60, 'key-advance: -5 deg'),
    'intake.opens',
    15,
    'deg',
    1e-9,
  ),
  row(
    'V-05 exhaust 5° earlier',
    `${club}: exhaust 60-20, advanced by 5°`,
    engine(`layout: single
    exhaust.lobe { card-opens: 60 deg, card-closes: 20 deg }
    key-advance: 5 deg`),
    'exhaust.opens',
    65,
    'deg',
    1e-9,
  ),
  row('V-06 duration', `${slant}: 228°`, events(6, 42), 'intake.lobe.duration-by-events', 228, 'deg', 1e-9),
  row('V-06 centreline', `${slant}: 108° ATDC`, events(6, 42), 'intake.lobe.centreline', 108, 'deg', 1e-9),
  row(
    'V-06 overlap',
    `${slant}: 18°`,
    events(6, 42, 'exhaust.lobe { card-opens: 48 deg, card-closes: 12 deg }'),
    'overlap',
    18,
    'deg',
    1e-9,
  ),
  row(
    'separation from both centrelines',
    'definition',
    pair('intake.lobe.centreline: 106 deg\nexhaust.lobe.centreline: 114 deg'),
    'lobe-separation',
    110,
    'deg',
    1e-9,
  ),
  row(
    'advance from both centrelines',
    'definition',
    pair('intake.lobe.centreline: 106 deg\nexhaust.lobe.centreline: 114 deg'),
    'cam-advance',
    4,
    'deg',
    1e-9,
  ),
  row(
    'centreline from separation and advance',
    'definition',
    pair('lobe-separation: 110 deg\ncam-advance: 4 deg'),
    'intake.lobe.centreline',
    106,
    'deg',
    1e-9,
  ),
  row(
    'exhaust from separation and advance',
    'definition',
    pair('lobe-separation: 110 deg\ncam-advance: 4 deg'),
    'exhaust.lobe.centreline',
    114,
    'deg',
    1e-9,
  ),
  row(
    'separation from centreline and advance',
    'definition',
    pair('intake.lobe.centreline: 106 deg\ncam-advance: 4 deg'),
    'lobe-separation',
    110,
    'deg',
    1e-9,
  ),
  row(
    'exhaust from separation and intake',
    'definition',
    pair('intake.lobe.centreline: 106 deg\nlobe-separation: 110 deg'),
    'exhaust.lobe.centreline',
    114,
    'deg',
    1e-9,
  ),
  row(
    'intake from separation and exhaust',
    'definition',
    pair('exhaust.lobe.centreline: 114 deg\nlobe-separation: 110 deg'),
    'intake.lobe.centreline',
    106,
    'deg',
    1e-9,
  ),
  row(
    'intake from advance and exhaust',
    'definition',
    pair('exhaust.lobe.centreline: 114 deg\ncam-advance: 4 deg'),
    'intake.lobe.centreline',
    106,
    'deg',
    1e-9,
  ),
  row(
    'CM-02 overlap',
    'identity: (D + D) / 2 − 2 × separation, with 292, 300 and 110 degrees 76',
    engine(`layout: single
    intake { event-lift: 0.006 in, lobe { durations: [0.006: 292, 0.050: 242] in -> deg } }
    exhaust { event-lift: 0.006 in, lobe { durations: [0.006: 300, 0.050: 250] in -> deg } }
    lobe-separation: 110 deg
    cam-advance: 4 deg`),
    'overlap',
    76,
    'deg',
    1e-9,
  ),
  row(
    'CM-03',
    'mean: equal lift at 60° and 156° is 108°',
    engine(`layout: single
    intake.lobe.centreline: 110 deg
    measured on 2026-01-02 { intake.lobe { equal-lift-rising: 60 deg, equal-lift-falling: 156 deg } }`),
    'intake.lobe.centreline',
    108,
    'deg',
    1e-9,
  ),
  row(
    'the key for it',
    'closed form: 2° early, keys at −2, 0 and 2: the first leaves nothing',
    engine(`layout: single
    intake.lobe.centreline: 110 deg
    key-step: 2 deg
    measured on 2026-01-02 { intake.lobe.centreline: 108 deg }`),
    'late-with-that-key',
    0,
    'deg',
    1e-9,
  ),
  row(
    'the exhaust on the same camshaft',
    'closed form: 2° early on one lobe is 2° early on both',
    engine(`layout: single
    intake.lobe.centreline: 110 deg
    exhaust.lobe.centreline: 112 deg
    measured on 2026-01-02 { intake.lobe.centreline: 108 deg }`),
    'exhaust.installed-centreline',
    114,
    'deg',
    1e-9,
  ),
  row(
    'a card that is checked at the valve',
    'definition: 0.050 in at the tappet is 0.080 in at the valve of a rocker of 1.6',
    engine(`layout: single
    intake { rocker-ratio: 1.6, lobe { checked-at: valve, durations: [0.010: 292, 0.080: 242, 0.320: 157] in -> deg } }`),
    'intake.lobe.duration-at-050',
    242,
    'deg',
    1e-9,
  ),
  row('CM-05 width', model, card, 'intake.lobe.model-width', [165.386631, 165.386631], 'deg', 1e-5),
  row('CM-05 nose', model, card, 'intake.lobe.nose-power', [2.27850661, 2.27850661], '1', 1e-7),
  row('CM-05 foot', model, card, 'intake.lobe.foot-power', [2.93441886, 2.93441886], '1', 1e-7),
  row(
    'CM-05 at 100°',
    model,
    computed('Length', 'lift-by-model(100 deg, 0.362 in, 165.386631 deg, 2.27850661, 2.93441886)'),
    'wanted',
    0.11785,
    'in',
    1e-5,
  ),
  row(
    'a side of its own',
    model,
    engine(`layout: single
    intake.lobe { lift: 0.362 in, centreline: 106 deg
      opening: [0.006: 146, 0.050: 121, 0.200: 78.5] in -> deg
      closing: [0.006: 150, 0.050: 125, 0.200: 81.5] in -> deg }`),
    'intake.lobe.duration-at-050',
    246,
    'deg',
    1e-9,
  ),
  row(
    'CM-06',
    noise,
    computed('Length/Angle^2', 'bend-noise-of(0.0003 in / sqrt(3), 2 deg, 1)'),
    'wanted',
    1.0607e-4,
    'in/deg2',
    1e-8,
  ),
  row(
    'slope of three readings',
    'propagation of error: (y₊ − y₋) / (2 h) of equal u is u / (h √2); in, per degree',
    computed('Ratio', 'slope-noise-of(0.0003 in / sqrt(3), 2 deg, 1) / (1 in / 1 deg)'),
    'wanted',
    0.0003 / Math.sqrt(3) / (2 * Math.SQRT2),
    '1',
    1e-15,
  ),
  row(
    'CM-10, one neighbour',
    'derived: step² / 12',
    computed('Length/Angle^2', 'bend-bias(12 in / (1 deg * 1 deg * 1 deg * 1 deg), 1 deg, 1)'),
    'wanted',
    1,
    'in/deg2',
    1e-12,
  ),
  row(
    'CM-10, two neighbours',
    'derived: 31/84',
    computed('Length/Angle^2', 'bend-bias(84 in / (1 deg * 1 deg * 1 deg * 1 deg), 1 deg, 2)'),
    'wanted',
    31,
    'in/deg2',
    1e-10,
  ),
  row(
    'LD-05 opens',
    'law of cosines',
    engine('layout: single\ncrank.stroke: 54 mm\nrod.length: 110 mm\nport[exhaust-port].edge: 30 mm'),
    'port.opens',
    [89.226513, NaN],
    'deg',
    1e-5,
  ),
  row(
    'LD-05 open for',
    'law of cosines',
    engine('layout: single\ncrank.stroke: 54 mm\nrod.length: 110 mm\nport[exhaust-port].edge: 30 mm'),
    'port.open-for',
    [181.54697, NaN],
    'deg',
    1e-5,
  ),
];
