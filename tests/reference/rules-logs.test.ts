/** Rules of the logs: rooms at the mock-up, torque, first run. Each once where it must speak and once where it must not. */
import { testRules } from './rule-cases.ts';

const single = 'layout: single\n';

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
