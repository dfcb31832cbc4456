/** Rules of receiving and of what was looked at: cracks, pressure, fit, pump, cam, wheel and belt. Each once where it must speak and once where it must not. */
import { testRules } from './rule-cases.ts';

const single = 'layout: single\n';
const four = 'layout: inline-4\n';

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
