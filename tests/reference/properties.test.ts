/** What must hold whatever the engine: each property over random engines from fixed seeds. */
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { engine } from './rows/row.ts';
import { run, runEdited, type Result } from './run.ts';

interface Sizes {
  readonly bore: number;
  readonly stroke: number;
  readonly rod: number;
  readonly deck: number;
  readonly offset: number;
  readonly chamber: number;
  readonly dish: number;
  readonly gasket: number;
}
const figure = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: low, max: high, noNaN: true }).map((x) => Math.round(x * 1e4) / 1e4);
const sizes: fc.Arbitrary<Sizes> = fc.record({
  bore: figure(3, 4.5),
  stroke: figure(3, 4.5),
  rod: figure(5.5, 6.5),
  deck: figure(-0.01, 0.02),
  offset: figure(-0.08, 0.08),
  chamber: figure(50, 80),
  dish: figure(5, 20),
  gasket: figure(0.03, 0.08),
});
/** Lengths in inches times `scale` in the unit `length`. */
function text(of: Sizes, scale = 1, length = 'in', more = ''): string {
  const l = (x: number): string => `${x * scale} ${length}`;
  return engine(`layout: vee-8-cross
  duty: circuit
  redline: 6500 rpm
  block { bore: ${l(of.bore)}, deck-height: ${l(of.stroke / 2 + of.rod + 1.2 + of.deck)} }
  crank.stroke: ${l(of.stroke)}
  rod.length: ${l(of.rod)}
  piston { compression-height: ${l(1.2)}, dish: ${of.dish} cc, pin.offset: ${l(of.offset)} }
  head.chamber: ${of.chamber} cc
  head-gasket { bore: ${l(of.bore)}, thickness: ${l(of.gasket)} }
  compression-target: 11
  ${more}`);
}
const built = (source: string): Result => {
  const ran = runEdited(source);
  expect(ran.slips).toEqual([]);
  return ran.build('row');
};
const close = (a: readonly number[], b: readonly number[], tolerance: number): void => {
  expect(a).toHaveLength(b.length);
  a.forEach((x, i) => expect(Math.abs(x - b[i]!)).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(x))));
};
const runs = { numRuns: 20, seed: 427 };
// many engines a property; how long they take is no matter here
vi.setConfig({ testTimeout: 120_000 });

describe('properties', () => {
  test('every length times 25.4 with its unit leaves ratios, speeds and verdicts as they were', () => {
    fc.assert(
      fc.property(sizes, (of) => {
        const inches = built(text(of));
        const millimetres = built(text(of, 25.4, 'mm'));
        for (const path of ['compression', 'mean-piston-speed', 'quench', 'layout.firing-interval'])
          close(inches.figures(path), millimetres.figures(path), 1e-9);
        expect(millimetres.outcome.checks.map((check) => [check.id, check.state])).toEqual(
          inches.outcome.checks.map((check) => [check.id, check.state]),
        );
      }),
      runs,
    );
  });
  test('a volume added to the chamber and taken from the dish changes nothing', () => {
    fc.assert(
      fc.property(sizes, figure(0, 5), (of, moved) => {
        const before = built(text(of));
        const after = built(text({ ...of, chamber: of.chamber + moved, dish: of.dish - moved }));
        close(before.figures('compression'), after.figures('compression'), 1e-12);
      }),
      runs,
    );
  });
  test('a gasket thicker by what the deck is lower, in the same bore, changes neither ratio nor quench', () => {
    fc.assert(
      fc.property(sizes, figure(0, 0.02), (of, moved) => {
        const before = built(text(of));
        const after = built(text({ ...of, gasket: of.gasket + moved, deck: of.deck - moved }));
        for (const path of ['compression', 'quench']) close(before.figures(path), after.figures(path), 1e-11);
      }),
      runs,
    );
  });
  test('chamber, gasket, deck and dish for a target ratio give that ratio when put back', () => {
    fc.assert(
      fc.property(sizes, (of) => {
        const first = built(text(of));
        const one = (path: string): number => first.figures(path)[0]!;
        const target = (source: string): void =>
          close(
            built(source).figures('compression'),
            Array.from({ length: 8 }, () => 11),
            1e-11,
          );
        target(text({ ...of, chamber: one('chamber-for-target') * 1e6 }));
        target(text({ ...of, dish: of.dish - one('dome-for-target') * 1e6 }));
        target(text({ ...of, gasket: one('gasket-for-target') / 0.0254 }));
        target(text({ ...of, deck: of.deck + (one('deck-clearance-for-target') - one('deck-clearance')) / 0.0254 }));
      }),
      runs,
    );
  });
  test('offset and angle of the other sign: the same drop', () => {
    fc.assert(
      fc.property(sizes, fc.integer({ min: -360, max: 360 }), (of, angle) => {
        const drop = (sign: number): string =>
          engine(
            '',
            `derive wanted: Length = piston-drop-at(${sign * angle} deg, ${of.stroke} in, ${of.rod} in, ${sign * of.offset} in)`,
          );
        close(built(drop(1)).figures('wanted'), built(drop(-1)).figures('wanted'), 1e-12);
      }),
      runs,
    );
  });
  test('the angle of a drop is the angle that it was taken at', () => {
    fc.assert(
      fc.property(sizes, fc.integer({ min: 1, max: 175 }), (of, angle) => {
        const geometry = `${of.stroke} in, ${of.rod} in, ${of.offset} in`;
        const back = engine(
          '',
          `derive wanted: Angle = crank-angle-down(piston-drop-at(${angle} deg, ${geometry}), ${geometry}) - top-angle(${geometry})`,
        );
        close(built(back).figures('wanted'), [(angle * Math.PI) / 180], 1e-9);
      }),
      runs,
    );
  });
  test('mirrored: every angle counted the other way and the order run backwards, the intervals come backwards too', () => {
    for (const layout of ['vee-8-cross', 'vee-6-60', 'vee-6-90', 'flat-6', 'vee-12', 'vee-2-45']) {
      const plain = run(engine(`layout: ${layout}`)).build('row');
      const degrees = (path: string): string =>
        plain
          .figures(path)
          .map((x) => ((-x * 180) / Math.PI).toFixed(9))
          .join(', ');
      // turning the other way round, every angle is counted the other way, and the order runs backwards from the first
      const order = plain.figures('layout.firing-order').map((place) => place + 1);
      const backwards = [order[0]!, ...order.slice(1).reverse()];
      const mirrored = built(
        engine(
          `layout: ${layout} { bore-angle: [${degrees('layout.bore-angle')}] deg, throw-angle: [${degrees('layout.throw-angle')}] deg, firing-order: [${backwards.join(', ')}], rotation: anticlockwise }`,
        ),
      );
      close(mirrored.figures('layout.firing-interval'), plain.figures('layout.firing-interval').toReversed(), 1e-9);
    }
  });
  test('cylinders numbered otherwise: every figure moves with its cylinder', () => {
    const plain = {
      crankpin: [1, 1, 2, 2, 3, 3, 4, 4],
      bank: [1, 2, 1, 2, 1, 2, 1, 2],
      angle: [45, -45, 45, -45, 45, -45, 45, -45],
      place: [1, 1, 2, 2, 3, 3, 4, 4],
      order: [1, 8, 4, 3, 6, 5, 7, 2],
    };
    const paths = ['compression', 'quench', 'layout.firing-top', 'layout.running-mate'];
    fc.assert(
      fc.property(
        sizes,
        fc.shuffledSubarray([1, 2, 3, 4, 5, 6, 7, 8], { minLength: 8 }),
        fc.array(figure(50, 80), { minLength: 8, maxLength: 8 }),
        (of, names, chambers) => {
          const moved = <T>(cells: readonly T[]): T[] => names.map((_, i) => cells[names.indexOf(i + 1)]!);
          const list = (cells: readonly number[]): string => `[${cells.join(', ')}]`;
          const laid = (shift: <T>(cells: readonly T[]) => T[], name: (cylinder: number) => number): string =>
            text(of, 1, 'in')
              .replace(
                'layout: vee-8-cross',
                `layout: vee-8-cross { crankpin: ${list(shift(plain.crankpin))}, bank-of: ${list(shift(plain.bank))}, bore-angle: ${list(shift(plain.angle))} deg, place: ${list(shift(plain.place))}, firing-order: ${list(plain.order.map(name))} }`,
              )
              .replace(/head\.chamber: .*/, `head.chamber: ${list(shift(chambers))} cc`);
          const before = built(
            laid(
              (cells) => [...cells],
              (cylinder) => cylinder,
            ),
          );
          const after = built(laid(moved, (cylinder) => names[cylinder - 1]!));
          for (const path of paths) {
            const renamed = path.endsWith('mate')
              ? before.figures(path).map((place) => names[place]! - 1)
              : before.figures(path);
            close(after.figures(path), moved(renamed), 1e-12);
          }
        },
      ),
      runs,
    );
  });
  test('a hole of the depth that was worked out takes away the unbalance that was asked for', () => {
    fc.assert(
      fc.property(figure(100, 2000), figure(6, 20), figure(60, 100), (wanted, diameter, radius) => {
        const depth = `drill-depth(${wanted} g*mm, ${diameter} mm, ${radius} mm, 7.85 g/cm^3)`;
        const possible = radius ** 2 > (2 * wanted) / (7.85e-3 * (Math.PI / 4) * diameter ** 2);
        fc.pre(possible);
        const back = engine(
          '',
          `derive wanted: Unbalance = drilled-unbalance(${diameter} mm, ${depth}, ${radius} mm, 7.85 g/cm^3)`,
        );
        close(
          built(back)
            .figures('wanted')
            .map((x) => x * 1e6),
          [wanted],
          1e-9,
        );
      }),
      runs,
    );
  });
});
