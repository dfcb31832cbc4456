/** How a valve moves by the readings of its lobe: against a parabola worked by hand, the pictures of it, what is said where readings are too coarse. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Chart } from '../../shared/src/drawing/chart.ts';
import { drawnAlone, figuresIn } from '../../shared/src/drawing/drawing.ts';
import { drawingsOf } from '../../language/src/report/drawings/drawings.ts';
import type { DrawingPlan } from '../../language/src/report/drawings/plan.ts';
import { engine, unit } from './rows/row.ts';
import { run, type Result } from './run.ts';

const plans = JSON.parse(
  readFileSync(new URL('../../language/prelude/drawings.json', import.meta.url), 'utf8'),
) as readonly DrawingPlan[];

/** 10 mm at the nose, off by q² / 360 mm: the same bend everywhere, 2 / 360 mm for each degree squared. */
const parabola = Array.from({ length: 61 }, (_, at) => 2 * at - 60).map((q) => `${q}: ${10 - (q * q) / 360}`);
const springs = 'spring[outer] { rate: 40 N/mm, free-height: 50 mm, installed: 45 mm, solid: 32 mm, mass: 60 g }';
const moving = (resolution: string, more = ''): Result => {
  const ran = run(
    engine(`layout: single
    engine-class: motorcycle
    redline: 3000 rpm
    over-speed: 3300 rpm
    intake {
      lobe { lift: 10 mm, readings: [${parabola.join(', ')}] deg -> mm, indicator-resolution: ${resolution} }
      lash: 0.1 mm, valve.mass: 60 g, retainer.mass: 12 g, lock.mass: 3 g, ${springs}
      ${more}
    }`),
  );
  expect(ran.slips.filter((slip) => !slip.startsWith('finding'))).toEqual([]);
  return ran.build('row');
};
const chartOf = (result: Result, name: string): Chart => {
  const found = drawingsOf(result.outcome, plans).find((drawing) => drawing.name === name)?.drawing;
  if (found?.kind !== 'lines') throw new Error(`no drawing ${name}`);
  // whoever does not see it has title, description and table
  expect(drawnAlone(found)).toMatch(/<title>.+<\/title>\n<desc>.+<\/desc>/);
  expect(figuresIn(found).rows.length).toBeGreaterThan(0);
  return found.shows;
};

describe('the speed that bounds a rigid train, over the whole lift', () => {
  const fine = moving('0.0001 mm');
  // 95 g with a third of 60 g; 2 / 360 mm for each degree squared
  const mass = 0.06 + 0.012 + 0.003 + 0.06 / 3;
  const bend = (0.002 / 360) * (180 / Math.PI) ** 2;
  const rpm = (load: number): number => (Math.sqrt(load / (mass * bend)) * 60) / (2 * Math.PI);

  test('is least where the springs press least while the lobe turns the valve round: at the foot, not at the nose', () => {
    // the first reading with the lash taken up is 58° before the nose: 10 − 58² / 360 = 0.656 mm, less 0.1 mm of lash
    const load = 40e3 * (0.005 + 0.000655555555 - 0.0001);
    expect(fine.figures('intake.rigid-train-upper-bound-over-lift')[0]! / unit.rpm).toBeCloseTo(rpm(load), 4);
    expect(fine.figures('intake.rigid-train-bound-from-nose')[0]! / unit.deg).toBeCloseTo(-58, 9);
  });
  test('while the bound at the nose, with the springs at their highest load, is the greater', () => {
    expect(fine.figures('intake.rigid-train-upper-bound')[0]! / unit.rpm).toBeCloseTo(rpm(40e3 * 0.0149), 4);
  });
  test('is judged against the over-speed, and says what it is', () => {
    const rule = fine.check('intake.rigid-train-speed-over-lift');
    expect(rule.state).toBe('holds-on-paper');
    expect(rule.because).toContain('upper bound, rigid train');
    expect(moving('0.0001 mm', 'follower.mass: 60 g').check('intake.rigid-train-speed-over-lift').state).toBe(
      'out-of-limits',
    );
  });
  test('cannot be told from readings that are too coarse', () => {
    const coarse = moving('0.05 mm');
    expect(coarse.figures('intake.rigid-train-upper-bound-over-lift')).toEqual([NaN]);
    expect(coarse.check('intake.rigid-train-speed-over-lift').state).toBe('cannot-tell');
  });
});

describe('pictures of it', () => {
  test('velocity and acceleration carry the band of their noise: twice the standard uncertainty of a fit over five readings', () => {
    const fine = moving('0.001 mm');
    const noise = 0.001 / Math.sqrt(12);
    const acceleration = chartOf(fine, 'intake-acceleration');
    // √10 less two fits: Σ (k² − 2)² over −2..2 is 14, and twice the second coefficient is the bend
    const bendNoise = ((2 * noise) / (4 * Math.sqrt(14))) * 2;
    expect(acceleration.lines[0]!.figures[30]! * 25.4).toBeCloseTo(-2 / 360, 9);
    expect(acceleration.lines[0]!.unsure![30]! * 25.4).toBeCloseTo(bendNoise, 12);
    expect(acceleration.across.unit).toBe('deg');
    expect(fine.figures('intake.lobe.bend-noise-twice')[0]! * (unit.deg ** 2 / unit.mm)).toBeCloseTo(bendNoise, 12);
    const velocity = chartOf(fine, 'intake-velocity');
    expect(velocity.lines[0]!.figures[20]! * 25.4).toBeCloseTo((2 * 20) / 360, 9);
    expect(velocity.lines[0]!.unsure![20]! * 25.4).toBeCloseTo((2 * noise) / (2 * Math.sqrt(10)), 12);
  });
  test('too coarse for an acceleration: nothing is drawn, and the indicator that would do is named', () => {
    const coarse = moving('0.05 mm');
    const { note, lines } = chartOf(coarse, 'intake-acceleration');
    const due = coarse.figures('intake.lobe.indicator-that-would-do')[0]! / unit.mm;
    expect(lines).toEqual([]);
    expect(due).toBeGreaterThan(0);
    expect(due).toBeLessThan(0.05);
    expect(note).toMatch(/^Cannot tell: the readings are too coarse for an acceleration\. .* is 0\.0\d+ (in|mm)\.$/);
  });
  test('an indicator for a velocity: 10 % of the greatest slope is twice the noise of a fit over five readings', () => {
    const fine = moving('0.001 mm');
    expect(fine.figures('intake.lobe.slope-noise-twice')[0]! * (unit.deg / unit.mm)).toBeCloseTo(
      0.002 / Math.sqrt(12) / (2 * Math.sqrt(10)),
      12,
    );
    // the greatest slope is that at the ends: 120 / 360
    const due = (((Math.sqrt(12) * 0.1 * 120) / 360) * (2 * Math.sqrt(10))) / 2;
    expect(fine.figures('intake.lobe.indicator-for-velocity')[0]! / unit.mm).toBeCloseTo(due, 9);
    expect(fine.figures('intake.lobe.indicator-if-too-coarse')).toEqual([NaN]);
  });
  test('a lobe that was not read has neither picture nor word', () => {
    const names = drawingsOf(run(engine('layout: single')).build('row').outcome, plans).map(({ name }) => name);
    expect(names.filter((name) => /velocity|intake-acceleration|rigid/.test(name))).toEqual([]);
  });
  test('springs against a rigid train: load over the lift, force at the over-speed', () => {
    const { title, description, lines } = chartOf(moving('0.0001 mm'), 'intake-rigid-train');
    expect(`${title} ${description}`).toMatch(/Upper bound, rigid train/);
    expect(lines.map(({ name }) => name)).toEqual(['springs', 'rigid train at over-speed']);
    const omega = (3300 * 2 * Math.PI) / 60;
    const force = 0.095 * (0.002 / 360) * (180 / Math.PI) ** 2 * omega ** 2;
    const at = chartOf(moving('0.0001 mm'), 'intake-rigid-train').up.unit === 'N' ? 1 : unit.lbf;
    expect(lines[0]!.figures[30]! * at).toBeCloseTo(40e3 * 0.0149, 6);
    expect(lines[1]!.figures[30]! * at).toBeCloseTo(force, 6);
    const names = drawingsOf(moving('0.0001 mm').outcome, plans).find(({ name }) => name === 'intake-rigid-train');
    expect(names?.address).toBe('intake.load-at-readings');
    expect(moving('0.05 mm').states('intake.rigid-train-force-at-readings')).toEqual(['missing']);
  });
  test.each(['intake', 'exhaust'])('load of the %s springs over their height, with seat, open and solid', (side) => {
    const result = run(
      engine(`layout: single
        ${side} { lobe.lift: 0.5 in, installed-height: 1.9 in
          spring[outer] { rate: 300 lbf/in, free-height: 2.2 in, solid: 1.2 in }
          spring[inner] { rate: 100 lbf/in, free-height: 2.1 in, seat-step: 0.05 in, solid: 1.25 in }
          third-spring { loads: [1.30: 60, 1.90: 20] in -> lbf, solid: 1.0 in } }`),
    ).build('row');
    const inches = (name: string): readonly number[] => result.figures(`${side}.${name}`).map((si) => si / unit.in);
    expect(
      [...inches('nest-height'), ...inches('nest-height-open'), ...inches('nest-height-solid')].map((one) =>
        Number(one.toFixed(9)),
      ),
    ).toEqual([1.9, 1.4, 1.3]);
    expect(inches('nest-heights')).toHaveLength(25);
    expect(result.states(`${side}.nest-loads`)).toEqual(['specified']);
    expect(inches('third-spring.lowest-known')[0]).toBeCloseTo(1.3, 9);
    // 60 lbf at 1.30 in, 20 at 1.90
    expect(result.figures(`${side}.third-spring.load-in-nest`)[0]! / unit.lbf).toBeCloseTo(60, 9);
    const { at, lines, marks, across } = chartOf(result, `spring-${side}`);
    expect(across).toMatchObject({ name: 'height of the nest', unit: 'in' });
    // the inner one is solid at 1.25 in, where the nest stands at 1.30
    expect(marks.map(({ name, at: place }) => [name, Number(place.toFixed(9))])).toEqual([
      ['seat', 1.9],
      ['open', 1.4],
      ['solid', 1.3],
    ]);
    expect([at[0], at.at(-1)].map((one) => Number(one!.toFixed(9)))).toEqual([1.3, 1.9]);
    // 300 × 0.3 + 100 × 0.25 + 20, and 300 × 0.9 + 100 × 0.85 + 60
    expect(lines[0]!.figures.at(-1)).toBeCloseTo(135, 9);
    expect(lines[0]!.figures[0]).toBeCloseTo(415, 9);
  });
  test('valve to piston: of each side the cylinder that comes nearest, with the limits of both and the least of each', () => {
    const side = (
      pocket: string,
    ): string => `{ lobe { lift: 0.362 in, centreline: 108 deg, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }
      rocker-ratio: 1.6, valve { head: 1.9 in, angle: 15 deg }, closed-depth: 0.145 in, pocket-depth: ${pocket} }`;
    const result = run(
      engine(`layout: inline-2
        engine-class: car
        block { bore: 4 in, deck-height: 9.240 in }
        crank.stroke: 4 in
        rod.length: 6.125 in
        piston.compression-height: 1.110 in
        head-gasket.thickness: 0.039 in
        intake ${side('[0.065, 0.090] in')}
        exhaust ${side('[0.085, 0.095] in')}`),
    ).build('row');
    const { lines, levels, points, at } = chartOf(result, 'valve-to-piston');
    expect(lines.map(({ name }) => name)).toEqual(['intake cylinder 1', 'exhaust cylinder 1']);
    expect(levels?.map((level) => [level.name, Number(level.at.toFixed(9))])).toEqual([
      ['limit of the intake', 0.08],
      ['limit of the exhaust', 0.1],
    ]);
    expect([at[0], at.at(-1)].map((one) => Number(one!.toFixed(9)))).toEqual([-30, 30]);
    const least = ['intake', 'exhaust'].map((one) => result.figures(`${one}.valve-to-piston`)[0]! / unit.in);
    points?.forEach(({ figure }, place) => {
      expect(figure).toBeGreaterThanOrEqual(least[place]! - 1e-9);
      expect(figure).toBeLessThan(least[place]! + 0.001);
    });
    expect(points).toHaveLength(2);
  });
  test('flow against lift', () => {
    const result = run(engine('layout: single\nexhaust.flow: [0.1: 60, 0.5: 250] in -> cfm')).build('row');
    const { at, lines, across, up } = chartOf(result, 'flow-exhaust');
    expect([at.map((one) => Number(one.toFixed(9))), across.name, across.unit, up.unit]).toEqual([
      [0.1, 0.5],
      'lift of the valve',
      'in',
      'cfm',
    ]);
    expect(lines[0]!.figures.map((one) => Number(one!.toFixed(6)))).toEqual([60, 250]);
  });
});

describe('the lift-mean coefficient', () => {
  const table = (last: string): string => `layout: single
    redline: 6000 rpm
    intake { lobe { lift: 0.362 in, durations: [0.006: 292, 0.050: 242, 0.200: 157] in -> deg }
      rocker-ratio: 1.5, valve.head: 2 in, bench-air: 1.2 kg/m^3, flow-depression: 28 inH2O
      flow: [0.100: 50, ${last}] in -> cfm }`;
  test('of a flow that goes with the lift is the coefficient at the mean lift of the open valve', () => {
    const result = run(engine(table('0.600: 300'))).build('row');
    const lifts = result.figures('intake.lift-round-nose').filter((lift) => lift > 0);
    const mean = lifts.reduce((sum, lift) => sum + lift, 0) / lifts.length / unit.in;
    // 500 cfm for each inch of lift, on the head of 2 in
    const ideal = ((Math.PI / 4) * (2 * unit.in) ** 2 * Math.sqrt((2 * 28 * 249.08891) / 1.2) * 60) / 0.3048 ** 3;
    expect(result.figures('intake.lift-mean-coefficient')[0]).toBeCloseTo((500 * mean) / ideal, 7);
  });
  test('is not told past the end of the table, nor without lobe or depression', () => {
    const short = run(engine(table('0.400: 200'))).build('row');
    expect(short.figures('intake.lift-mean-coefficient')).toEqual([NaN]);
    const bare = run(engine('layout: single\nintake.flow: [0.1: 60, 0.5: 250] in -> cfm')).build('row');
    expect(bare.check('intake.mach-in-limits').state).toBe('not-applicable');
  });
  test('one that is given goes first', () => {
    const given = run(engine(table('0.600: 300').replace('valve.head', 'lift-mean-coefficient: 0.35, valve.head')));
    expect(given.build('row').figures('intake.lift-mean-coefficient')).toEqual([0.35]);
  });
});

describe('room that rods and cam drive want more', () => {
  const limits = (members: string, before = ''): readonly (number | string)[] => {
    const ran = run(`use prelude 1\n${before}\nbuild row {\nlayout: inline-4\nengine-class: car\n${members}\n}`);
    expect(ran.slips).toEqual([]);
    return ['intake', 'exhaust'].map((side) => {
      const found = ran.build('row').outcome.slots.find(({ slot }) => slot.path === `${side}.valve-to-piston-limits`)!;
      const value = found.views.measured;
      return value.is === 'limits' ? Number((value.low.data[0]! / unit.in).toFixed(9)) : value.is;
    });
  };
  test.each([
    ['steel rods, a short chain', '', [0.08, 0.1]],
    ['aluminium rods', 'rod.metal: aluminium', [0.11, 0.13]],
    ['a belt', 'cam-drive: belt', [0.1, 0.12]],
    ['aluminium rods and a long chain', 'rod.metal: aluminium\ncam-drive: long-chain', [0.13, 0.15]],
    ['the maker says how much', 'rod.metal: aluminium\naluminium-valve-margin: 0.025 in', [0.105, 0.125]],
    ['the builder’s own limit', 'rod.metal: aluminium\nintake.valve-to-piston-limits: >= 0.090 in', [0.09, 0.13]],
  ])('%s', (_, members, due) => expect(limits(members)).toEqual(due));
  test('a shop holds to another figure', () => {
    const shop = 'practice "Fellside Engines" { aluminium-valve-margin: 0.040 in }';
    expect(limits('rod.metal: aluminium', shop)).toEqual([0.12, 0.14]);
  });
});
