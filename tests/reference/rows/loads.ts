/** Rod angle, side thrust, torque, gas and weight on pin and rod, pull at the cap. */
import { computed, engine, type Row } from './row.ts';

const beer = '6 in, 8 in, 0 in';
/** Khurmi & Gupta, ex. 15.7: 500 mm bore, r 0.3 m, l 1.2 m, 250 rpm, 250 kg, 0.35 N/mm² over the crankcase. */
const khurmi = (wanted: string, type: string): string =>
  engine(
    '',
    `derive angle: Angle = 60 deg
derive force: Force = gas-force(0.35 MPa, 0.5 m) - 250 kg * piston-bend-at(angle, 0.6 m, 1.2 m, 0 m) * (250 rpm) ^ 2
derive leaning: Angle = rod-angle-at(angle, 0.6 m, 1.2 m, 0 m)
derive wanted: ${type} = ${wanted}`,
  );
/** H. N. Gupta, ex. 13.2: 65 mm bore, 50 bar, 900 N of friction, r 30, l 120 mm, the crankpin square to the bore. */
const gupta = (wanted: string, offset: string): string =>
  engine(
    '',
    `derive leaning: Angle = rod-angle-at(90 deg - top-angle(60 mm, 120 mm, ${offset}), 60 mm, 120 mm, ${offset})
derive force: Force = gas-force(50 bar, 65 mm) - 900 N
derive wanted: Force = ${wanted}`,
  );
const exact = (() => {
  const r = 0.3;
  const l = 1.2;
  const w = (250 * 2 * Math.PI) / 60;
  const turned = Math.PI / 3;
  const along = Math.sqrt(l * l - (r * Math.sin(turned)) ** 2);
  const bend =
    r * Math.cos(turned) +
    ((r * Math.cos(turned)) ** 2 - (r * Math.sin(turned)) ** 2) / along +
    ((r * Math.sin(turned)) ** 2 * (r * Math.cos(turned)) ** 2) / along ** 3;
  const force = (0.35e6 * Math.PI) / 4 / 4 - 250 * bend * w * w;
  const leaning = Math.asin((r * Math.sin(turned)) / l);
  return {
    thrust: force * Math.tan(leaning),
    rod: force / Math.cos(leaning),
    torque: force * r * (Math.sin(turned) + Math.cos(turned) * Math.tan(leaning)),
  };
})();
const weighed = engine(
  `layout: single
crank.stroke: 0.1016 m
rod { length: 0.155575 m, big-end: 450 g, cap: 160 g, small-end: 160 g, bearing: 0 g }
piston { mass: 500 g, pin { mass: 150 g, locks: 5 g } }
ring.mass: [top: 15, second: 15, oil: 15] g
redline: 7000 rpm
over-speed: 7000 rpm
block.bore: 100 mm
rod.bolt { diameter: 7/16 in, preload: 10600 lbf }`,
);
const khurmiNote = 'Khurmi & Gupta, ex. 15.7 p. 533, exact; the book takes two terms of the series and prints';

export const loadRows: readonly Row[] = [
  {
    id: 'K-05 rod angle',
    source: 'Beer & Johnston, Dynamics, sample problem 15.3: prints 13.95',
    text: computed('Angle', `rod-angle-at(40 deg, ${beer})`),
    path: 'wanted',
    expected: 13.94825,
    unit: 'deg',
    tolerance: 1e-5,
  },
  {
    id: 'K-05 swing of the rod',
    source: 'Beer & Johnston, Dynamics, sample problem 15.3: prints 62.0 rad/s',
    text: computed('RotationalSpeed', `rod-swing-at(40 deg, ${beer}, 2000 rpm)`),
    path: 'wanted',
    expected: 61.99292,
    unit: '1',
    tolerance: 1e-5,
  },
  {
    id: 'K-06 change of the swing',
    source:
      'Beer & Johnston, Dynamics, ch. 15, from memory: prints 9940 rad/s², with a crank speed rounded to 209.4; downwards',
    text: computed('Angle*Frequency^2', `rod-swing-change-at(40 deg, ${beer}, 2000 rpm)`),
    path: 'wanted',
    expected: -9940.16,
    unit: '1',
    tolerance: 5,
  },
  {
    id: 'K-06 with the exact crank speed',
    source: 'central difference of the swing, run apart',
    text: computed(
      'Angle*Frequency^2',
      `(rod-swing-at(40.001 deg, ${beer}, 2000 rpm) - rod-swing-at(39.999 deg, ${beer}, 2000 rpm)) / (0.002 deg / 2000 rpm) - rod-swing-change-at(40 deg, ${beer}, 2000 rpm)`,
    ),
    path: 'wanted',
    expected: 0,
    unit: '1',
    tolerance: 1e-3,
  },
  {
    id: 'K-11 side thrust',
    source: `${khurmiNote} 10.97 kN`,
    text: khurmi('force * tan(leaning)', 'Force'),
    path: 'wanted',
    expected: exact.thrust,
    unit: 'N',
    tolerance: 1e-6,
  },
  {
    id: 'K-11 rod',
    source: `${khurmiNote} 50.65 kN`,
    text: khurmi('force / cos(leaning)', 'Force'),
    path: 'wanted',
    expected: exact.rod,
    unit: 'N',
    tolerance: 1e-6,
  },
  {
    id: 'K-11 torque',
    source: `${khurmiNote} 14.491 kN·m`,
    text: khurmi('force * piston-rate-at(angle, 0.6 m, 1.2 m, 0 m) * 1 rad', 'Torque'),
    path: 'wanted',
    expected: exact.torque,
    unit: 'N*m',
    tolerance: 1e-6,
  },
  {
    id: 'K-11 near the print',
    source: 'the two-term figure of the book is within 1 %',
    text: khurmi('force / cos(leaning)', 'Force'),
    path: 'wanted',
    expected: 50650,
    unit: 'N',
    tolerance: 506,
  },
  {
    id: 'K-13 rod',
    source: 'H. N. Gupta, Fundamentals of IC Engines, ex. 13.2 p. 424',
    text: gupta('force / cos(leaning)', '0 mm'),
    path: 'wanted',
    expected: 16206,
    unit: 'N',
    tolerance: 1,
  },
  {
    id: 'K-13 side thrust',
    source: 'H. N. Gupta, ex. 13.2',
    text: gupta('force * tan(leaning)', '0 mm'),
    path: 'wanted',
    expected: 4050,
    unit: 'N',
    tolerance: 5,
  },
  {
    id: 'K-13 side thrust with the pin 2 mm off',
    source: 'H. N. Gupta, ex. 13.2',
    text: gupta('force * tan(leaning)', '2 mm'),
    path: 'wanted',
    expected: 3765,
    unit: 'N',
    tolerance: 1.5,
  },
  {
    id: 'LD-01 pull in the rod',
    source: 'exact at the top without offset',
    text: weighed,
    path: 'rod-tension',
    expected: [31141.01],
    unit: 'N',
    tolerance: 5e-3,
  },
  {
    id: 'LD-02',
    source: 'free body of the rod less its cap',
    text: weighed,
    path: 'cap-joint-load',
    expected: [39057.18],
    unit: 'N',
    tolerance: 5e-3,
  },
  {
    id: 'LD-02 a bolt',
    source: 'half of LD-02',
    text: weighed,
    path: 'rod-bolt-load',
    expected: [39057.18 / 2],
    unit: 'N',
    tolerance: 5e-3,
  },
  {
    id: 'LD-02 against 10 600 lbf',
    source: 'preload by load',
    text: weighed,
    path: 'rod-bolt-separation',
    expected: [(10600 * 4.4482216152605) / (39057.18 / 2)],
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'LD-04',
    source: "Hooke's law: 31 000 N on 155.6 mm, 230 mm², 205 GPa",
    text: computed('Length', '31000 N * bar-give(155.6 mm, 230 mm^2, 205 GPa)'),
    path: 'wanted',
    expected: 0.1023,
    unit: 'mm',
    tolerance: 5e-5,
  },
  {
    id: 'stated peak on the piston',
    source: 'pressure by area: 60 bar over a crankcase of 1 bar on 100 mm',
    text: weighed.replace(
      'redline: 7000',
      'peak-pressure: 60 bar\ncrankcase-pressure: 1 bar\npeak-at: 0 deg\nredline: 7000',
    ),
    path: 'peak-gas-force',
    expected: [(59e5 * Math.PI * 0.01) / 4],
    unit: 'N',
    tolerance: 1e-6,
  },
  {
    id: 'LD-01 what the weights take off the peak',
    source: 'two-force member: at the top the rod stands straight, and the pull of LD-01 goes against the gas',
    text: weighed.replace(
      'redline: 7000',
      'peak-pressure: 60 bar\ncrankcase-pressure: 1 bar\npeak-at: 0 deg\nredline: 7000',
    ),
    path: 'rod-compression-at-peak',
    expected: [(59e5 * Math.PI * 0.01) / 4 - 31141.01],
    unit: 'N',
    tolerance: 5e-3,
  },
];
