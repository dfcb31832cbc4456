/** Rules of the record: the job, orders, what may still be cut, lists. Each once where it must speak and once where it must not. */
import { describe, expect, test } from 'vitest';
import { engine } from './rows/row.ts';
import { testRules } from './rule-cases.ts';
import { run } from './run.ts';

const single = 'layout: single\n';
const four = 'layout: inline-4\n';
const cc =
  'block.bore: 80 mm\nblock.deck-height: 205 mm\ncrank.stroke: 80 mm\nrod.length: 135 mm\npiston.compression-height: 30 mm\nhead.chamber: 40 cc\nhead-gasket { bore: 82 mm, thickness: 1 mm }\n';

testRules('the job', [
  { rule: 'job.octane-named', about: 'a number alone', members: `${single}job.octane: 98`, out: [''] },
  {
    rule: 'job.octane-named',
    about: 'with its method',
    members: `${single}job { octane: 98, octane-by: ron }`,
    out: [],
  },
  // swept 402.1 cc, clearance 40 + 5.28 + 0 cc: 9.88
  {
    rule: 'class-rules.compression-in-class',
    about: '9.88 in a class of 9.5',
    members: `${single}${cc}class-rules.greatest-compression: 9.5`,
    out: ['[1]'],
  },
  {
    rule: 'class-rules.compression-in-class',
    about: 'the scrutineer allows 0.4',
    members: `${single}${cc}class-rules { greatest-compression: 9.5, compression-allowed: 0.4 }`,
    out: [],
  },
  {
    rule: 'class-rules.intake-lift-in-class',
    about: '0.300 in by 1.6 is 0.480 in',
    members: `${single}intake { lobe.lift: 0.300 in, rocker-ratio: 1.6 }\nclass-rules.greatest-lift: 0.475 in`,
    out: [''],
  },
  {
    rule: 'class-rules.intake-lift-in-class',
    about: '0.005 in allowed',
    members: `${single}intake { lobe.lift: 0.300 in, rocker-ratio: 1.6 }\nclass-rules { greatest-lift: 0.475 in, lift-allowed: 0.005 in }`,
    out: [],
  },
  {
    rule: 'class-rules.exhaust-lift-in-class',
    about: '0.300 in by 1.6 is 0.480 in',
    members: `${single}exhaust { lobe.lift: 0.300 in, rocker-ratio: 1.6 }\nclass-rules.greatest-lift: 0.475 in`,
    out: [''],
  },
  {
    rule: 'class-rules.intake-head-in-class',
    about: '2.02 in a class of 1.94 in',
    members: `${single}intake.valve.head: 2.02 in\nclass-rules.greatest-intake-head: 1.94 in`,
    out: [''],
  },
  {
    rule: 'class-rules.exhaust-head-in-class',
    about: '1.50 in a class of 1.50 in',
    members: `${single}exhaust.valve.head: 1.50 in\nclass-rules.greatest-exhaust-head: 1.50 in`,
    out: [],
  },
  {
    rule: 'baseline.leak-down-small',
    about: '12 %',
    members: `${four}baseline.leak-down: [4, 4, 12, 5] %`,
    out: ['[3]'],
  },
  { rule: 'baseline.leak-down-small', about: 'an engine that was not read', members: four, out: 'n/a' },
  // (165 − 140) / 165 is 15.2 %
  {
    rule: 'baseline.cranking-even',
    about: '140 to 165 psi',
    members: `${four}baseline.cranking-gauge: [165, 160, 140, 163] psi`,
    out: [''],
  },
  {
    rule: 'baseline.cranking-even',
    about: '155 to 165 psi',
    members: `${four}baseline.cranking-gauge: [165, 160, 155, 163] psi`,
    out: [],
  },
  {
    rule: 'found.cracked-part-goes',
    about: 'a cracked rod that is to be used again',
    members: `${single}found[rods] { condition: cracked, verdict: re-use }\nfound[pins].condition: cracked`,
    out: ['[rods]'],
  },
  // 35 h of 40 h is 87.5 %
  {
    rule: 'life.life-near-end',
    about: '35 of 40 h',
    members: `${single}life[springs] { served: 35 h, allowed: 40 h }`,
    out: ['[springs]'],
  },
  {
    rule: 'life.life-near-end',
    about: '30 of 40 h',
    members: `${single}life[springs] { served: 30 h, allowed: 40 h }`,
    out: [],
  },
  {
    rule: 'life.life-over',
    about: '41 of 40 h',
    members: `${single}life[springs] { served: 41 h, allowed: 40 h }`,
    out: ['[springs]'],
  },
  {
    rule: 'life.life-over',
    about: 'it has served as long as the engine has run',
    members: `${single}life[rod-bolts].allowed: 30 h\nmachining "Season" on 2026-10-18 { hours-run: was + 31 h }`,
    out: ['[rod-bolts]'],
  },
]);

testRules('orders', [
  {
    rule: 'order.order-names-datum',
    about: 'one that is only wanted, one that was sent',
    members: `${single}order[boring].state: wanted\norder[decking].state: ordered`,
    out: ['[decking]'],
  },
  {
    rule: 'order.order-names-plate',
    about: 'bores without a plate; a deck needs none',
    members: `${single}order[boring] { state: ordered, datum: "main line" }\norder[decking] { state: ordered, datum: "main line" }`,
    out: ['[boring]'],
  },
  {
    rule: 'order.order-names-hand',
    about: 'with a hand',
    members: `${single}order[boring] { state: ordered, read-by-whom: "both" }`,
    out: [],
  },
  {
    rule: 'order.order-names-hand',
    about: 'without',
    members: `${single}order[honing].state: in-hand`,
    out: ['[honing]'],
  },
  {
    rule: 'order.order-inspected',
    about: 'back, and only in hand',
    members: `${single}order[boring] { came-back: 2026-03-04, state: in-hand }\norder[decking] { came-back: 2026-03-04, state: inspected }`,
    out: ['[boring]'],
  },
]);

testRules('what may still be cut', [
  {
    rule: 'block.bore-can-be-cut',
    about: 'an order for more than the block allows',
    members: `${single}block { bore: 4.000 in, greatest-bore: 4.060 in }\nmachining on 2026-02-02 { block.bore: 4.0625 in }`,
    out: ['[1]'],
  },
  {
    rule: 'block.bore-can-be-cut',
    about: 'an order for as much',
    members: `${single}block { bore: 4.000 in, greatest-bore: 4.060 in }\nmachining on 2026-02-02 { block.bore: 4.060 in }`,
    out: [],
  },
  {
    rule: 'block.bore-can-be-cut',
    about: 'nobody said how far',
    members: `${single}block.bore: 4.0625 in`,
    out: 'n/a',
  },
  {
    rule: 'crank.main-journal-can-be-ground',
    about: '0.030 in under, 0.020 in allowed',
    members: `${single}crank { main-journal: 2.450 in, least-main-journal: 2.429 in }\nmachining on 2026-02-02 { crank.main-journal: 2.420 in }`,
    out: ['[1]', '[2]'],
  },
  {
    rule: 'crank.rod-journal-can-be-ground',
    about: '0.010 in under, 0.020 in allowed',
    members: `${single}crank { rod-journal: 2.100 in, least-rod-journal: 2.079 in }\nmachining on 2026-02-02 { crank.rod-journal: 2.090 in }`,
    out: [],
  },
  {
    rule: 'crank.rod-journal-can-be-ground',
    about: '0.030 in under',
    members: `${single}crank { rod-journal: 2.100 in, least-rod-journal: 2.079 in }\nmachining on 2026-02-02 { crank.rod-journal: 2.070 in }`,
    out: ['[1]'],
  },
  {
    rule: 'rod.rod-can-be-resized',
    about: '5.695 of 5.696 in',
    members: `${single}rod { length: 5.695 in, least-length: 5.696 in }`,
    out: ['[1]'],
  },
  { rule: 'rod.rod-not-bent', about: '0.0015 in', members: `${single}rod.bend: 0.0015 in`, out: ['[1]'] },
  { rule: 'rod.rod-not-bent', about: '0.0008 in', members: `${single}rod.bend: 0.0008 in`, out: [] },
  { rule: 'rod.rod-not-twisted', about: '0.0015 in', members: `${single}rod.twist: 0.0015 in`, out: ['[1]'] },
  {
    rule: 'head.head-can-be-faced',
    about: '0.020 in more after 0.015 in, 0.030 in allowed',
    members: `${single}head { milled: 0.015 in, most-milled: 0.030 in }\nmachining on 2026-02-02 { head.milled: was + 0.020 in }`,
    out: [''],
  },
  {
    rule: 'piston.crown-can-be-cut',
    about: '0.030 in off 1.110, 1.090 in allowed',
    members: `${single}piston { compression-height: 1.110 in, least-compression-height: 1.090 in }\nmachining on 2026-02-02 { piston.compression-height: 1.080 in }`,
    out: ['[1]'],
  },
  {
    rule: 'piston.crown-thick-enough',
    about: '0.170 in',
    members: `${single}piston.crown-under-pocket: 0.170 in`,
    out: ['[1]'],
  },
  {
    rule: 'piston.crown-thick-enough',
    about: '0.190 in',
    members: `${single}piston.crown-under-pocket: 0.190 in`,
    out: [],
  },
  {
    rule: 'piston.pocket-clear-of-groove',
    about: '0.190 in',
    members: `${single}piston.pocket-to-groove: 0.190 in`,
    out: ['[1]'],
  },
  {
    rule: 'intake.seat.seat-can-be-cut',
    about: '0.040 in deep, 0.030 allowed',
    members: `${single}intake.seat { sunk: 0.040 in, sunk-limits: <= 0.030 in }`,
    out: ['[1, 1]'],
  },
]);

testRules('lists', [
  {
    rule: 'cleaning.plugs-all-back',
    about: '8 out, 7 back',
    members: `${single}cleaning { plugs-taken-out: 8, plugs-put-back: 7 }`,
    out: [''],
  },
  {
    rule: 'cleaning.plugs-all-back',
    about: '8 out, 8 back',
    members: `${single}cleaning { plugs-taken-out: 8, plugs-put-back: 8 }`,
    out: [],
  },
  {
    rule: 'piston-fitting.cap-on-own-rod',
    about: 'two caps changed round',
    members: `${four}piston-fitting { rod-mark: [1: "A1", 2: "A2", 3: "A3", 4: "A4"], cap-mark: [1: "A1", 2: "A3", 3: "A2", 4: "A4"] }`,
    out: ['[2]', '[3]'],
  },
]);

describe('figures of the record', () => {
  test('the tension of a belt by its note', () => {
    const belt = run(engine(`${single}belt { mass-by-length: 0.08 kg/m, span: 200 mm, note: 100 Hz }`));
    expect(belt.builds[0]!.figures('belt.tension')[0]).toBeCloseTo(128, 9);
  });
  test('what a cylinder leaks less when it was mended, and more when the season is over', () => {
    const { builds } = run(
      engine(`${single}baseline.leak-down: 9 %\nafter-run.leak-down: 4 %\nseason-end.leak-down: 6 %`),
    );
    expect(builds[0]!.figures('leak-down-mended')[0]).toBeCloseTo(0.05, 12);
    expect(builds[0]!.figures('leak-down-grown')[0]).toBeCloseTo(0.02, 12);
  });
});

testRules('receiving and fit', [
  {
    rule: 'crack-test.crack-tested',
    about: 'the block alone was tested',
    members: `${single}crack-test[block] { method: wet-magnetic, crack: none-found }`,
    out: ['[caps]', '[crankshaft]', '[rods]', '[rod-bolts]', '[heads]', '[pistons]'],
  },
  { rule: 'crack-test.crack-tested', about: 'no tests are kept', members: single, out: 'n/a' },
  {
    rule: 'crack-test.crack-not-fitted',
    about: 'one',
    members: `${single}crack-test[rods].crack: cracked`,
    out: ['[rods]'],
  },
  {
    rule: 'crack-test.crack-method',
    about: 'powder on aluminium pistons and a steel crank',
    members: `${single}crack-test[pistons].method: wet-magnetic\ncrack-test[crankshaft].method: wet-magnetic`,
    out: ['[pistons]'],
  },
  {
    rule: 'crack-test.demagnetised',
    about: '4 gauss left',
    members: `${single}crack-test[rods].residual-gauss: 4`,
    out: ['[rods]'],
  },
  {
    rule: 'crack-test.demagnetised',
    about: '1 gauss left',
    members: `${single}crack-test[rods].residual-gauss: 1`,
    out: [],
  },
  { rule: 'block-pressure.water-side-tight', about: 'weeps', members: `${single}block-pressure.tight: no`, out: [''] },
  { rule: 'head-pressure.water-side-tight', about: 'tight', members: `${single}head-pressure.tight: yes`, out: [] },
  {
    rule: 'match.goes-together',
    about: 'two keyways',
    members: `${single}match[keyways] { one-side: "3/16 in", other-side: "1/4 in" }\nmatch[rod-bolts] { one-side: "7/16-20", other-side: "7/16-20" }`,
    out: ['[keyways]'],
  },
  {
    rule: 'fit.damper-holds',
    about: '0.0010 in where 0.0008 to 0.0015 are due',
    members: `${single}fit { damper-bore: 1.2470 in, crank-nose: 1.2480 in, damper-press-limits: 0.0008..0.0015 in }`,
    out: [],
  },
  {
    rule: 'fit.damper-holds',
    about: 'loose by as much',
    members: `${single}fit { damper-bore: 1.2480 in, crank-nose: 1.2470 in, damper-press-limits: 0.0008..0.0015 in }`,
    out: [''],
  },
  {
    rule: 'fit.gasket-suits-bore',
    about: '4.140 over 4.125 in',
    members: `${single}block.bore: 4.125 in\nhead-gasket.bore: 4.140 in\nfit { }`,
    out: ['[1]'],
  },
  {
    rule: 'fit.gasket-suits-bore',
    about: '4.165 over 4.125 in',
    members: `${single}block.bore: 4.125 in\nhead-gasket.bore: 4.165 in\nfit { }`,
    out: [],
  },
  {
    rule: 'fit.hands-even',
    about: 'three left, one right',
    members: `${four}piston.hand: [left, left, right, left]\nfit { }`,
    out: [''],
  },
  {
    rule: 'fit.hands-even',
    about: 'two of each',
    members: `${four}piston.hand: [left, left, right, right]\nfit { }`,
    out: [],
  },
]);

testRules('what was looked at', [
  {
    rule: 'oil-pump.pump-rotor',
    about: '0.008 in where 0.005 are allowed',
    members: `${single}oil-pump { rotor-clearance: 0.008 in, rotor-limits: <= 0.005 in }`,
    out: [''],
  },
  {
    rule: 'oil-pump.pump-end',
    about: '0.002 in where 0.003 are allowed',
    members: `${single}oil-pump { end-clearance: 0.002 in, end-limits: 0.001..0.003 in }`,
    out: [],
  },
  {
    rule: 'intake.lobe.base-circle-true',
    about: '0.0015 in',
    members: `${single}intake.lobe.base-run-out: 0.0015 in`,
    out: [''],
  },
  {
    rule: 'exhaust.lobe.base-circle-true',
    about: '0.0005 in',
    members: `${single}exhaust.lobe.base-run-out: 0.0005 in`,
    out: [],
  },
  {
    rule: 'top-by-stop.wheel-zero',
    about: '31 degrees before, 29 after: one degree off',
    members: `${single}top-by-stop { touches-before: 31 deg, touches-after: 29 deg }`,
    out: [''],
  },
  {
    rule: 'top-by-stop.wheel-zero',
    about: '30.3 before, 30 after',
    members: `${single}top-by-stop { touches-before: 30.3 deg, touches-after: 30 deg }`,
    out: [],
  },
  {
    // 0.08 kg/m × (2 × 0.2 m × 100 Hz)² = 128 N
    rule: 'belt.belt-tight',
    about: '128 N where 150 to 170 are due',
    members: `${single}belt { mass-by-length: 0.08 kg/m, span: 200 mm, note: 100 Hz, tension-limits: 150..170 N }`,
    out: [''],
  },
  {
    // 0.08 kg/m × (2 × 0.2 m × 112 Hz)² = 160.6 N
    rule: 'belt.belt-tight',
    about: '161 N',
    members: `${single}belt { mass-by-length: 0.08 kg/m, span: 200 mm, note: 112 Hz, tension-limits: 150..170 N }`,
    out: [],
  },
]);

testRules('logs', [
  {
    rule: 'mock-up.mock-up-room',
    about: 'rod bolt too near, gears right, pick-up too far',
    members: `${single}mock-up[rod-bolt-to-cam].room: 0.040 in\nmock-up[gear-backlash].room: 0.004 in\nmock-up[pick-up-to-sump].room: 0.500 in`,
    out: ['[rod-bolt-to-cam]', '[pick-up-to-sump]'],
  },
  {
    rule: 'assembly.turns-freely',
    about: 'the pistons bind',
    members: `${single}assembly { turning: [crank-in: 20, one-piston-in: 35, all-pistons-in: 300, cam-driven: 310] in-lbf, turning-limits: <= 200 in-lbf }`,
    out: ['[all-pistons-in]', '[cam-driven]'],
  },
  {
    rule: 'rod.bolt.wrench-in-range',
    about: '20 on a wrench of 150 ft-lbf',
    members: `${single}rod.bolt { torque: 20 ft-lbf, wrench-scale: 150 ft-lbf }`,
    out: ['[1, a]', '[1, b]'],
  },
  {
    rule: 'rod.bolt.wrench-in-range',
    about: '45 on it',
    members: `${single}rod.bolt { torque: 45 ft-lbf, wrench-scale: 150 ft-lbf }`,
    out: [],
  },
  { rule: 'first-run.oil-before-fire', about: 'none', members: `${single}first-run.oil-shown: 0 psi`, out: [''] },
  { rule: 'first-run.oil-before-fire', about: '45 psi', members: `${single}first-run.oil-shown: 45 psi`, out: [] },
  {
    rule: 'first-run.oil-pressure-held',
    about: '45 psi at 6,000 rpm, where 60 are due',
    members: `${single}first-run { readings: 2, speed: [2000, 6000] rpm, oil-pressure: [30, 45] psi }`,
    out: ['[2]'],
  },
  {
    rule: 'first-run.run-in-fast',
    about: 'flat tappets at 1,200 rpm',
    members: `${single}first-run { tappets: flat, run-in-speed: 1200 rpm }`,
    out: [''],
  },
  {
    rule: 'first-run.run-in-fast',
    about: 'rollers',
    members: `${single}first-run { tappets: roller, run-in-speed: 1200 rpm }`,
    out: 'n/a',
  },
  {
    rule: 'first-run.run-in-long',
    about: '10 min',
    members: `${single}first-run { tappets: flat, run-in-for: 10 min }`,
    out: [''],
  },
  {
    rule: 'first-run.run-in-long',
    about: '25 min',
    members: `${single}first-run { tappets: flat, run-in-for: 25 min }`,
    out: [],
  },
]);

/** Built, run for a season, taken apart: readings of both days. */
const season = (built: string, apart: string, rest = ''): string =>
  `layout: inline-2\ntear-down { last-run: 2026-10-18 ${rest} }
   measured "Built" on 2026-03-01 { ${built} }
   machining "Season" on 2026-10-18 { hours-run: was + 31 h }
   measured "Taken apart" on 2026-11-02 { ${apart} }`;

testRules('the tear-down', [
  {
    rule: 'tear-down.bore-wear',
    about: '0.02 mm and 0.005 mm, 0.010 allowed',
    members: season(
      'block.bore: [80.010, 80.010] mm',
      'block.bore: [80.030, 80.015] mm',
      ', bore-worn-limits: <= 0.010 mm',
    ),
    out: ['[1]'],
  },
  {
    rule: 'tear-down.skirt-wear',
    about: '0.03 mm and 0.005 mm, 0.010 allowed',
    members: season(
      'piston.skirt: [79.95, 79.95] mm',
      'piston.skirt: [79.945, 79.92] mm',
      ', skirt-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'tear-down.main-journal-wear',
    about: 'one of three',
    members: season(
      'crank.main-journal: [50, 50, 50] mm',
      'crank.main-journal: [50, 49.98, 50] mm',
      ', journal-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'tear-down.rod-journal-wear',
    about: 'one of two',
    members: season(
      'crank.rod-journal: [40, 40] mm',
      'crank.rod-journal: [40, 39.98] mm',
      ', journal-worn-limits: <= 0.010 mm',
    ),
    out: ['[2]'],
  },
  {
    rule: 'intake.spring-tired-since',
    about: '13 % and 3 % less than when it was new',
    members: season(
      'intake.spring[outer].load-reading: [[300], [300]] N',
      'intake.spring[outer].load-reading: [[260], [290]] N',
    ),
    out: ['[outer, 1, 1]'],
  },
  {
    rule: 'exhaust.valve-sunk',
    about: 'lash 0.05 mm and 0.01 mm less',
    members: season(
      'exhaust.lash: [1: [0.20], 2: [0.20]] mm',
      'exhaust.lash: [1: [0.15], 2: [0.19]] mm',
      ', lash-lost-limits: <= 0.03 mm',
    ),
    out: ['[1, 1]'],
  },
]);

describe('wear', () => {
  const ran = run(
    engine(
      season(
        'block.bore: [80.010, 80.010] mm ring.gap[top]: [0.30, 0.30] mm',
        'block.bore: [1: 80.030] mm ring.gap[top]: [1: 0.40] mm',
      ),
    ),
  );
  const figures = (path: string): readonly number[] => ran.builds[0]!.figures(path).map((figure) => figure * 1000);

  test('is what was read before it ran against what was read after; what was not read again is not known', () => {
    expect(ran.slips).toEqual([]);
    expect(figures('tear-down.bore-worn')[0]).toBeCloseTo(0.02, 9);
    expect(figures('tear-down.bore-worn')[1]).toBeNaN();
    expect(figures('tear-down.ring-gap-grown')[0]).toBeCloseTo(0.1, 9);
    // (0.1 / π − 0.02) / 2
    expect(figures('tear-down.ring-face-worn')[0]).toBeCloseTo(0.0059155, 6);
  });
  test('turning torque is told as it rises', () => {
    const { builds } = run(
      engine(`${single}assembly.turning: [crank-in: 2, one-piston-in: 3, all-pistons-in: 9, cam-driven: 10] N*m`),
    );
    expect(builds[0]!.figures('assembly.turning-added').map((figure) => Number(figure.toFixed(9)))).toEqual([
      2, 1, 6, 1,
    ]);
  });
});
