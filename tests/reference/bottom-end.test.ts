/** Check values from outside for pistons, rings, balance, loads and fasteners, and their rules: once where they speak, once where they must not. */
import { describe, expect, test } from 'vitest';
import { balanceRows } from './rows/balance.ts';
import { fastenerRows } from './rows/fasteners.ts';
import { loadRows } from './rows/loads.ts';
import { ringRows } from './rows/rings.ts';
import { shakingRows } from './rows/shaking.ts';
import { holdRows } from './rows/hold.ts';
import { engine, unit, type Row } from './rows/row.ts';
import { testRules, type Case } from './rule-cases.ts';
import { run, runSample } from './run.ts';

const groups: readonly (readonly [name: string, rows: readonly Row[]])[] = [
  ['pistons and rings', ringRows],
  ['fasteners', fastenerRows],
  ['loads', loadRows],
  ['shaking', shakingRows],
  ['balance', balanceRows],
];

holdRows(groups);

const single = 'layout: single\nengine-class: car\nblock.bore: 4.125 in\n';
const rings: readonly Case[] = [
  {
    rule: 'top-ring-gap',
    about: '0.0180 in a gauge ring 0.002 in larger is 0.0117 in place',
    members: `${single}top-ring-gap-factor: 0.0045\nring[top] { gap: 0.0180 in, read-in: 4.127 in }`,
    out: ['[1]'],
  },
  {
    rule: 'top-ring-gap',
    about: '0.0180 in a gauge ring 0.001 in smaller is 0.0211 in place',
    members: `${single}top-ring-gap-factor: 0.0045\nring[top] { gap: 0.0180 in, read-in: 4.124 in }`,
    out: [],
  },
  {
    rule: 'ring-side',
    about: '0.0005 in',
    members: `${single}ring[top] { axial-height: 0.0620 in, groove-height: 0.0625 in }`,
    out: ['[1, top]'],
  },
  {
    rule: 'ring-side',
    about: '0.0018 in',
    members: `${single}ring[top] { axial-height: 0.0620 in, groove-height: 0.0638 in }`,
    out: [],
  },
  { rule: 'ring-side', about: 'nothing read', members: single, out: 'n/a' },
  {
    rule: 'ring-back',
    about: 'a ring that stands proud',
    members: `${single}ring[top] { radial-wall: 0.190 in, groove-root: 3.755 in }`,
    out: ['[1, top]'],
  },
  {
    rule: 'ring-back',
    about: '0.015 in',
    members: `${single}ring[top] { radial-wall: 0.170 in, groove-root: 3.755 in }`,
    out: [],
  },
  {
    rule: 'ring-clocking',
    about: 'top and second 20 degrees apart',
    members: `${single}ring.gap-angle: [top: 45, second: 65, oil: 225] deg`,
    out: ['[1, second]'],
  },
  {
    rule: 'ring-clocking',
    about: 'a third of a turn apart',
    members: `${single}ring.gap-angle: [top: 45, second: 165, oil: 285] deg`,
    out: [],
  },
  {
    rule: 'ring-off-lines',
    about: 'the top gap on the thrust face',
    members: `${single}ring.gap-angle: [top: 5, second: 135, oil: 225] deg`,
    out: ['[1, top]'],
  },
  {
    rule: 'pin-fit',
    about: '0.0002 in',
    members: `${single}piston { pin-bore: 0.9273 in, pin.diameter: 0.9271 in }`,
    out: ['[1]'],
  },
  {
    rule: 'pin-fit',
    about: '0.0008 in',
    members: `${single}piston { pin-bore: 0.9279 in, pin.diameter: 0.9271 in }`,
    out: [],
  },
  {
    rule: 'pin-floats',
    about: 'an eye smaller than the pin, with locks',
    members: `${single}rod.eye: 0.9269 in\npiston { locks-apart: 2.506 in, pin { diameter: 0.9271 in, length: 2.500 in } }`,
    out: ['[1]'],
  },
  {
    rule: 'pin-end',
    about: '0.006 in where the maker allows 0.005',
    members: `${single}piston { locks-apart: 2.506 in, pin.length: 2.500 in, pin-end-limits: 0.000..0.005 in }`,
    out: ['[1]'],
  },
  { rule: 'locks-once', about: 'used before', members: `${single}piston.locks-used: 1`, out: ['[1]'] },
  { rule: 'locks-once', about: 'new', members: `${single}piston.locks-used: 0`, out: [] },
  {
    rule: 'counterweight-room-left',
    about: '0.040 in',
    members: `${single}piston.counterweight-room: 0.040 in`,
    out: ['[1]'],
  },
];
testRules('rules of pistons and rings', rings);

const rod = (preload: string, more = ''): string =>
  `layout: single\nengine-class: car\nredline: 7000 rpm\nover-speed: 7300 rpm\ncrank.stroke: 4 in
rod { length: 6.125 in, big-end: 435 g, cap: 150 g, small-end: 171 g, bearing: 47 g }
piston { mass: 438 g, pin { mass: 118 g, locks: 2 g } }
ring.mass: [top: 12, second: 10, oil: 16] g
rod.bolt { diameter: 7/16 in, thread: unified-fine, grip: 1.5 in, preload: ${preload}, proof: 20500 lbf${more} }`;
const bolt = (members: string): string => `layout: single\nrod.bolt { diameter: 7/16 in, ${members} }`;
const head = (members: string): string =>
  `layout: inline-4\nhead-gasket.bore: 4.250 in\nbarometer: 14.7 psi\npeak-pressure: 1514.7 psi
head-joint { bolts: 10, half-bolts: 4, bolt { diameter: 7/16 in, preload: 10000 lbf }${members} }`;
const fasteners: readonly Case[] = [
  { rule: 'rod-bolts-hold', about: '10 600 lbf against 4 346 lbf a bolt', members: rod('10600 lbf'), out: [] },
  { rule: 'rod-bolts-hold', about: '6 000 lbf against 4 346 lbf a bolt', members: rod('6000 lbf'), out: ['[1]'] },
  { rule: 'rod-bolts-hold', about: 'no word of the bolts', members: 'layout: single\nredline: 7000 rpm', out: 'n/a' },
  { rule: 'rod-bolts-under-proof', about: '10 600 of 20 500 lbf', members: rod('10600 lbf'), out: [] },
  {
    rule: 'rod-bolts-under-proof',
    about: '20 400 of 20 500 lbf, and a share of the load',
    members: rod('20400 lbf'),
    out: ['[1]'],
  },
  {
    rule: 'rod-bolts-under-proof',
    about: 'a yield bolt is past its limit by intent',
    members: rod('20400 lbf', ', tightened-by: yield'),
    out: 'n/a',
  },
  {
    rule: 'rod.bolt.permanent-set',
    about: '0.0015 in longer than new',
    members: bolt('free-length-new: 1.7500 in, free-length: 1.7515 in'),
    out: ['[1, a]', '[1, b]'],
  },
  {
    rule: 'rod.bolt.permanent-set',
    about: '0.0005 in longer than new',
    members: bolt('free-length-new: 1.7500 in, free-length: 1.7505 in'),
    out: [],
  },
  {
    rule: 'rod.bolt.bolt-uses',
    about: 'a yield bolt again',
    members: bolt('tightened-by: yield, uses: 1'),
    out: ['[1, a]', '[1, b]'],
  },
  { rule: 'rod.bolt.bolt-uses', about: 'a new yield bolt', members: bolt('tightened-by: yield, uses: 0'), out: [] },
  {
    rule: 'rod.bolt.clamp-under-proof',
    about: 'over what it stands',
    members: bolt('preload: 21000 lbf, proof: 20500 lbf'),
    out: ['[1, a]', '[1, b]'],
  },
  {
    rule: 'rod.bolt.torque-of-maker',
    about: 'over the maker',
    members: bolt('torque: 90 ft-lbf, maker-torque: 85 ft-lbf'),
    out: ['[1, a]', '[1, b]'],
  },
  {
    rule: 'rod.bolt.torque-of-maker',
    about: 'as the maker says',
    members: bolt('torque: 85 ft-lbf, maker-torque: 85 ft-lbf'),
    out: [],
  },
  {
    rule: 'rod.bolt.thread-engaged',
    about: 'half an inch in aluminium',
    members: bolt('engaged: 0.5 in, threaded-in: aluminium'),
    out: ['[1, a]', '[1, b]'],
  },
  {
    rule: 'rod.bolt.thread-engaged',
    about: 'half an inch in iron',
    members: bolt('engaged: 0.5 in, threaded-in: iron'),
    out: [],
  },
  {
    rule: 'head-joint.head-holds',
    about: '20 000 lbf against 21 279 lbf of gas',
    members: head(''),
    out: ['[1]', '[2]', '[3]', '[4]'],
  },
  { rule: 'head-joint.head-holds', about: '60 000 lbf against 21 279 lbf', members: head(', whole-bolts: 4'), out: [] },
  {
    rule: 'head-joint.torque-log',
    about: 'one bolt was left at the second pass',
    members: head(', last-torque: 70 ft-lbf, torque-logged: [70, 70, 70, 46.7, 70, 70, 70, 70, 70, 70] ft-lbf'),
    out: ['[4]'],
  },
];
testRules('rules of loads and fasteners', fasteners);

describe('joints', () => {
  const joint = run(
    engine(
      head(
        ', last-torque: 75 ft-lbf, along: [0, 5, 10, 15, 20, 0, 5, 10, 15, 20] in, across: [0, 0, 0, 0, 0, 4, 4, 4, 4, 4] in',
      ),
    ),
  );
  test('the torque table rises in equal passes', () => {
    expect(joint.slips).toEqual([]);
    const table = joint.build('row').figures('head-joint.torque-at-pass');
    expect(table.map((torque) => torque / unit['in-lbf'] / 12)).toEqual(
      [25, 50, 75].map((due) => expect.closeTo(due, 9)),
    );
  });
  test('the order of tightening starts in the middle and ends at the corners', () => {
    const order = joint.build('row').figures('head-joint.turn-comes');
    expect([...order].sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(new Set([order[2], order[7]])).toEqual(new Set([1, 2]));
    expect([order[0], order[4], order[5], order[9]].map((turn) => turn! >= 7)).toEqual([true, true, true, true]);
  });
});

describe('torque without gas', () => {
  test('the weights take from the crank over a cycle what they give: exactly nothing, with offset too', () => {
    const result = run(engine(`${rod('10600 lbf')}\npiston.pin.offset: 0.060 in`, '')).build('row');
    const torque = result.figures('crank-torque');
    const greatest = Math.max(...torque.map(Math.abs));
    const work = torque.reduce((sum, one) => sum + one, 0) * (Math.PI / 180);
    expect(greatest).toBeGreaterThan(100);
    expect(Math.abs(work / greatest)).toBeLessThan(1e-9);
    expect(Math.abs(result.figures('mean-torque')[0]! / greatest)).toBeLessThan(1e-12);
  });
  test('the wall takes no work from the piston: torque is what piston force and speed give', () => {
    const result = run(engine(rod('10600 lbf'))).build('row');
    const torque = result.figures('crank-torque');
    const force = result.figures('rod-load');
    const thrust = result.figures('side-thrust');
    const lean = result.figures('rod-angle');
    torque.forEach((one, i) => {
      const theta = ((i - 360) * Math.PI) / 180;
      // the rod is a two-force member: its load turns the crank at its arm
      expect(one).toBeCloseTo(force[i]! * 0.0508 * Math.sin(theta + lean[i]!), 6);
      expect(thrust[i]!).toBeCloseTo(force[i]! * Math.sin(lean[i]!), 6);
    });
    // between two of the degrees it may be greater by what a wave loses in half of one: 1 - cos 0.5°, 4e-5; it is made of waves to the fourth order
    const atDegrees = Math.max(...thrust.map(Math.abs));
    expect(result.figures('greatest-side-thrust')[0]!).toBeGreaterThanOrEqual(atDegrees);
    expect(result.figures('greatest-side-thrust')[0]!).toBeLessThan(atDegrees * (1 + 16 * 4e-5));
  });
});

describe('Tarn 427, bottom end', () => {
  const tarn = runSample('tarn-427.thou').build('tarn-427');
  test('the caps stay on: 35 550 N at the redline as specified, 3 996 lbf a bolt, margin 2.65', () => {
    expect(tarn.figures('cap-joint-load-at-redline', 'specified')[0]! / unit.N).toBeCloseTo(35550, -1);
    expect(tarn.figures('rod-bolt-load-at-redline', 'specified')[0]! / unit.lbf).toBeCloseTo(3996, 0);
    expect(tarn.figures('rod-bolt-separation-at-redline', 'specified')[0]!).toBeCloseTo(2.65, 2);
    expect(tarn.check('rod-bolts-hold').state).toMatch(/^holds/);
    expect(tarn.check('rod-bolts-under-proof').state).toMatch(/^holds/);
  });
  test('pistons choose their bores: the spread of clearances falls from 0.0004 to 0.0002 in', () => {
    expect(tarn.figures('piston-to-wall-spread')[0]! / unit.in).toBeCloseTo(0.0004, 9);
    expect(tarn.figures('piston-pairing-gain')[0]! / unit.in).toBeCloseTo(0.0002, 9);
  });
  test('rods choose their pistons: 2.6 of 3.3 g are left', () => {
    const weights = tarn.figures('weight-paired').map((mass) => mass / unit.g);
    expect(Math.max(...weights) - Math.min(...weights)).toBeCloseTo(2.6, 9);
    expect(tarn.figures('rod-pairing-gain')[0]! / unit.g).toBeCloseTo(0.7, 9);
  });
  test('what nobody began is quiet', () => {
    for (const rule of [
      'ring-side',
      'ring-back',
      'ring-clocking',
      'pin-fit',
      'pin-floats',
      'locks-once',
      'rod.bolt.bolt-uses',
    ])
      expect(tarn.check(rule).state, rule).toBe('not-applicable');
  });
});
