/** Air: standard atmosphere, moisture, correction of power. */
import { computed, engine, type Row } from './row.ts';

const atmosphere = 'US Standard Atmosphere 1976';
/** Geometric height in m, pressure in Pa, density in kg/m³. */
const tables: readonly (readonly [height: number, pressure: number, density: number])[] = [
  [1000, 89876, 1.1117],
  [2000, 79501, 1.0066],
  [3000, 70121, 0.90925],
  [5000, 54048, 0.73643],
];
const tableRows = tables.flatMap(([height, pressure, density]): Row[] => [
  {
    id: `A-01 pressure at ${height} m`,
    source: `${atmosphere}, tables; at 2000 and 5000 m partly from memory`,
    text: computed('Pressure', `standard-pressure(geopotential(${height} m))`),
    path: 'wanted',
    expected: pressure,
    unit: 'Pa',
    tolerance: 1.5,
  },
  {
    id: `A-01 density at ${height} m`,
    source: `${atmosphere}, tables; at 2000 and 5000 m partly from memory`,
    text: computed(
      'Density',
      `dry-air-density(standard-pressure(geopotential(${height} m)), standard-temperature(geopotential(${height} m)))`,
    ),
    path: 'wanted',
    expected: density,
    unit: 'kg/m3',
    tolerance: 6e-5,
  },
]);

const feet: readonly (readonly [height: number, pressure: number])[] = [
  [1000, 97716.57],
  [2000, 94212.91],
  [3000, 90811.67],
  [5000, 84307.28],
  [10000, 69681.66],
];
const feetRows = feet.flatMap(([height, pressure]): Row[] => [
  {
    id: `A-02 at ${height} ft`,
    source: `${atmosphere}, closed form, geopotential height`,
    text: computed('Pressure', `standard-pressure(${height} ft)`),
    path: 'wanted',
    expected: pressure,
    unit: 'Pa',
    tolerance: 0.01,
  },
  {
    id: `A-02 at ${height} ft, from a report brought to sea level`,
    source: `${atmosphere}, closed form: a report of 1 atm is the standard's own pressure`,
    text: engine(`layout: single\naltitude: ${height} ft\nsea-level-pressure: 1 atm`),
    path: 'barometer',
    expected: pressure,
    unit: 'Pa',
    tolerance: 0.01,
  },
]);

/** Dry pressure in kPa, temperature in °C. */
const corrections: readonly (readonly [pressure: number, temperature: number, factor: number])[] = [
  [99, 25, 1],
  [95, 35, 1.070146],
  [97.5, 15, 0.997879],
  [101.325, 20, 0.963211],
  [84.3, 30, 1.217342],
];
const correctionRows = corrections.map(([pressure, temperature, factor]): Row => ({
  id: `A-06 at ${pressure} kPa and ${temperature} degC`,
  source: 'SAE J1349, June 1990, as quoted: 1.18 × 990 / dry mbar × √((t + 273) / 298) − 0.18',
  text: engine(`layout: single\nbarometer: ${pressure} kPa\nair-temperature: ${temperature} degC\nhumidity: 0 %`),
  path: 'power-correction',
  expected: factor,
  unit: '1',
  tolerance: 1e-6,
}));

const psychrolib = 'psychrolib 1.1.1 (ASHRAE Handbook of Fundamentals 2017)';
const vapour: readonly (readonly [temperature: number, pressure: number])[] = [
  [10, 1227.9952754407796],
  [20, 2338.8037000739814],
  [25, 3169.2164701436277],
  [35, 5627.819446540259],
  [60, 19943.760621620728],
];
const vapourRows = vapour.map(([temperature, pressure]): Row => ({
  id: `vapour that air can hold at ${temperature} degC`,
  source: psychrolib,
  text: computed('Pressure', `saturation-pressure(${temperature} degC)`),
  path: 'wanted',
  expected: pressure,
  unit: 'Pa',
  tolerance: 1e-6,
}));

export const airRows: readonly Row[] = [
  ...tableRows,
  ...feetRows,
  {
    id: 'A-01 temperature at 3000 m',
    source: `${atmosphere}: 268.659198 K`,
    text: computed('Temperature', 'standard-temperature(geopotential(3000 m))'),
    path: 'wanted',
    expected: 268.659198,
    unit: 'K',
    tolerance: 1e-6,
  },
  {
    id: 'AIR-01',
    source: `${atmosphere}, 5000 ft geopotential`,
    text: engine('layout: single\naltitude: 5000 ft'),
    path: 'barometer',
    expected: 84307.28,
    unit: 'Pa',
    tolerance: 0.01,
  },
  ...correctionRows,
  ...vapourRows,
  {
    id: 'moist air: 30 degC, 60 %, 98 kPa',
    // its gas constant is 287.042, that of the standard atmosphere 287.0529: 4 in 100 000 apart
    source: psychrolib,
    text: computed('Density', 'moist-air-density(98 kPa, 0.6 * saturation-pressure(30 degC), 30 degC)'),
    path: 'wanted',
    expected: 1.1151511187205227,
    unit: 'kg/m3',
    tolerance: 6e-5,
  },
  {
    id: 'density altitude of the standard air itself',
    source: `${atmosphere}: at its own temperature air is as thin as its height says`,
    text: engine('layout: single\naltitude: 2000 m\nair-temperature: 2.0 degC\nhumidity: 0 %'),
    path: 'density-altitude',
    expected: 2000,
    unit: 'm',
    tolerance: 1e-3,
  },
];
