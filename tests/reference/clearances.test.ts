/** Valves to pistons against a walk round the edge of the head, derivatives of the card's model against symbolic ones, readings too coarse for an acceleration. */
import { derivative } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { computed, engine, unit } from './rows/row.ts';
import { run } from './run.ts';

/** Even over 0 to 1, the same in every run. */
function even(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
type Vector = readonly [number, number, number];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const times = (a: Vector, by: number): Vector => [a[0] * by, a[1] * by, a[2] * by];
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const along = (a: Vector): Vector => times(a, 1 / Math.hypot(...a));
const leaning = (angle: number, cant: number): Vector =>
  along([Math.tan(angle * unit.deg), Math.tan(cant * unit.deg), 1]);

interface Geometry {
  readonly gap: number;
  readonly head: number;
  readonly drop: number;
  readonly lift: number;
  readonly valve: number;
  readonly cant: number;
  readonly floor: number;
  readonly floorCant: number;
}

/** Least over 720 points of the edge, then between the best one and its neighbours. */
function roundTheEdge(g: Geometry): number {
  const [stem, normal] = [leaning(g.valve, g.cant), leaning(g.floor, g.floorCant)];
  const side = along(cross(stem, Math.abs(stem[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1]));
  const other = cross(stem, side);
  // the middle of the face stands `gap + drop` above the floor, measured along the bore, and comes down its stem by the lift
  const middle = plus([0, 0, g.gap + g.drop], times(stem, -g.lift));
  const at = (turn: number): number =>
    dot(
      plus(middle, plus(times(side, (g.head / 2) * Math.cos(turn)), times(other, (g.head / 2) * Math.sin(turn)))),
      normal,
    );
  let best = 0;
  for (let step = 1; step < 720; step++) if (at((step * Math.PI) / 360) < at((best * Math.PI) / 360)) best = step;
  let [low, high] = [((best - 1) * Math.PI) / 360, ((best + 1) * Math.PI) / 360];
  for (let turn = 0; turn < 80; turn++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (at(a) < at(b)) high = b;
    else low = a;
  }
  return at((low + high) / 2);
}

describe('valve to piston', () => {
  test('is what a walk round the edge of the head finds, in 1,000 geometries', () => {
    const next = even(6);
    const between = (low: number, high: number): number => low + (high - low) * next();
    const geometries = Array.from({ length: 1000 }, (): Geometry => {
      const [valve, cant] = [between(-30, 30), between(-10, 10)];
      return {
        gap: between(0.2, 0.8),
        head: between(0.8, 2.3),
        drop: between(0, 0.3),
        lift: between(0, 0.4),
        valve,
        cant,
        floor: between(-30, 30),
        floorCant: between(-10, 10),
      };
    });
    const list = (of: (g: Geometry) => number): string => geometries.map((g) => of(g)).join(', ');
    const text = engine(
      'layout: single',
      `axis case = 1..1000
extend Engine {
  gap: Length per case, head-size: Length per case, drop-there: Length per case, lift-there: Length per case
  valve-lean: Angle per case, cant-lean: Angle per case, floor-lean: Angle per case, floor-cant-lean: Angle per case
}
derive wanted: Length per case = room-when-open(room-when-closed(gap, head-size, valve-lean, cant-lean, floor-lean, floor-cant-lean), drop-there, lift-there, valve-lean, cant-lean, floor-lean, floor-cant-lean)`,
    ).replace(
      'layout: single',
      `layout: single
gap: [${list((g) => g.gap)}] in
head-size: [${list((g) => g.head)}] in
drop-there: [${list((g) => g.drop)}] in
lift-there: [${list((g) => g.lift)}] in
valve-lean: [${list((g) => g.valve)}] deg
cant-lean: [${list((g) => g.cant)}] deg
floor-lean: [${list((g) => g.floor)}] deg
floor-cant-lean: [${list((g) => g.floorCant)}] deg`,
    );
    const ran = run(text);
    expect(ran.slips).toEqual([]);
    const figures = ran.build('row').figures('wanted');
    expect(figures).toHaveLength(1000);
    figures.forEach((figure, at) =>
      expect(Math.abs(figure / unit.in - roundTheEdge(geometries[at]!)), `${at}`).toBeLessThan(1e-9),
    );
  });
});

describe('the model of a card', () => {
  test.each([10, 40, 95, 150])('its slope %s° before the nose is the symbolic one', (angle) => {
    const symbolic = derivative('0.362 * (1 - (x / 165.4)^2.2785)^2.9344', 'x').evaluate({ x: angle }) as number;
    const ran = run(computed('Length/Angle', `slope-by-model(-${angle} deg, 0.362 in, 165.4 deg, 2.2785, 2.9344)`));
    expect(ran.slips).toEqual([]);
    expect((ran.build('row').figures('wanted')[0]! / unit.in) * unit.deg).toBeCloseTo(-symbolic, 12);
  });
});

describe('smoothing of a curve', () => {
  test('takes a parabola as it is, its slope and its bend, at uneven steps and at the ends', () => {
    const of = (order: number, at: number, type: string): number => {
      const ran = run(
        engine(
          'layout: single\nbowl: [0: 1, 1: 3, 3: 13, 4: 21, 7: 57] mm -> mm',
          `extend Engine { bowl: Length against Length }
derive made: ${type} against Length = smoothed(bowl, 3, ${order})
derive wanted: ${type} = made(${at} mm)`,
        ),
      );
      expect(ran.slips).toEqual([]);
      return ran.build('row').figures('wanted')[0]!;
    };
    // y = x² + x + 1
    expect(of(0, 4, 'Length') / unit.mm).toBeCloseTo(21, 9);
    expect(of(1, 7, 'Ratio')).toBeCloseTo(15, 9);
    expect(of(2, 1, 'Ratio/Length') * unit.mm).toBeCloseTo(2, 9);
  });
});

test('a curve is made again from the keys and figures of another, as many points as that one has', () => {
  const ran = run(
    engine(
      'layout: single\nbowl: [0: 1, 1: 3, 3: 13, 4: 21, 7: 57] mm -> mm',
      `extend Engine { bowl: Length against Length }
derive made: Length against Length = curve(place + 1 mm, 2 * values(bowl) over key) where { place = keys(bowl) }
derive wanted: Length = made(8 mm) + made(2.5 mm)`,
    ),
  );
  expect(ran.slips).toEqual([]);
  // doubled and moved by 1 mm; 1.5 lies a quarter of the way from 1 to 3 by the cubic that meets both
  const [wanted] = ran.build('row').figures('wanted');
  expect(wanted! / unit.mm).toBeGreaterThan(114 + 2 * 3);
  expect(wanted! / unit.mm).toBeLessThan(114 + 2 * 13);
  const made = ran.build('row').outcome.slots.find(({ slot }) => slot.path === 'made')?.views.measured;
  const values = made?.is === 'curves' ? [...(made.curves[0]?.values ?? [])] : [];
  expect(values.map((value) => Number((value / unit.mm).toFixed(9)))).toEqual([2, 6, 26, 42, 114]);
});

describe('readings of a lobe', () => {
  const lobe = (resolution: string): string => {
    const points = Array.from({ length: 61 }, (_, at) => {
      const angle = 2 * at - 60;
      return `${angle}: ${(0.362 * (1 - (Math.abs(angle) / 165.386631) ** 2.27850661) ** 2.93441886).toFixed(6)}`;
    });
    return engine(
      `layout: single\nintake.lobe { readings: [${points.join(', ')}] deg -> in, indicator-resolution: ${resolution} in, smoothing-neighbours: 1 }`,
    );
  };
  test('a resolution of 0.0006 in at 2° gives no acceleration, and the indicator that would do is named', () => {
    const ran = run(lobe('0.0006'));
    expect(ran.slips).toEqual([]);
    const coarse = ran.build('row');
    expect(coarse.figures('intake.lobe.nose-bend')).toEqual([NaN]);
    const due = coarse.figures('intake.lobe.indicator-that-would-do')[0]! / unit.in;
    expect(due).toBeLessThan(0.0006);
    const fine = run(lobe((due * 0.99).toFixed(9))).build('row');
    expect(fine.figures('intake.lobe.nose-bend')[0]).toBeGreaterThan(0);
    expect(
      run(lobe((due * 1.01).toFixed(9)))
        .build('row')
        .figures('intake.lobe.nose-bend'),
    ).toEqual([NaN]);
  });
});
