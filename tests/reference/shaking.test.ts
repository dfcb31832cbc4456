/** Balance: rules, bobweights, correction read again, and the shaking of random layouts against direct summation. */
import { describe, expect, test } from 'vitest';
import { engine, unit } from './rows/row.ts';
import { testRules, type Case } from './rule-cases.ts';
import { run } from './run.ts';

const running = 'redline: 3000 rpm\ncrank.mass: 25 kg\nbalance-grade: 6.3 mm/s\n';
const read = (front: number, rear: number, more = ''): string =>
  `layout: single\n${running}balancing { reading: [front-plane: ${front}, rear-plane: ${rear}] g*mm, reading-angle: [front-plane: 0, rear-plane: 90] deg, read-places: [front-plane: 0, rear-plane: 400] mm${more} }`;
const hung = (mass: string): string =>
  `layout: single\n${running}balance-factor: 50 %\noil-allowance: 6 g\ncrank.stroke: 100 mm
piston { mass: 438 g, pin { mass: 118 g, locks: 2 g } }\nring.mass: [top: 12, second: 10, oil: 16] g
rod { small-end: 171 g, big-end: 435 g, bearing: 47 g }\nbobweight-hung: ${mass}`;
const balance: readonly Case[] = [
  { rule: 'balancing.balanced', about: '251 of 250.7 g·mm in front', members: read(251, 100), out: ['[front-plane]'] },
  { rule: 'balancing.balanced', about: '200 and 250 of 250.7 g·mm', members: read(200, 250), out: [] },
  {
    rule: 'balancing.external-parts-on',
    about: 'the flywheel was left off',
    members: read(100, 100, ', external: yes, damper-on: yes, flywheel-on: no'),
    out: [''],
  },
  {
    rule: 'balancing.external-parts-on',
    about: 'both were on',
    members: read(100, 100, ', external: yes, damper-on: yes, flywheel-on: yes'),
    out: [],
  },
  { rule: 'balancing.external-parts-on', about: 'balanced in itself', members: read(100, 100), out: 'n/a' },
  {
    rule: 'flywheel.end-part-balanced',
    about: '200 of 160 g·mm',
    members: `layout: single\n${running}flywheel { mass: 8 kg, left: 200 g*mm }`,
    out: [''],
  },
  {
    rule: 'flywheel.end-part-balanced',
    about: '100 of 160 g·mm',
    members: `layout: single\n${running}flywheel { mass: 8 kg, left: 100 g*mm }`,
    out: [],
  },
  {
    rule: 'flywheel.end-part-balanced',
    about: 'it carries balance by intent',
    members: `layout: single\n${running}flywheel { mass: 8 kg, left: 200 g*mm, carries-balance: yes }`,
    out: 'n/a',
  },
  { rule: 'bobweights-right', about: '870 g is 1.5 g light, 75 g·mm', members: hung('870 g'), out: [] },
  { rule: 'bobweights-right', about: '850 g is 21.5 g light, 1075 g·mm', members: hung('850 g'), out: [''] },
];
testRules('rules of balance', balance);

describe('balance', () => {
  const needs = (layout: string): boolean =>
    run(engine(`layout: ${layout}`))
      .build('row')
      .figures('bobweights-needed')[0] === 1;
  test('fours, sixes and eights in line and flat sixes carry no bobweights; singles, threes, fives and vees do', () => {
    expect(['inline-4', 'inline-6', 'inline-8', 'flat-6'].map(needs)).toEqual([false, false, false, false]);
    expect(['single', 'inline-3', 'inline-5', 'vee-2-45', 'vee-8-cross'].map(needs)).toEqual([
      true,
      true,
      true,
      true,
      true,
    ]);
  });
  test('what was corrected and read again is nothing', () => {
    const random = mulberry(11);
    for (let run0 = 0; run0 < 10; run0 += 1) {
      const [first, second] = [300 * random(), 300 * random()];
      const angles = [360 * random(), 360 * random()];
      const places = [-40 + 80 * random(), 400 + 80 * random(), 20 + 80 * random(), 300 + 80 * random()];
      const machine = (
        reading: readonly number[],
        at: readonly number[],
        where: readonly number[],
        to: readonly number[],
      ) =>
        run(
          engine(
            `layout: single\nbalancing { reading: [front-plane: ${reading[0]}, rear-plane: ${reading[1]}] g*mm, reading-angle: [front-plane: ${at[0]}, rear-plane: ${at[1]}] deg, read-places: [front-plane: ${where[0]}, rear-plane: ${where[1]}] mm, correction-places: [front-plane: ${to[0]}, rear-plane: ${to[1]}] mm }`,
          ),
        ).build('row');
      const before = machine([first, second], angles, places.slice(0, 2), places.slice(2));
      const off = before.figures('balancing.correction').map((u) => u / unit['g*mm']);
      const where = before.figures('balancing.correction-angle').map((a) => a / unit.deg);
      // the holes, referred back to the planes that the machine reads in
      const back = machine(off, where, places.slice(2), places.slice(0, 2));
      const seen = back.figures('balancing.heavy').map((u) => u / unit['g*mm']);
      const due = [first, second].flatMap((u, i) => [
        u * Math.cos((angles[i]! * Math.PI) / 180),
        u * Math.sin((angles[i]! * Math.PI) / 180),
      ]);
      seen.forEach((one, i) => expect(one - due[i]!).toBeCloseTo(0, 9));
    }
  });
});

/** A small generator with a fixed seed. */
function mulberry(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

describe('shaking of any layout', () => {
  const random = mulberry(427);
  const between = (low: number, high: number): number => Math.round((low + (high - low) * random()) * 1000) / 1000;
  const list = (count: number, of: () => number): number[] => Array.from({ length: count }, of);
  const engines = list(10, () => 2 + Math.floor(random() * 7)).map((count) => ({
    count,
    pins: list(count, () => between(0, 360)),
    bores: list(count, () => between(-90, 90)),
    masses: list(count, () => between(0.3, 1.2)),
    places: list(count, () => between(0, 800)),
    strokes: list(count, () => between(60, 100)),
    rods: list(count, () => between(130, 180)),
  }));
  test.each(engines.map((one, i) => [i + 1, one] as const))(
    'engine %i equals direct summation over 3,600 angles',
    (_, of) => {
      const { count, pins, bores, masses, places, strokes, rods } = of;
      const numbers = Array.from({ length: count }, (__, i) => i + 1).join(', ');
      const ran = run(
        engine(
          `layout: odd\nredline: 6000 rpm\ncrank.stroke: [${strokes.join(', ')}] mm
rod { length: [${rods.join(', ')}] mm, small-end: 0 g }\npiston { mass: [${masses.join(', ')}] kg, pin { mass: 0 g, locks: 0 g } }
ring.mass: [top: 0, second: 0, oil: 0] g\nrod-place: [${places.join(', ')}] mm\ncouples-about: 300 mm`,
          `part odd: Layout { cylinders: ${count}, throws: ${count}, throw-angle: [${pins.join(', ')}] deg, bore-angle: [${bores.join(', ')}] deg, crankpin: [${numbers}], firing-order: [${numbers}] }`,
        ),
      );
      const result = ran.build('row');
      const coefficient = result.figures('order-at-top');
      const turnsWith = result.figures('turns-with');
      const turnsAgainst = result.figures('turns-against');
      const greatestForces = result.figures('shaking-force');
      const speed = (6000 * 2 * Math.PI) / 60;
      [1, 2, 4, 6].forEach((order, o) => {
        const seen = { most: 0, least: Infinity, couple: 0 };
        for (let step = 0; step < 3600; step += 1) {
          const turn = (step * Math.PI) / 1800;
          let [up, across, pitch, yaw] = [0, 0, 0, 0];
          for (let k = 0; k < count; k += 1) {
            const bore = (bores[k]! * Math.PI) / 180;
            const pull =
              masses[k]! *
              speed ** 2 *
              coefficient[k * 4 + o]! *
              Math.cos(order * (turn + (pins[k]! * Math.PI) / 180 - bore));
            const arm = (places[k]! - 300) / 1000;
            up += pull * Math.cos(bore);
            across += pull * Math.sin(bore);
            pitch += pull * Math.cos(bore) * arm;
            yaw += pull * Math.sin(bore) * arm;
          }
          // along the ellipse by its own formula: the sum must lie on it
          seen.most = Math.max(seen.most, Math.hypot(up, across));
          seen.least = Math.min(seen.least, Math.hypot(up, across));
          seen.couple = Math.max(seen.couple, Math.hypot(pitch, yaw));
          const [withUp, withAcross] = [0, 1].map((i) => turnsWith[o * 2 + i]!);
          const [againstUp, againstAcross] = [0, 1].map((i) => turnsAgainst[o * 2 + i]!);
          const [c, s] = [Math.cos(order * turn), Math.sin(order * turn)];
          const half = speed ** 2 / 2;
          const wholly = half * (withUp! * c - withAcross! * s + againstUp! * c + againstAcross! * s);
          const sideways = half * (withUp! * s + withAcross! * c - againstUp! * s + againstAcross! * c);
          const size = Math.max(1, greatestForces[o]!);
          if (Math.abs(wholly - up) > 1e-9 * size || Math.abs(sideways - across) > 1e-9 * size)
            throw new Error(
              `order ${order} at ${step / 10} degrees: ${wholly}, ${sideways} where ${up}, ${across} is due`,
            );
        }
        // between two of the 3,600 angles the direct sum misses at most the cosine of half a step times the order
        const slack = (order * Math.PI) / 3600;
        const greatest = greatestForces[o]!;
        expect(seen.most).toBeLessThanOrEqual(greatest * (1 + 1e-9));
        expect(seen.most).toBeGreaterThanOrEqual(greatest * (1 - slack ** 2));
        expect(seen.least).toBeGreaterThanOrEqual(result.figures('shaking-force-least')[o]! * (1 - 1e-9) - 1e-9);
        expect(seen.couple / result.figures('shaking-couple')[o]!).toBeCloseTo(1, 4);
      });
    },
  );
  test('the four orders together are the exact motion, to what the eighth order adds', () => {
    const result = run(engine('layout: single\ncrank.stroke: 2 m\nrod.length: 4 m\nredline: 3000 rpm')).build('row');
    const parts = result.figures('order-at-top');
    const bend = run(engine('layout: single', 'derive wanted: Length/Angle^2 = piston-bend-at(40 deg, 2 m, 4 m, 0 m)'))
      .build('row')
      .figures('wanted')[0]!;
    const sum = [1, 2, 4, 6].reduce((all, order, o) => all + parts[o]! * Math.cos((order * 40 * Math.PI) / 180), 0);
    expect(sum).toBeCloseTo(bend, 5);
  });
});
