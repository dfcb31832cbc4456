/** Every rule of the trade library that the samples do not set off: once where it must speak and once where it must not. Figures by hand. */
import { describe, expect, test } from 'vitest';
import { engine } from './rows/row.ts';
import { testRules, type Case } from './rule-cases.ts';
import { run } from './run.ts';

const v8 = 'layout: vee-8-cross\nduty: circuit\n';
const four = 'layout: inline-4\nduty: street\n';
const grid = (top: number, bottom: number, along: number): string =>
  `measured on 2026-01-02 { block.bore-reading: [1: [top: [thrust: ${top}, along: ${along}], middle: [${bottom}, ${along}], bottom: [${bottom}, ${along}]]] in }`;
const single = 'layout: single\nengine-class: car\n';
const room = (gasket: string): string =>
  `${single}redline: 7000 rpm\nover-speed: 7000 rpm
   block { bore: 4.125 in, deck-height: 9.235 in, main-housing: 2.6413 in }
   crank { stroke: 4 in, main-journal: 2.4496 in, main-shell: 0.0945 in, rod-journal: 2.0992 in }
   rod { length: 6.125 in, beam-area: 230 mm^2, big-end-housing: 2.2249 in, shell: 0.0617 in, small-end: 171 g }
   piston { compression-height: 1.110 in, skirt: 4.1205 in, skirt-length: 2 in, mass: 438 g, metal: forged-2618, pin-bore: 0.9278 in, pin { diameter: 0.927 in, mass: 118 g, locks: 2 g } }
   ring.mass: [top: 12, second: 10, oil: 16] g
   head-gasket { bore: 4.2 in, thickness: ${gasket} in }`;

const cases: readonly Case[] = [
  {
    rule: 'block.bore-taper',
    about: '0.0006 in between top and bottom',
    members: single + grid(4.1256, 4.125, 4.125),
    out: ['[1]'],
  },
  { rule: 'block.bore-taper', about: '0.0004 in', members: single + grid(4.1254, 4.125, 4.125), out: [] },
  { rule: 'block.bore-taper', about: 'no readings', members: `${single}block.bore: 4.125 in`, out: 'n/a' },
  {
    rule: 'block.bore-round',
    about: 'across 0.0007 in wider than along',
    members: single + grid(4.1257, 4.1257, 4.125),
    out: ['[1]'],
  },
  { rule: 'block.bore-round', about: '0.0003 in', members: single + grid(4.1253, 4.1253, 4.125), out: [] },
  {
    rule: 'block.bore-cleans-up',
    about: 'cut to 4.1250, widest place 4.1256',
    members: `${single}block.bore: 4.120 in\n${grid(4.1256, 4.12, 4.12)}\nmachining on 2026-02-02 { block.bore: 4.1250..4.1255 in }`,
    out: ['[1]'],
  },
  {
    rule: 'block.bore-cleans-up',
    about: 'cut to 4.1300, widest place 4.1256',
    members: `${single}block.bore: 4.120 in\n${grid(4.1256, 4.12, 4.12)}\nmachining on 2026-02-02 { block.bore: 4.1300..4.1305 in }`,
    out: [],
  },
  {
    rule: 'block.deck-cleans-up',
    about: 'an order for more than is there',
    members: `${single}measured on 2026-01-02 { block.deck-height: [[9.239, 9.2415]] in }\nmachining on 2026-02-02 { block.deck-height: 9.240 in }`,
    out: ['[1, front]'],
  },
  {
    rule: 'block.deck-thick-enough',
    about: 'rear end under the least',
    members: `${four}block { deck-height: [[9.240, 9.230]] in, least-deck-height: 9.232 in }`,
    out: ['[4]'],
  },
  {
    rule: 'block.wall-on-thrust-side',
    about: '0.210 in less half of 0.060 in',
    members: `${v8}block.bore: 4.000 in\nmeasured on 2026-01-02 { block.wall: [others: [major: 0.210, minor: 0.190, front: 0.2, rear: 0.2]] in }\nmachining on 2026-02-02 { block.bore: 4.060 in }`,
    out: ['[1]', '[2]', '[3]', '[4]', '[5]', '[6]', '[7]', '[8]'],
  },
  { rule: 'crank.crank-end-play', about: '0.012 in', members: `${single}crank.end-play: 0.012 in`, out: [''] },
  { rule: 'crank.crank-end-play', about: '0.006 in', members: `${single}crank.end-play: 0.006 in`, out: [] },
  {
    rule: 'rod-side',
    about: 'a pair on a pin, 0.025 in',
    members: `${v8}engine-class: car\ncrank.pin-width: 1.905 in\nrod.width: 0.940 in`,
    out: ['[1]', '[2]', '[3]', '[4]'],
  },
  {
    rule: 'rod-side',
    about: 'a pair on a pin, 0.015 in',
    members: `${v8}engine-class: car\ncrank.pin-width: 1.895 in\nrod.width: 0.940 in`,
    out: [],
  },
  {
    rule: 'rod-side',
    about: 'one rod on a pin, 0.015 in',
    members: `${four}engine-class: car\ncrank.pin-width: 0.955 in\nrod.width: 0.940 in`,
    out: ['[1]', '[2]', '[3]', '[4]'],
  },
  {
    rule: 'main-sum-agrees',
    about: 'gauge 0.0020 where the sum is 0.0027',
    members: `${single}block.main-housing: 2.6413 in\ncrank { main-shell: 0.0945 in, main-journal: 2.4496 in }\nmeasured on 2026-01-02 { main-clearance: [0.0020, 0.0026] in }`,
    out: ['[1]'],
  },
  {
    rule: 'main-sum-agrees',
    about: 'no gauge reading',
    members: `${single}block.main-housing: 2.6413 in\ncrank { main-shell: 0.0945 in, main-journal: 2.4496 in }`,
    out: 'n/a',
  },
  {
    rule: 'main-line-straight',
    about: 'a housing 0.0015 in off the line, clearance 0.0027',
    members: `${single}block { main-housing: 2.6413 in, main-line: [0, 0.0015] in }\ncrank { main-shell: 0.0945 in, main-journal: 2.4496 in, run-out: 0 in }`,
    out: ['[2]'],
  },
  {
    rule: 'room-at-speed',
    about: 'quench 0.020 in, of which 0.00505 + 0.0029 + 0.00464 in are used up',
    members: room('0.020'),
    out: ['[1]'],
  },
  { rule: 'room-at-speed-none', about: 'the same leaves more than nothing', members: room('0.020'), out: [] },
  { rule: 'room-at-speed-none', about: 'quench 0.012 in', members: room('0.012'), out: ['[1]'] },
  { rule: 'room-at-speed', about: 'quench 0.040 in', members: room('0.040'), out: [] },
  {
    rule: 'gasket-clear-of-bore',
    about: 'gasket 4.120 on a bore of 4.125',
    members: `${single}block.bore: 4.125 in\nhead-gasket.bore: 4.120 in`,
    out: ['[1]'],
  },
  {
    rule: 'displacement-in-class',
    about: '352.4 cc in a class of 350',
    members: `${single}block.bore: 79.5 mm\ncrank.stroke: 71 mm\nrod.length: 140 mm\nclass-displacement: 350 cc`,
    out: [''],
  },
  {
    rule: 'displacement-in-class',
    about: 'in a class of 360',
    members: `${single}block.bore: 79.5 mm\ncrank.stroke: 71 mm\nrod.length: 140 mm\nclass-displacement: 360 cc`,
    out: [],
  },
  {
    rule: 'deck-dial-agrees',
    about: 'dial 0.010, sum 0.005 in',
    members: `${single}block { deck-height: 9.240 in }\ncrank.stroke: 4 in\nrod.length: 6.125 in\npiston.compression-height: 1.110 in\nmeasured on 2026-01-02 { deck-reading: [[0.012, 0.008]] in }`,
    out: ['[1]'],
  },
  {
    rule: 'piston-speed',
    about: 'cast pistons at 20 m/s on the street',
    members: `${four}redline: 6000 rpm\ncrank.stroke: 100 mm\nrod.length: 150 mm\npiston.metal: cast`,
    out: [''],
  },
  {
    rule: 'piston-speed',
    about: 'forged pistons at 20 m/s on the street',
    members: `${four}redline: 6000 rpm\ncrank.stroke: 100 mm\nrod.length: 150 mm\npiston.metal: forged-4032`,
    out: [],
  },
  {
    rule: 'layout.one-fires-at-a-time',
    about: 'both inner pistons one after the other',
    members: 'layout: inline-4 { firing-order: [1, 4, 3, 2] }',
    out: ['[3]'],
  },
  {
    rule: 'layout.one-fires-at-a-time',
    about: 'the builder says so',
    members: 'layout: inline-4 { firing-order: [1, 4, 3, 2], firing-angles: [0, 0, 180, 180] deg }',
    out: 'n/a',
  },
  {
    rule: 'layout.one-fires-at-a-time',
    about: 'one cylinder named twice, which its own rule tells',
    members: 'layout: inline-4 { firing-order: [1, 3, 3, 2] }',
    out: 'n/a',
  },
  {
    rule: 'layout.firing-angles-on-dead-centre',
    about: 'an angle off the dead centre',
    members: 'layout: inline-4 { firing-angles: [0, 180, 350, 540] deg }',
    out: ['[3]'],
  },
  {
    rule: 'second-ring-gap',
    about: 'smaller than the top one needs',
    members: `${v8}engine-class: car\nblock.bore: 4 in\nring.gap: [top: 0.022, second: 0.018, oil: 0.020] in`,
    out: ['[1]', '[2]', '[3]', '[4]', '[5]', '[6]', '[7]', '[8]'],
  },
  {
    rule: 'oil-rail-gap-least',
    about: '0.012 in',
    members: `${v8}engine-class: car\nblock.bore: 4 in\nring.gap: [top: 0.022, second: 0.022, oil: 0.012] in`,
    out: ['[1]', '[2]', '[3]', '[4]', '[5]', '[6]', '[7]', '[8]'],
  },
  { rule: 'compression-for-fuel', about: 'no figure of the builder', members: single, out: 'n/a' },
  {
    rule: 'piston-wall',
    about: '4032 in a car bore of 4 in, 0.0020 in',
    members: `${single}block.bore: 4 in\npiston { skirt: 3.998 in, metal: forged-4032 }`,
    out: ['[1]'],
  },
  {
    rule: 'piston-wall',
    about: '4032 in a car bore of 4 in, 0.0030 in',
    members: `${single}block.bore: 4 in\npiston { skirt: 3.997 in, metal: forged-4032 }`,
    out: [],
  },
  {
    rule: 'piston-wall',
    about: 'the maker of a coated skirt allows less than nothing',
    members: `${single}block.bore: 4 in\npiston { skirt: 4.0002 in, metal: forged-4032, coated: yes, wall-limits: -0.0006..0.0012 in }`,
    out: [],
  },
];

testRules('rules', cases);

describe('room', () => {
  test('room at speed is the sum of its parts', () => {
    const result = run(engine(room('0.020'))).build('row');
    const inches = (path: string): number => result.figures(path)[0]! / 0.0254;
    const mass = 0.438 + 0.118 + 0.002 + 0.038 + 0.171;
    const acceleration = 0.0508 * ((7000 * 2 * Math.PI) / 60) ** 2 * (1 + 2 / 6.125);
    const stretch = (1.4 * mass * acceleration * 0.155575) / (205e9 * 230e-6) / 0.0254;
    expect(inches('rod-stretch')).toBeCloseTo(stretch, 9);
    expect(inches('clearance-taken-up')).toBeCloseTo((0.0023 + 0.0008 + 0.0027) / 2, 9);
    expect(inches('rock-at-crown')).toBeCloseTo(((4.125 / 2) * 0.0045) / 2, 9);
    expect(inches('room-left')).toBeCloseTo(0.02 - stretch - 0.0029 - 0.004640625, 9);
  });
});
