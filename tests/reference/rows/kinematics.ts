/** Slider-crank: textbook examples, closed forms, limits. */
import { computed, engine, type Row } from './row.ts';

const k14 = 'stroke, closed form; derivatives confirmed by central differences and symbolic derivation';
const table: readonly (readonly [angle: number, drop: number, speed: number, gees: number])[] = [
  [0, 0, 0, 2896.01],
  [15, 0.096139, 38.0895, 2732.49],
  [30, 0.37372, 71.8936, 2264.11],
  [45, 0.801722, 97.7262, 1558.26],
  [60, 1.333458, 113.1032, 725.93],
  [75, 1.913929, 117.25, -93.1],
  [90, 2.488987, 111.2647, -766.87],
  [120, 3.458458, 79.613, -1446.93],
  [150, 4.054328, 39.3711, -1499.4],
  [180, 4.25, 0, -1449.71],
];
const crank = '4.25 in, 6.385 in, 0 in';

const k14Rows: readonly Row[] = table.flatMap(([angle, drop, speed, gees]): Row[] => [
  { id: `K-14 drop at ${angle}`, source: k14, text: computed('Length', `piston-drop-at(${angle} deg, ${crank})`), path: 'wanted', expected: drop, unit: 'in', tolerance: 6e-7 },
  { id: `K-14 speed at ${angle}`, source: k14, text: computed('Speed', `piston-rate-at(${angle} deg, ${crank}) * 6000 rpm`), path: 'wanted', expected: speed, unit: 'ft/s', tolerance: 6e-5 },
  { id: `K-14 acceleration at ${angle}`, source: k14, text: computed('Acceleration', `piston-bend-at(${angle} deg, ${crank}) * (6000 rpm) ^ 2`), path: 'wanted', expected: gees, unit: 'gee', tolerance: 6e-3 },
]);

const single = (members: string): string => engine(`layout: single\nblock.bore: 4 in\npiston.pin.offset: 0 in\n${members}`);
const k15 = single('crank.stroke: 4.25 in\nrod.length: 6.385 in\nredline: 6000 rpm');
const k07 = engine('layout: single\ncrank.stroke: 0.6 m\nrod.length: 1 m\nredline: 200 rpm', 'derive wanted-at: Angle per cylinder = most-at(piston-speed over crank-angle)');
const pulkrabek = engine('layout: vee-6-60\nblock.bore: 8.602540 cm\ncrank.stroke: 8.602540 cm\nrod.length: 16.6 cm\nredline: 3600 rpm\ncompression-target: 9.5');

export const kinematicRows: readonly Row[] = [
  { id: 'K-01 displacement', source: 'Pulkrabek, ex. 2-1', text: pulkrabek, path: 'displacement', expected: 3, unit: 'L', tolerance: 1e-6 },
  { id: 'K-01 mean speed', source: 'Pulkrabek, ex. 2-1', text: pulkrabek, path: 'mean-piston-speed', expected: 10.323048, unit: 'm/s', tolerance: 1e-6 },
  { id: 'K-01 clearance volume', source: 'Pulkrabek, ex. 2-1', text: pulkrabek, path: 'clearance-for-target', expected: [58.823529, 58.823529, 58.823529, 58.823529, 58.823529, 58.823529], unit: 'cc', tolerance: 2e-5 },
  { id: 'K-02 drop', source: 'Pulkrabek, ex. 2-1, closed form', text: computed('Length', 'piston-drop-at(20 deg, 8.6 cm, 16.6 cm, 0 cm)'), path: 'wanted', expected: 0.324598, unit: 'cm', tolerance: 1e-6 },
  { id: 'K-02 speed', source: 'Pulkrabek, ex. 2-1, closed form', text: computed('Speed', 'piston-rate-at(20 deg, 8.6 cm, 16.6 cm, 0 cm) * 3600 rpm'), path: 'wanted', expected: 6.899262, unit: 'm/s', tolerance: 1e-6 },
  { id: 'K-02 speed by mean', source: 'Pulkrabek, ex. 2-1, closed form', text: computed('Ratio', 'piston-rate-at(20 deg, 8.6 cm, 16.6 cm, 0 cm) * 3600 rpm / (2 * 8.6 cm * (3600 rpm / 1 rev))'), path: 'wanted', expected: 0.66853, unit: '1', tolerance: 1e-5 },
  { id: 'K-02 volume', source: 'Pulkrabek, ex. 2-1, closed form', text: computed('Volume', '58.8 cc + pi / 4 * (8.6 cm) ^ 2 * piston-drop-at(20 deg, 8.6 cm, 16.6 cm, 0 cm)'), path: 'wanted', expected: 77.655, unit: 'cc', tolerance: 1e-3 },
  { id: 'K-05 speed', source: 'Beer & Johnston, Dynamics, sample problem 15.3', text: computed('Speed', 'piston-rate-at(40 deg, 6 in, 8 in, 0 in) * 2000 rpm'), path: 'wanted', expected: 43.61835, unit: 'ft/s', tolerance: 1e-5 },
  { id: 'K-06 acceleration', source: 'Beer & Johnston, ch. 15: the book rounds the speed of the crank and prints 9290; exact 9289.80 with 209.4 rad/s', text: computed('Acceleration', 'piston-bend-at(40 deg, 6 in, 8 in, 0 in) * (2000 rpm) ^ 2'), path: 'wanted', expected: 9289.8, unit: 'ft/s2', tolerance: 5 },
  { id: 'K-07 greatest speed', source: 'Khurmi & Gupta, ex. 15.3, exact', text: k07, path: 'greatest-piston-speed', expected: [6.561732], unit: 'm/s', tolerance: 1e-6 },
  { id: 'K-07 its angle', source: 'Khurmi & Gupta, ex. 15.3, exact; the axis finds the first of two in the cycle', text: k07, path: 'wanted-at', expected: [74.52893 - 360], unit: 'deg', tolerance: 1e-4 },
  { id: 'K-08 speed', source: 'Khurmi & Gupta, ex. 15.4, exact', text: computed('Speed', 'piston-rate-at(40 deg, 0.6 m, 1.5 m, 0 m) * 180 rpm'), path: 'wanted', expected: 4.196434, unit: 'm/s', tolerance: 1e-6 },
  { id: 'K-08 acceleration', source: 'Khurmi & Gupta, ex. 15.4, exact', text: computed('Acceleration', 'piston-bend-at(40 deg, 0.6 m, 1.5 m, 0 m) * (180 rpm) ^ 2'), path: 'wanted', expected: 85.598856, unit: 'm/s2', tolerance: 1e-6 },
  { id: 'K-08 no acceleration', source: 'Khurmi & Gupta, ex. 15.4, exact', text: computed('Acceleration', 'piston-bend-at(79.100135 deg, 0.6 m, 1.5 m, 0 m) * (180 rpm) ^ 2'), path: 'wanted', expected: 0, unit: 'm/s2', tolerance: 1e-5 },
  ...k14Rows,
  { id: 'K-15 greatest speed', source: 'bounded minimiser of an independent library', text: k15, path: 'greatest-piston-speed', expected: [117.3253], unit: 'ft/s', tolerance: 6e-5 },
  { id: 'K-15 mean speed', source: 'definition: 4250 ft/min', text: k15, path: 'mean-piston-speed', expected: 4250 / 60, unit: 'ft/s', tolerance: 1e-9 },
  { id: 'DK-02 true stroke', source: 'closed form', text: computed('Length', 'travel(4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: 4.00022502, unit: 'in', tolerance: 1e-8 },
  { id: 'DK-02 angle at the top', source: 'closed form', text: computed('Angle', 'top-angle(4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: 0.42972238, unit: 'deg', tolerance: 1e-8 },
  { id: 'DK-02 angle at the bottom', source: 'closed form', text: computed('Angle', 'bottom-angle(4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: 180.859469, unit: 'deg', tolerance: 1e-6 },
  { id: 'DK-02 height lost', source: 'closed form', text: computed('Length', '8 in - pin-height-at-top(4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: 0.000225, unit: 'in', tolerance: 1e-8 },
  { id: 'DK-03 reading before', source: 'law of cosines', text: computed('Angle', 'crank-angle-up(0.500 in, 4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: -35.607645, unit: 'deg', tolerance: 1e-5 },
  { id: 'DK-03 reading after', source: 'law of cosines', text: computed('Angle', 'crank-angle-down(0.500 in, 4.000 in, 6 in, 0.06 in)'), path: 'wanted', expected: 36.524386, unit: 'deg', tolerance: 1e-5 },
  { id: 'DK-05 half a turn', source: 'closed form', text: computed('Length', 'piston-drop-at(180 deg, 4.125 in, 6.2 in, 0 in)'), path: 'wanted', expected: 4.125, unit: 'in', tolerance: 1e-14 },
  { id: 'DK-06 angle of a drop', source: 'law of cosines', text: computed('Angle', 'crank-angle-down(1.000 in, 4.000 in, 6.125 in, 0 in)'), path: 'wanted', expected: 52.7522191, unit: 'deg', tolerance: 1e-7 },
  { id: 'LD-01 acceleration', source: 'exact at top dead centre without offset', text: computed('Acceleration', 'piston-bend-at(0 deg, 0.1016 m, 0.155575 m, 0 m) * (7000 rpm) ^ 2'), path: 'wanted', expected: 36210.48, unit: 'm/s2', tolerance: 5e-3 },
  { id: 'LD-01 force', source: 'mass by acceleration', text: computed('Force', '0.860 kg * piston-bend-at(0 deg, 0.1016 m, 0.155575 m, 0 m) * (7000 rpm) ^ 2'), path: 'wanted', expected: 31141.01, unit: 'N', tolerance: 5e-3 },
  { id: 'LD-05 port opens', source: 'law of cosines', text: computed('Angle', 'crank-angle-down(30.0 mm, 54 mm, 110 mm, 0 mm)'), path: 'wanted', expected: 89.226513, unit: 'deg', tolerance: 1e-5 },
  { id: 'LD-05 port is open for', source: 'law of cosines', text: computed('Angle', '1 rev - 2 * crank-angle-down(30.0 mm, 54 mm, 110 mm, 0 mm)'), path: 'wanted', expected: 181.54697, unit: 'deg', tolerance: 1e-5 },
];
