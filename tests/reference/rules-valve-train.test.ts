/** Rules of springs, rockers, pushrods, seats, guides, breathing and air: once where each must speak and once where it must not. Figures by hand. */
import { testRules, type Case } from './rule-cases.ts';

const one = 'layout: single\nengine-class: car\n';
const side = (figures: string): string => `${one}intake { ${figures} }`;
const v8 = 'layout: vee-8-cross\nengine-class: car\n';

/** Outer 0.140, inner 0.038 in of room at 0.580 in of lift. */
const nest = (more: string, inner = '0.050'): string =>
  side(`lobe.lift: 0.580 in, installed-height: 1.900 in
    spring[outer] { rate: 330 lbf/in, free-height: 2.220 in, solid: 1.180 in }
    spring[inner] { rate: 115 lbf/in, free-height: 2.100 in, seat-step: ${inner} in, solid: 1.232 in }
    ${more}`);
const outer = (solid: string, more: string): string =>
  side(`lobe.lift: 0.500 in, spring[outer] { rate: 300 lbf/in, free-height: 2.2 in, installed: 1.9 in, solid: ${solid}, mass: 90 g }
    ${more}`);
const train = (bend: string): string =>
  `${one}redline: 7000 rpm\nover-speed: 7300 rpm
   intake { lobe.lift: 0.5 in, valve.mass: 115 g, retainer.mass: 28 g, lock.mass: 6 g, nose-bend: ${bend}
     spring[outer] { rate: 330 lbf/in, free-height: 2.22 in, installed: 1.9 in, mass: 90 g } }`;
const springs: readonly Case[] = [
  { rule: 'intake.coil-bind', about: 'the inner one has 0.038 in', members: nest(''), out: ['[inner]'] },
  {
    rule: 'intake.coil-bind',
    about: 'its seat cut 0.012 in deeper',
    members: nest('', '0.038'),
    out: [],
  },
  {
    rule: 'intake.coil-bind',
    about: 'solid by the wire: 0.2 in × 6.8 coils in 1.9 − 0.5 in',
    members: side(
      'lobe.lift: 0.5 in, spring[outer] { wire: 0.2 in, coil-diameter: 1.2 in, active-coils: 4.8, installed: 1.9 in }',
    ),
    out: ['[outer]'],
  },
  {
    rule: 'intake.third-coil-bind',
    about: '0.030 in',
    members: nest('third-spring { solid: 1.190 in, installed: 1.800 in }'),
    out: [''],
  },
  {
    rule: 'intake.third-coil-bind',
    about: '0.070 in',
    members: nest('third-spring { solid: 1.150 in, installed: 1.800 in }'),
    out: [],
  },
  { rule: 'intake.third-coil-bind', about: 'no third spring', members: nest(''), out: 'n/a' },
  {
    rule: 'intake.shims-leave-room',
    about: '0.038 less a shim of 0.030 in',
    members: nest('seat-load-target: 149.35 lbf'),
    out: [''],
  },
  {
    rule: 'intake.shims-leave-room',
    about: '0.400 less a shim of 0.030 in',
    members: outer('1.000 in', 'seat-load-target: 99 lbf'),
    out: [],
  },
  {
    rule: 'intake.nest-loose',
    about: '0.200 in, train weighed',
    members: outer('1.200 in', 'valve.mass: 100 g'),
    out: [''],
  },
  {
    rule: 'intake.nest-loose',
    about: '0.100 in, train weighed',
    members: outer('1.300 in', 'valve.mass: 100 g'),
    out: [],
  },
  { rule: 'intake.nest-loose', about: 'nothing weighed', members: outer('1.200 in', ''), out: 'n/a' },
  {
    rule: 'intake.retainer-clears-seal',
    about: '0.540 less 0.500 in',
    members: outer('1.2 in', 'retainer-to-seal: 0.540 in'),
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.retainer-clears-seal',
    about: '0.560 less 0.500 in',
    members: outer('1.2 in', 'retainer-to-seal: 0.560 in'),
    out: [],
  },
  {
    rule: 'intake.retainer-clears-rocker',
    about: '0.050 in',
    members: side('retainer-to-rocker: 0.050 in'),
    out: ['[1, 1]'],
  },
  { rule: 'intake.retainer-clears-rocker', about: '0.070 in', members: side('retainer-to-rocker: 0.070 in'), out: [] },
  {
    rule: 'intake.spring-tired',
    about: '80 of 100 lbf',
    members: side(
      'installed-height: 1.9 in, spring[outer] { rate: 200 lbf/in, free-height: 2.4 in, load-reading: 80 lbf }',
    ),
    out: ['[outer, 1, 1]'],
  },
  {
    rule: 'intake.spring-tired',
    about: '95 of 100 lbf',
    members: side(
      'installed-height: 1.9 in, spring[outer] { rate: 200 lbf/in, free-height: 2.4 in, load-reading: 95 lbf }',
    ),
    out: [],
  },
  {
    rule: 'intake.spring-surge',
    about: '6.9 times the camshaft',
    members: `${one}redline: 12000 rpm\nintake.spring[outer] { wire: 4 mm, coil-diameter: 24 mm, active-coils: 5 }`,
    out: ['[outer]'],
  },
  {
    rule: 'intake.spring-surge',
    about: '10.6 times the camshaft',
    members: `${one}redline: 5500 rpm\nintake.spring[outer] { wire: 4 mm, coil-diameter: 24 mm, active-coils: 5 }`,
    out: [],
  },
  { rule: 'intake.rigid-train-speed', about: 'a sharp nose', members: train('20 mm/rad^2'), out: [''] },
  { rule: 'intake.rigid-train-speed', about: 'a round nose', members: train('10 mm/rad^2'), out: [] },
];

const rocker = (figures: string): string =>
  side(`lobe.lift: 0.400 in, rocker-ratio: 1.5, rocker { valve-arm: 1.500 in, ${figures} }`);
const pushrod = (figures: string): string =>
  `${v8}intake.rocker-ratio: 1.6\nexhaust.rocker-ratio: 1.6\npushrod { length-as: overall, ball: 5/16 in, lifter: hydraulic, checker-length: 7.800 in, ${figures} }`;
const rockers: readonly Case[] = [
  {
    rule: 'intake.rocker-on-tip',
    about: 'middle of the sweep 0.065 in beyond the stem',
    members: rocker('pivot-to-stem: 1.420 in'),
    out: [''],
  },
  { rule: 'intake.rocker-on-tip', about: '0.015 in short of it', members: rocker('pivot-to-stem: 1.500 in'), out: [] },
  {
    rule: 'intake.rocker-geometry',
    about: 'pivot 0.020 in low',
    members: rocker('checker-reading: 0.020 in'),
    out: [''],
  },
  {
    rule: 'intake.rocker-geometry',
    about: 'pivot at its height',
    members: rocker('roller-radius: 0.25 in, pivot-height: -0.045 in'),
    out: [],
  },
  { rule: 'intake.rocker-geometry', about: 'nobody looked', members: rocker('roller-radius: 0.25 in'), out: 'n/a' },
  { rule: 'intake.rocker-slot', about: '0.050 in', members: rocker('slot-room: 0.050 in'), out: ['[1, 1]'] },
  { rule: 'intake.rocker-slot', about: '0.070 in', members: rocker('slot-room: 0.070 in'), out: [] },
  {
    rule: 'pushrod.hydraulic-preload',
    about: '7.800 in leaves none',
    members: pushrod('length: 7.800 in'),
    out: ['[intake]', '[exhaust]'],
  },
  {
    rule: 'pushrod.hydraulic-preload',
    about: '7.850 in leaves 0.050 in',
    members: pushrod('length: 7.850 in'),
    out: [],
  },
  { rule: 'pushrod.hydraulic-preload', about: 'no pushrod is chosen', members: pushrod(''), out: 'n/a' },
  {
    rule: 'pushrod.hydraulic-preload',
    about: 'solid lifters',
    members: pushrod('length: 7.8 in').replace('hydraulic', 'solid'),
    out: 'n/a',
  },
];

const two = 'layout: inline-2\nengine-class: car\n';
const seats: readonly Case[] = [
  {
    rule: 'intake.guide.guide-clearance',
    about: '0.004 in where 0.003 is the most',
    members: side('guide { bore: 0.3455 in, clearance-limits: 0.001..0.003 in }, valve.stem: 0.3415 in'),
    out: ['[1, 1, upper]', '[1, 1, middle]', '[1, 1, lower]'],
  },
  {
    rule: 'intake.guide.guide-clearance',
    about: '0.002 in',
    members: side('guide { bore: 0.3435 in, clearance-limits: 0.001..0.003 in }, valve.stem: 0.3415 in'),
    out: [],
  },
  {
    rule: 'intake.guide.guide-clearance',
    about: 'the maker says nothing',
    members: side('guide.bore: 0.3435 in, valve.stem: 0.3415 in'),
    out: 'n/a',
  },
  {
    rule: 'intake.guide.guide-clearance-hot',
    about: '0.0004 in, stem 300 K warmer, guide 80',
    members: side('guide { bore: 0.3419 in, warmer-by: 80 K, stem-warmer-by: 300 K }, valve.stem: 0.3415 in'),
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.guide.guide-clearance-hot',
    about: '0.002 in',
    members: side('guide { bore: 0.3435 in, warmer-by: 80 K, stem-warmer-by: 300 K }, valve.stem: 0.3415 in'),
    out: [],
  },
  {
    rule: 'intake.seat.seat-width',
    about: 'the builder’s limits, narrow',
    members: side('seat { width: 0.050 in, width-limits: 0.060..0.080 in }'),
    out: [''],
  },
  {
    rule: 'intake.seat.seat-width',
    about: 'the builder’s limits, within',
    members: side('seat { width: 0.070 in, width-limits: 0.060..0.080 in }'),
    out: [],
  },
  { rule: 'intake.seat.seat-run-out', about: '0.003 in', members: side('seat.run-out: 0.003 in'), out: ['[1, 1]'] },
  { rule: 'intake.seat.seat-run-out', about: '0.001 in', members: side('seat.run-out: 0.001 in'), out: [] },
  {
    rule: 'intake.port-vacuum',
    about: 'one port under the shop’s least',
    members: `${two}intake { vacuum: [21, 15] inHg, vacuum-limits: >= 18 inHg }`,
    out: ['[2]'],
  },
  {
    rule: 'intake.port-vacuum',
    about: 'both over it',
    members: `${two}intake { vacuum: [21, 19] inHg, vacuum-limits: >= 18 inHg }`,
    out: [],
  },
  {
    rule: 'intake.port-vacuum-even',
    about: '6 inHg apart',
    members: `${two}intake { vacuum: [21, 15] inHg, vacuum-spread-limits: <= 3 inHg }`,
    out: [''],
  },
  {
    rule: 'intake.port-vacuum-even',
    about: '2 inHg apart',
    members: `${two}intake { vacuum: [21, 19] inHg, vacuum-spread-limits: <= 3 inHg }`,
    out: [],
  },
  { rule: 'intake.valve-margin', about: '0.025 in', members: side('valve.margin: 0.025 in'), out: ['[1, 1]'] },
  { rule: 'intake.valve-margin', about: '0.035 in on the intake', members: side('valve.margin: 0.035 in'), out: [] },
  {
    rule: 'exhaust.valve-margin',
    about: '0.035 in on the exhaust',
    members: `${one}exhaust.valve.margin: 0.035 in`,
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.tips-even',
    about: 'one valve sank 0.015 in more',
    members: `${two}intake { tip-height: 2 in, seat.sunk: [1: [0.020], 2: [0.005]] in }`,
    out: [''],
  },
  {
    rule: 'intake.tips-even',
    about: 'both sank alike',
    members: `${two}intake { tip-height: 2 in, seat.sunk: 0.020 in }`,
    out: [],
  },
  {
    rule: 'intake.installed-height-even',
    about: '0.030 in low',
    members: side('installed-height: 1.900 in, installed-height-reading: 1.870 in'),
    out: ['[1, 1]'],
  },
  {
    rule: 'intake.installed-height-even',
    about: 'sank 0.045 in, shimmed',
    members: side('installed-height: 1.900 in, installed-height-reading: 1.900 in, seat.sunk: 0.045 in'),
    out: [],
  },
];

const injector = (rail: string): string =>
  `layout: vee-8-cross\nredline: 7000 rpm\nbarometer: 100 kPa\npower-target: 500 hp\nfuel-density: 0.72 g/cm^3\nfuel-for-work: 0.5 lb/hp/h\ninjector { rated-flow: 360 cm^3/min, rated-at: 43.5 psi, rail-gauge: ${rail} }`;
const breathing: readonly Case[] = [
  { rule: 'injector.injector-duty', about: '91 % at 43.5 psi', members: injector('43.5 psi'), out: [''] },
  { rule: 'injector.injector-duty', about: '78 % at 60 psi', members: injector('60 psi'), out: [] },
  {
    rule: 'intake.mach-in-limits',
    about: '0.80',
    members: `${one}redline: 7000 rpm\nblock.bore: 104.775 mm\ncrank.stroke: 101.6 mm\nrod.length: 155 mm\ncharge-temperature: 37 degC\nintake { valve.head: 51.3 mm, lift-mean-coefficient: 0.35 }`,
    out: ['[1]'],
  },
  {
    rule: 'intake.mach-in-limits',
    about: '0.57',
    members: `${one}redline: 5000 rpm\nblock.bore: 104.775 mm\ncrank.stroke: 101.6 mm\nrod.length: 155 mm\ncharge-temperature: 37 degC\nintake { valve.head: 51.3 mm, lift-mean-coefficient: 0.35 }`,
    out: [],
  },
  {
    rule: 'power-correction-in-range',
    about: '1.217 on a hill',
    members: `${one}barometer: 84.3 kPa\nair-temperature: 30 degC\nhumidity: 0 %\npower-read: 200 hp`,
    out: [''],
  },
  {
    rule: 'power-correction-in-range',
    about: '0.998',
    members: `${one}barometer: 97.5 kPa\nair-temperature: 15 degC\nhumidity: 0 %\npower-read: 200 hp`,
    out: [],
  },
  {
    rule: 'power-correction-in-range',
    about: 'boosted: refused',
    members: `${one}barometer: 97.5 kPa\nair-temperature: 15 degC\nhumidity: 0 %\npower-read: 200 hp\nturbo.boost-gauge: 8 psi`,
    out: 'n/a',
  },
  {
    rule: 'power-correction-in-range',
    about: 'a diesel: refused',
    members:
      'layout: single\nduty: diesel\nbarometer: 97.5 kPa\nair-temperature: 15 degC\nhumidity: 0 %\npower-read: 200 hp',
    out: 'n/a',
  },
];

testRules('springs and what moves', springs);
testRules('rockers and pushrods', rockers);
testRules('guides and seats', seats);
testRules('breathing and air', breathing);
