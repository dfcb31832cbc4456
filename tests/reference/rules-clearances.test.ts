/** Rules of cams in their place and of valves among pistons, pockets, walls and each other: where each holds, speaks, and cannot tell. Figures by hand. */
import { testRules, type Case } from './rule-cases.ts';

const one = 'layout: single\nengine-class: car\n';

/** Deck 0.010 below, gasket 0.040 in; the valve leans by 15° and is closed 0.145 in above the deck. */
const engineWith = (intake: string, lobe = 'durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg'): string =>
  `${one}block { bore: 4.000 in, deck-height: 9.000 in }
  crank.stroke: 3.5 in
  rod.length: 6 in
  piston.compression-height: 1.240 in
  head-gasket.thickness: 0.040 in
  intake { lobe { lift: 0.362 in, centreline: 106 deg, ${lobe} }, rocker-ratio: 1.6, valve { head: 2.02 in, angle: 15 deg }, ${intake} }`;

const pistons: readonly Case[] = [
  {
    rule: 'intake.valve-clears-piston',
    about: 'a pocket of 0.200 in',
    members: engineWith('closed-depth: 0.145 in, pocket-depth: 0.200 in'),
    out: [],
  },
  {
    rule: 'intake.valve-clears-piston',
    about: 'no pocket at all',
    members: engineWith('closed-depth: 0.145 in'),
    out: ['[1]'],
  },
  {
    rule: 'intake.valve-clears-piston',
    about: 'the gasket is not known',
    members: engineWith('closed-depth: 0.145 in').replace('head-gasket.thickness: 0.040 in', ''),
    out: 'cannot tell',
  },
  {
    rule: 'intake.valve-clears-piston',
    about: 'a lobe of which only lift and middle are known',
    members: engineWith('closed-depth: 0.145 in', ''),
    out: 'n/a',
  },
];
// radius of the pocket less 1.010 in, and what the piston, 0.04 to 0.06 in down, has moved the pocket sideways
const pockets: readonly Case[] = [
  {
    rule: 'intake.valve-clears-pocket-side',
    about: 'a radius of 1.090 in',
    members: engineWith('closed-depth: 0.145 in, pocket-depth: 0.200 in, pocket-radius: 1.090 in'),
    out: [],
  },
  {
    rule: 'intake.valve-clears-pocket-side',
    about: 'a radius of 1.055 in',
    members: engineWith('closed-depth: 0.145 in, pocket-depth: 0.200 in, pocket-radius: 1.055 in'),
    out: ['[1]'],
  },
  {
    rule: 'intake.valve-clears-pocket-side',
    about: 'nobody knows where the valve is nearest',
    members: engineWith('pocket-radius: 1.090 in', ''),
    out: 'cannot tell',
  },
  {
    rule: 'intake.valve-clears-pocket-side',
    about: 'no radius is given',
    members: engineWith('closed-depth: 0.145 in'),
    out: 'n/a',
  },
];
const walls: readonly Case[] = [
  {
    rule: 'intake.valve-clears-bore',
    about: '2.000 − 1.010 − 0.900 = 0.090 in, and more as it opens',
    members: engineWith('valve-from-middle: 0.900 in'),
    out: [],
  },
  {
    rule: 'intake.valve-clears-bore',
    about: '2.000 − 1.010 − 0.950 = 0.040 in',
    members: engineWith('valve-from-middle: 0.950 in'),
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.valve-clears-bore',
    about: 'on the other side of the middle: 0.579 in of lift leans it 0.150 in over, 0.990 − 0.950 in',
    members: engineWith('valve-from-middle: -0.800 in'),
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.valve-clears-bore',
    about: 'the head of the valve is not known',
    members: engineWith('valve-from-middle: 0.900 in').replace('head: 2.02 in, ', ''),
    out: 'cannot tell',
  },
  { rule: 'intake.valve-clears-bore', about: 'nobody measured it', members: engineWith(''), out: 'n/a' },
];
const pair = (spacing: string, exhaust = 'valve { head: 1.60 in }'): string =>
  `${one}valve-spacing: ${spacing}\nintake.valve.head: 2.02 in\nexhaust { ${exhaust} }`;
const lobe = 'lobe { lift: 0.362 in, centreline: 106 deg, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }';
const leaning = (spacing: string): string =>
  `${one}valve-spacing: ${spacing}
   valves-lean: apart
   intake { ${lobe}, rocker-ratio: 1.6, valve { head: 2.02 in, angle: 15 deg }, closed-depth: 0.145 in }
   exhaust { ${lobe}, rocker-ratio: 1.6, valve { head: 1.60 in, angle: 15 deg }, closed-depth: 0.145 in }`;
const neighbours: readonly Case[] = [
  { rule: 'valve-clears-valve', about: '1.900 less 1.810 in', members: pair('1.900 in'), out: [] },
  { rule: 'valve-clears-valve', about: '1.850 less 1.810 in', members: pair('1.850 in'), out: ['[1]'] },
  {
    rule: 'valve-clears-valve',
    about: 'the head of the exhaust valve is not known',
    members: pair('1.900 in', ''),
    out: 'cannot tell',
  },
  { rule: 'valve-clears-valve', about: 'nobody measured it', members: one, out: 'n/a' },
  { rule: 'valve-clears-valve', about: 'leaning apart, 2.3 in between', members: leaning('2.300 in'), out: [] },
  { rule: 'valve-clears-valve', about: 'leaning apart, 1.8 in between', members: leaning('1.800 in'), out: ['[1]'] },
];

const read = (lines: string): string =>
  `${one}intake.lobe { lift: 0.362 in, centreline: 106 deg }\nmeasured on 2026-03-02 { intake.lobe { ${lines} } }`;
const cams: readonly Case[] = [
  {
    rule: 'intake.cam-as-on-card',
    about: 'equal lift at 57° and 156°: 106.5°',
    members: read('equal-lift-rising: 57 deg, equal-lift-falling: 156 deg'),
    out: [],
  },
  {
    rule: 'intake.cam-as-on-card',
    about: 'equal lift at 57° and 149°: 103°',
    members: read('equal-lift-rising: 57 deg, equal-lift-falling: 149 deg'),
    out: [''],
  },
  {
    rule: 'intake.cam-as-on-card',
    about: 'the card has a tolerance of its own',
    members: read('equal-lift-rising: 57 deg, equal-lift-falling: 149 deg').replace('106 deg', '106 ± 4 deg'),
    out: 'n/a',
  },
  {
    rule: 'intake.cam-as-on-card',
    about: 'no card',
    members: `${one}intake.lobe.lift: 0.362 in`,
    out: 'n/a',
  },
];
const cut = (more: string): string =>
  `layout: inline-4\nengine-class: motorcycle\ncam-sprocket-radius: 22.5 mm\nblock.deck-height: 200 mm\nhead-gasket.thickness: 1 mm\nhead.milled: 0 mm\nmachining on 2026-04-02 { head.milled: ${more} }`;
const overhead: readonly Case[] = [
  {
    rule: 'cams-in-time-after-cut',
    about: '0.05 mm: 2 × 0.05 / 22.5 rad are 0.25°',
    members: cut('0.05 mm'),
    out: [],
  },
  { rule: 'cams-in-time-after-cut', about: '0.20 mm: 1.02°', members: cut('0.20 mm'), out: ['[1]'] },
  {
    rule: 'cams-in-time-after-cut',
    about: 'the slots were turned',
    members: `${cut('0.20 mm')}\nintake.slot-advance: 1 deg`,
    out: 'n/a',
  },
  {
    rule: 'cams-in-time-after-cut',
    about: 'the gasket is not known',
    members: cut('0.20 mm').replace('head-gasket.thickness: 1 mm', ''),
    out: 'cannot tell',
  },
];

testRules('valves and pistons', pistons);
testRules('valves and the sides of their pockets', pockets);
testRules('valves and the wall of the bore', walls);
testRules('intake and exhaust valve', neighbours);
testRules('cams against their card', cams);
testRules('overhead cams after a cut', overhead);
