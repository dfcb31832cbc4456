// How units are written, refused and suggested; what looks alike and is not; a shop's own units; temperatures.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nameOf, namedMeasures } from '@thou/shared/dimension/types';
import { displayUnit } from '@thou/shared/number/format';
import { caps } from '@thou/shared/limits';
import { rational } from '@thou/shared/unit/rational';
import { customaryProducts, otherNames } from '@thou/shared/unit/standard';
import { fromSI, fromSIDifference, standardUnits, toSI, toSIDifference, Units } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';

function unit(text: string, units = standardUnits): Unit {
  const read = units.parse(text);
  if (!('unit' in read)) throw new Error(`${text} was not read: ${JSON.stringify(read)}`);
  return read.unit;
}
const named = (text: string): string => nameOf(unit(text).measure);
const due = (type: string) => namedMeasures.get(type)!.dimension;

describe('writing a unit', () => {
  it.each([
    ['in³', 'in^3'],
    ['N·m', 'N*m'],
    ['µm', 'um'],
    ['μm', 'um'],
    ['°', 'deg'],
    ['°C', 'degC'],
    ['°F', 'degF'],
    ['m/s²', 'm/s^2'],
    ['kg·m⁻³', 'kg*m^-3'],
    ['1/K', 'K^-1'],
    ['um/m/K', 'um/(m*K)'],
    ['(in)^2', 'in^2'],
    ['(m/s)^2', 'm^2/s^2'],
    ['W/(m*K)', 'W/m/K'],
  ])('%s is %s', (one, other) => {
    expect(unit(one).factor).toBe(unit(other).factor);
    expect(unit(one).offset).toBe(unit(other).offset);
    expect(unit(one).measure.dimension).toBe(unit(other).measure.dimension);
  });

  it.each([
    ['lbf/in', 'SpringRate'],
    ['N*m', 'Torque or Energy'],
    ['lbf*in', 'Torque or Energy'],
    ['ft-lbf', 'Torque'],
    ['in-lbf', 'Torque'],
    ['ozf-in', 'Torque'],
    ['J', 'Energy'],
    ['Btu', 'Energy'],
    ['W*s', 'Torque or Energy'],
    ['oz-in', 'Unbalance'],
    ['g*mm', 'Unbalance'],
    ['rpm', 'RotationalSpeed'],
    ['rev/min', 'RotationalSpeed'],
    ['Hz', 'Frequency'],
    ['cfm', 'FlowRate'],
    ['L/min', 'FlowRate'],
    ['lb/in^3', 'Density'],
    ['cP', 'Viscosity'],
    ['mPa*s', 'Viscosity'],
    ['reyn', 'Viscosity'],
    ['1/K', 'Expansion'],
    ['um/m/K', 'Expansion'],
    ['%', 'Ratio'],
    ['degC', 'Temperature'],
    ['K', 'TemperatureDifference'],
    ['R', 'TemperatureDifference'],
    ['cSt', 'length² / time'],
    ['ft/s^2', 'Acceleration'],
  ])('%s measures %s', (text, type) => {
    expect(named(text)).toBe(type);
  });

  it('turns a revolution into 2π radians with one rounding', () => {
    expect(unit('rev').exact).toEqual(rational('2 pi'));
    expect(unit('deg').exact).toEqual(rational('1/180 pi'));
    expect(unit('rev').factor).toBe(2 * Math.PI);
    expect(unit('deg/deg').factor).toBe(1);
  });

  it('reads what it shows', () => {
    const simple = [...standardUnits.symbols(), ...customaryProducts];
    for (const text of simple) {
      expect(unit(displayUnit(text))).toEqual(unit(text));
    }
    expect(displayUnit('in^3')).toBe('in³');
    expect(displayUnit('N*m')).toBe('N·m');
    expect(displayUnit('m^-1')).toBe('m⁻¹');
    expect(displayUnit('um/m/K')).toBe('µm/m/K');
    expect(displayUnit('degF')).toBe('°F');
  });
});

describe('a unit that is not right', () => {
  it.each([
    ['lbs', ['lb', 'lbf']],
    ['RPM', ['rpm']],
    ['Psi', ['psi']],
    ['in2', ['in^2']],
    ['Nm', ['N*m']],
    ['lb-ft', ['ft-lbf']],
    ['ftlbs', ['ft-lbf']],
    ['inch', ['in']],
    ['thuo', ['thou']],
    ['cc3', []],
    ['__proto__', []],
    ['constructor', []],
  ])('%s is unknown, and the nearest are %j', (text, near) => {
    const read = standardUnits.parse(text);
    if (text.startsWith('_')) return expect(read).toMatchObject({ problem: 'malformed', start: 0 });
    expect(read).toMatchObject({ problem: 'unknown', name: text, start: 0 });
    if ('near' in read) for (const name of near) expect(read.near).toContain(name);
    if ('near' in read && near.length > 0) expect(read.near[0]).toBe(near[0]);
  });

  it('says where in a product the slip is', () => {
    expect(standardUnits.parse('W/(m*KK)')).toMatchObject({ problem: 'unknown', name: 'KK', start: 5 });
    expect(standardUnits.parse('lbs/in')).toMatchObject({ problem: 'unknown', name: 'lbs', start: 0 });
  });

  it.each(['degC/m', 'W/(m*degF)', 'degC^2', '(degC)', '1/°C'])('refuses a temperature scale in %s', (text) => {
    expect(standardUnits.parse(text)).toMatchObject({ problem: 'offset-in-product' });
  });

  it.each([
    ['', 'empty', 0],
    ['m^99', 'power', 1],
    ['m^0', 'power', 1],
    ['m^', 'power', 1],
    ['m^0.5', 'power', 1],
    ['m^1.5', 'stray', 3],
    ['(m', 'unclosed', 2],
    ['m)', 'stray', 1],
    ['m//s', 'stray', 2],
    ['m s', 'stray', 1],
    ['12/m', 'stray', 0],
    ['((in^12)^12)^12', 'power', 11],
    [Array(15).fill('slug^12').join('*'), 'too-large', 56],
    ['in*'.repeat(80) + 'in', 'too-long', 120],
  ])('%s is malformed: %s at %d', (text, reason, start) => {
    expect(standardUnits.parse(text)).toMatchObject({ problem: 'malformed', reason, start });
  });

  it('refuses what can be read two ways and shows the brackets', () => {
    expect(standardUnits.parse('lb/hp·h')).toMatchObject({ reason: 'mixed', suggestion: 'lb/(hp·h)' });
    expect(unit('lb/(hp*h)').measure.dimension).toBe(unit('lb/hp/h').measure.dimension);
  });

  it('suggests only what is of the dimension that is due', () => {
    expect(standardUnits.nearest('lb', due('Force'))[0]).toBe('lbf');
    expect(standardUnits.nearest('lbf', due('Mass'))[0]).toBe('lb');
    expect(standardUnits.nearest('oz', due('Force'))[0]).toBe('ozf');
    expect(standardUnits.nearest('ozf', due('Mass'))[0]).toBe('oz');
    expect(standardUnits.nearest('lbs', due('Force'))).toEqual(['lbf']);
    expect(standardUnits.nearest('oz-in', due('Torque'))[0]).toBe('ozf-in');
    expect(standardUnits.nearest('in', due('Volume'))).not.toContain('uin');
  });

  it('never suggests the wrong name itself, and every suggestion of the list is a unit', () => {
    for (const [written, right] of otherNames) {
      expect(standardUnits.get(written), written).toBeUndefined();
      for (const text of right) expect(standardUnits.parse(text), text).toHaveProperty('unit');
    }
    for (const text of customaryProducts) expect(standardUnits.parse(text), text).toHaveProperty('unit');
  });

  it('offers for every named type but Money, Ratio and Count at least one unit', () => {
    for (const [name, { dimension }] of namedMeasures) {
      if (name === 'Money') continue;
      expect(standardUnits.offered(dimension).length, name).toBeGreaterThan(0);
    }
  });

  it('answers any text at all, without throwing', () => {
    const letters = fc.constantFrom(...'mskginK%°CF/*^()·²³⁻-12 .', 'lbf', 'degC', '^12', '😀', '_');
    fc.assert(
      fc.property(fc.array(letters, { maxLength: 40 }), (pieces) => {
        const read = standardUnits.parse(pieces.join(''));
        if ('unit' in read) expect(read.unit.factor).toBeGreaterThan(0);
        else expect(read.problem).toMatch(/^(unknown|malformed|offset-in-product)$/);
      }),
      { seed: 41, numRuns: 2000 },
    );
    expect(standardUnits.parse('('.repeat(caps.unitLength))).toMatchObject({ problem: 'malformed' });
  });
});

describe('look-alikes (references.md §1, U-61 to U-69; NIST SP 811 B.8)', () => {
  it('takes the conventional columns, not those at a temperature', () => {
    expect(unit('inHg').factor).toBeCloseTo(3386.38864, 5);
    for (const other of [3376.85, 3386.38]) expect(Math.abs(unit('inHg').factor - other)).toBeGreaterThan(0.005);
    expect(unit('inH2O').factor).toBeCloseTo(249.08891, 5);
    for (const other of [249.082, 248.84]) expect(Math.abs(unit('inH2O').factor - other)).toBeGreaterThan(0.005);
    expect(unit('torr').factor).not.toBe(unit('mmHg').factor);
  });

  it('takes the mechanical horsepower, the metric one under its own name', () => {
    expect(unit('hp').factor).toBeCloseTo(745.6999, 4);
    for (const other of [746, 746.043, 9809.5, 735.49875])
      expect(Math.abs(unit('hp').factor - other)).toBeGreaterThan(0.2);
    expect(unit('PS').factor).toBeCloseTo(735.49875, 9);
  });

  it('has no mil, and thou is a length', () => {
    expect(standardUnits.parse('mil')).toMatchObject({ problem: 'unknown', near: expect.arrayContaining(['thou']) });
    expect(named('thou')).toBe('Length');
  });

  it('keeps the ounces apart', () => {
    expect([named('oz'), named('ozf'), named('floz')]).toEqual(['Mass', 'Force', 'Volume']);
    expect(unit('floz').factor * 1e6).toBeCloseTo(29.57353, 5);
    expect(unit('oz').factor * 1e3).toBeCloseTo(28.34952, 5);
  });

  it.each([
    ['lb', 'lbf'],
    ['g', 'gr'],
    ['mPa', 'MPa'],
    ['P', 'Pa'],
    ['h', 'hp'],
    ['R', 'rev'],
    ['gal', 'impgal'],
    ['oz-in', 'ozf-in'],
    ['m', 'min'],
    ['cP', 'cSt'],
    ['PS', 'Pa*s'],
    ['K', 'k'],
  ])('%s is not %s', (one, other) => {
    const [a, b] = [standardUnits.parse(one), standardUnits.parse(other)];
    if ('unit' in a && 'unit' in b) {
      const same = a.unit.measure.dimension === b.unit.measure.dimension && a.unit.factor === b.unit.factor;
      expect(same).toBe(false);
    } else expect('unit' in a).toBe(true);
  });
});

describe('temperatures', () => {
  it.each([
    [59, 15],
    [77, 25],
    [212, 100],
    [-40, -40],
    [-459.67, -273.15],
  ])('%d degF is %d degC (U-69)', (fahrenheit, celsius) => {
    expect(fromSI(toSI(fahrenheit, unit('degF')), unit('degC'))).toBeCloseTo(celsius, 10);
    expect(toSI(celsius, unit('degC'))).toBeCloseTo(toSI(fahrenheit, unit('degF')), 10);
  });

  it('leaves the zero of the scale out of a difference', () => {
    expect(toSIDifference(18, unit('degF'))).toBeCloseTo(10, 12);
    expect(fromSIDifference(10, unit('degF'))).toBeCloseTo(18, 12);
    expect(toSI(18, unit('R'))).toBeCloseTo(10, 12);
  });

  it('lets only a figure in K be absolute as well', () => {
    const all = standardUnits.symbols().filter((symbol) => standardUnits.get(symbol)!.absoluteToo);
    expect(all).toEqual(['K']);
  });

  it('comes back from SI as it went', () => {
    const symbols = [...standardUnits.symbols(), ...customaryProducts];
    const figure = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...symbols), figure, (text, value) => {
        const u = unit(text);
        // A double below 1e-300 has fewer digits left.
        const slack = 1e-300 + 1e-14 * (Math.abs(value) + 2 * Math.abs(u.offset / u.factor));
        expect(Math.abs(fromSI(toSI(value, u), u) - value)).toBeLessThanOrEqual(slack);
        expect(Math.abs(fromSIDifference(toSIDifference(value, u), u) - value)).toBeLessThanOrEqual(slack);
      }),
      { seed: 42 },
    );
  });
});

describe("a shop's own units", () => {
  it('are seen in its own table only, and in products', () => {
    const shop = new Units(standardUnits);
    shop.define('tenth', rational('254/100000000'), namedMeasures.get('Length')!);
    expect(unit('tenth', shop).factor).toBe(2.54e-6);
    expect(unit('lbf/tenth', shop).measure.dimension).toBe(due('SpringRate'));
    expect(standardUnits.parse('tenth')).toMatchObject({ problem: 'unknown' });
    expect(unit('in', shop)).toBe(unit('in'));
    expect(shop.nearest('tents')).toContain('tenth');
  });

  it('keep a figure given as a double, to its last digit', () => {
    const shop = new Units(standardUnits);
    fc.assert(
      fc.property(fc.double({ min: 1e-30, max: 1e30, noNaN: true }), (size) => {
        expect(shop.define('x', size, namedMeasures.get('Mass')!).factor).toBe(size);
      }),
      { seed: 43 },
    );
    for (const size of [0, -1, Number.NaN, Infinity]) {
      expect(() => shop.define('x', size, namedMeasures.get('Mass')!)).toThrow(RangeError);
    }
  });

  it('have a dimension of its own for each currency', () => {
    const shop = new Units(standardUnits);
    const [eur, gbp] = [shop.currency('EUR'), shop.currency('£')];
    expect(eur.measure.dimension).not.toBe(gbp.measure.dimension);
    expect(nameOf(eur.measure)).toBe('Money (EUR)');
    expect(unit('£/kg', shop).factor).toBe(1);
    expect(unit('EUR', shop)).toBe(eur);
  });
});
