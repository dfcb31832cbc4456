/** What the trade library takes for granted where nothing is said, and whose limits speak. */
import { describe, expect, test } from 'vitest';
import { engine, unit } from './rows/row.ts';
import { run, runSample, type Result } from './run.ts';

const built = (members: string): Result => run(engine(members)).build('row');
const sizes = (bore: number, stroke: number): string =>
  `block.bore: ${bore} mm\ncrank.stroke: ${stroke} mm\nrod.length: ${2 * stroke} mm`;
function choice(result: Result, path: string): string | undefined {
  const slot = result.outcome.slots.find((one) => one.slot.path === path);
  const type = slot?.slot.type;
  return type?.is === 'choice' ? type.names[result.figures(path)[0]!] : undefined;
}

describe('the class of the engine', () => {
  test.each([
    ['a large V8', `layout: vee-8-cross\n${sizes(104.8, 101.6)}`, 'car'],
    ['a small four in line', `layout: inline-4\n${sizes(76, 55)}`, 'motorcycle'],
    ['a large four in line', `layout: inline-4\n${sizes(90, 90)}`, 'car'],
    ['a single', `layout: single\n${sizes(79, 71)}`, 'other'],
    ['a diesel, whatever its size', `layout: inline-4\nduty: diesel\n${sizes(76, 55)}`, 'diesel'],
    ['what the builder says', `layout: single\nengine-class: car\n${sizes(79, 71)}`, 'car'],
  ])('%s', (_, members, expected) => expect(choice(built(members), 'engine-class')).toBe(expected));

  test('without one there is no common practice, and the rule cannot tell', () => {
    const result = built(
      `layout: single\n${sizes(79, 71)}\nblock.deck-height: 220 mm\npiston.compression-height: 42 mm\nhead-gasket.thickness: 1 mm`,
    );
    expect(result.check('quench-clearance').state).toBe('cannot-tell');
  });
});

describe('the balance factor', () => {
  test.each([
    ['vee-8-cross', 0.5],
    ['vee-2-90', 0.5],
    ['vee-6-90', 0.5],
    ['inline-4', NaN],
    ['inline-6', NaN],
    ['vee-6-60', NaN],
    ['flat-4', NaN],
    ['vee-2-45', NaN],
  ])('%s', (layout, expected) => expect(built(`layout: ${layout}`).figures('balance-factor')).toEqual([expected]));
});

describe('limits by duty and metal', () => {
  const v8 = `layout: vee-8-cross\nengine-class: car\nblock.bore: 4 in\ncrank { main-journal: 2.5 in, stroke: 4 in }\nrod.length: 6 in\nhead-gasket.thickness: 0.030 in\nblock.deck-height: 9.2 in\npiston.compression-height: 1.19 in\nblock.main-housing: 2.69 in\ncrank.main-shell: 0.0937 in`;
  const limits = (members: string, rule: string): readonly [number | null, number | null] => {
    const { low, high } = built(`${v8}\n${members}`).check(rule).cells[0]!;
    const inches = (si: number | null): number | null => (si === null ? null : Math.round((si / unit.in) * 1e7) / 1e7);
    return [inches(low), inches(high)];
  };
  test('mains: 0.0008 to 0.0012 of the journal, in racing 0.0005 in more at the wide end', () => {
    expect(limits('duty: street', 'main-oil-clearance')).toEqual([0.002, 0.003]);
    expect(limits('duty: circuit', 'main-oil-clearance')).toEqual([0.002, 0.0035]);
  });
  test('quench: steel and aluminium rods', () => {
    expect(limits('', 'quench-clearance')).toEqual([0.035, 0.045]);
    expect(limits('rod.metal: aluminium', 'quench-clearance')).toEqual([0.055, 0.065]);
  });
});

describe('whose limits speak', () => {
  test('the shop before common practice, the build before the shop, the part before practice', () => {
    const tarn = runSample('tarn-427.thou').build('tarn-427');
    expect(tarn.check('quench-clearance').limitFrom?.layer).toBe('practice');
    expect(tarn.check('main-oil-clearance').limitFrom?.layer).toBe('build');
    expect(tarn.check('intake.coil-bind').limitFrom?.layer).toBe('default');
    const fell = runSample('fell-427.thou').build('fell-427');
    expect(fell.check('piston-wall').limitFrom?.layer).toBe('part');
    expect(fell.check('quench-clearance').limitFrom?.layer).toBe('expect');
  });
});
