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
