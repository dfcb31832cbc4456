/** Viscosity against temperature, floors of grades, pressure. */
import { computed, engine, type Row } from './row.ts';

const thick = '105 cSt, 14.5 cSt';
/** Fit of Seireg and Dandage at 180 °F, computed again here: µ₀, b of the table, in microreyn. */
const grades = [
  ['10', 0.0158, 1157.5],
  ['20', 0.0136, 1271.6],
  ['30', 0.0141, 1360.0],
  ['40', 0.0121, 1474.4],
  ['50', 0.017, 1509.6],
  ['60', 0.0187, 1564.0],
] as const;

export const oilRows: readonly Row[] = [
  {
    id: 'OIL-01',
    source:
      'work sheet quoting ASTM D341: 32 cSt at 40, 5.4 at 100 °C is 8.53 cSt at 80 °C; with 273.15 for the 273 of the sheet 8.5332',
    text: computed('Ratio', 'kinematic-viscosity-at(80 degC, 32 cSt, 5.4 cSt) / 1 cSt'),
    path: 'wanted',
    expected: 8.5332,
    unit: '1',
    tolerance: 0.00005,
  },
  {
    id: 'OIL-01 slope',
    source:
      'the sheet prints B 3.7449 with 273 for 273.15, so ours is a little over it; computed again with 273.15: 3.7463',
    text: computed('Ratio', 'walther-slope(32 cSt, 5.4 cSt)'),
    path: 'wanted',
    expected: slope(32, 5.4),
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'OIL-01 height',
    source: 'the sheet prints A 9.5259 with 273 for 273.15; computed again with 273.15',
    text: computed('Ratio', 'walther-height(32 cSt, 5.4 cSt)'),
    path: 'wanted',
    expected: loglog(32) + slope(32, 5.4) * Math.log10(313.15),
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'OIL-02 slope',
    source: 'closed form of ASTM D341',
    text: computed('Ratio', `walther-slope(${thick})`),
    path: 'wanted',
    expected: 3.0692688,
    unit: '1',
    tolerance: 1e-7,
  },
  {
    id: 'OIL-02 at 120',
    source: 'closed form of ASTM D341',
    text: computed('Ratio', `kinematic-viscosity-at(120 degC, ${thick}) / 1 cSt`),
    path: 'wanted',
    expected: 9.458981,
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'OIL-02 at 140',
    source: 'closed form of ASTM D341',
    text: computed('Ratio', `kinematic-viscosity-at(140 degC, ${thick}) / 1 cSt`),
    path: 'wanted',
    expected: 6.621783,
    unit: '1',
    tolerance: 1e-6,
  },
  {
    id: 'OIL-02 at the ends',
    source: 'definition: at 40 and 100 °C what was given',
    text: computed(
      'Ratio',
      `(kinematic-viscosity-at(40 degC, ${thick}) - 105 cSt) / 1 cSt + (kinematic-viscosity-at(100 degC, ${thick}) - 14.5 cSt) / 1 cSt`,
    ),
    path: 'wanted',
    expected: 0,
    unit: '1',
    tolerance: 1e-9,
  },
  ...grades.map(([grade, factor, rise]): Row => ({
    id: `J-11 SAE ${grade}`,
    source: 'fit of Seireg and Dandage as in Shigley, table to fig. 12-13; exponential computed again here, 180 °F',
    text: computed('Ratio', `single-grade-viscosity(180 degF, ${factor}, ${rise}) / 1e-6 reyn`),
    path: 'wanted',
    expected: factor * Math.exp(rise / (180 + 95)),
    unit: '1',
    tolerance: 1e-9,
  })),
  {
    id: 'dynamic viscosity',
    source: 'definition: 14.5 mm²/s × 868 kg/m³ × (1 − 0.00065 × 85) at 100 °C',
    text: computed('Ratio', `viscosity-at(100 degC, ${thick}, 868 kg/m^3) / 1 mPa*s`),
    path: 'wanted',
    expected: 14.5e-3 * 868 * (1 - 0.00065 * 85),
    unit: '1',
    tolerance: 1e-9,
  },
  {
    id: 'floor of a grade',
    source: 'SAE J300, table of high-temperature grades, from memory: SAE 40 of a 15W-40 at least 3.7 mPa·s at 150 °C',
    text: engine('layout: single\noil.grade: sae-40', 'derive wanted: Ratio = oil.floor-at-150 / 1 mPa*s'),
    path: 'wanted',
    expected: 3.7,
    unit: '1',
    tolerance: 1e-12,
  },
  {
    id: 'T-02',
    source: '10 psi for each 1000 rpm; common practice, no source',
    text: engine('layout: single\nredline: 6500 rpm\noil.pressure: 60 psi'),
    path: 'oil.least-pressure',
    expected: 65,
    unit: 'psi',
    tolerance: 1e-9,
  },
  {
    id: 'pump',
    source: 'definition: 12 cc a turn, half crank speed, 80 %, 6000 rpm are 28.8 L/min',
    text: engine(
      'layout: single\nredline: 6000 rpm\noil-pump { per-turn: 12 cc/rev, drive: 0.5, efficiency: 80 % }',
      'derive wanted: Ratio = oil-pump.delivery / 1 L/min',
    ),
    path: 'wanted',
    expected: 28.8,
    unit: '1',
    tolerance: 1e-9,
  },
  {
    id: 'high shear',
    source: 'definition: what is left of the viscosity at 150 °C',
    text: engine(
      'layout: single\noil { at-40: 105 cSt, at-100: 14.5 cSt, density-15: 868 kg/m^3, high-shear: 4 mPa*s }',
      'derive wanted: Ratio = (1 - oil.shear-loss) * oil.viscosity-at-150 / 1 mPa*s',
    ),
    path: 'wanted',
    expected: 4,
    unit: '1',
    tolerance: 1e-9,
  },
  {
    id: 'groove flow',
    source:
      'Shigley, eq. 12-22 (from memory), computed again here: 0.3 MPa, ø50, 0.06 mm, ε 0.5, 10 mPa·s, lands 10 mm',
    text: computed('Ratio', 'groove-flow(0.3 MPa, 50 mm, 0.06 mm, 0.5, 10 mPa*s, 10 mm) / 1 L/min'),
    path: 'wanted',
    expected: ((Math.PI * 0.3e6 * 0.025 * 0.00003 ** 3 * (1 + 1.5 * 0.25)) / (3 * 0.01 * 0.01)) * 60000,
    unit: '1',
    tolerance: 1e-12,
  },
];

function loglog(viscosity: number): number {
  return Math.log10(Math.log10(viscosity + 0.7));
}
function slope(at40: number, at100: number): number {
  return (loglog(at40) - loglog(at100)) / (Math.log10(373.15) - Math.log10(313.15));
}
