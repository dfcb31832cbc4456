// Every factor against its definition, written again here as products of decimals, and against figures from outside.
// Sources: NIST SP 811 (2008) Appendix B.8 by a transcription, seven figures; exact values from inch = 25.4 mm,
// lb = 0.45359237 kg, g = 9.80665 m/s² (references.md §1, U-01 to U-38, to 15 figures).
import { describe, expect, it } from 'vitest';
import { standardUnits, toSI } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';

const inch = 0.0254;
const lb = '0.45359237';
const g0 = '9.80665';

type Product = readonly (string | number)[];

// unit, numerators, denominators
const definitions: readonly (readonly [unit: string, above: Product, below: Product])[] = [
  ['m', [1], [1]],
  ['mm', [1], [1000]],
  ['cm', [1], [100]],
  ['um', [1], [1e6]],
  ['km', [1000], [1]],
  ['in', [254], [10000]],
  ['thou', [254], [1e7]],
  ['uin', [254], [1e10]],
  ['ft', [3048], [10000]],
  ['yd', [9144], [10000]],
  ['mi', [1609344], [1000]],
  ['in^2', [254, 254], [1e8]],
  ['in^3', [254, 254, 254], [1e12]],
  ['in^4', [254, 254, 254, 254], [1e16]],
  ['in^3/min', [254, 254, 254], [1e12, 60]],
  ['L', [1], [1000]],
  ['mL', [1], [1e6]],
  ['cc', [1], [1e6]],
  ['gal', [231, 254, 254, 254], [1e12]],
  ['qt', [231, 254, 254, 254], [4, 1e12]],
  ['pt', [231, 254, 254, 254], [8, 1e12]],
  ['floz', [231, 254, 254, 254], [128, 1e12]],
  ['impgal', [454609], [1e8]],
  ['kg', [1], [1]],
  ['g', [1], [1000]],
  ['mg', [1], [1e6]],
  ['lb', [lb], [1]],
  ['oz', [lb], [16]],
  ['gr', [lb], [7000]],
  ['slug', [lb, g0], ['0.3048']],
  ['N', [1], [1]],
  ['kN', [1000], [1]],
  ['lbf', [lb, g0], [1]],
  ['ozf', [lb, g0], [16]],
  ['kgf', [g0], [1]],
  ['N*m', [1], [1]],
  ['ft-lbf', [lb, g0, 3048], [10000]],
  ['in-lbf', [lb, g0, 254], [10000]],
  ['ozf-in', [lb, g0, 254], [16, 10000]],
  ['oz-in', [lb, 254], [16, 10000]],
  ['g*mm', [1], [1e6]],
  ['lbf/in', [lb, g0, 10000], [254]],
  ['lbf/ft', [lb, g0, 10000], [3048]],
  ['N/mm', [1000], [1]],
  ['Pa', [1], [1]],
  ['kPa', [1000], [1]],
  ['MPa', [1e6], [1]],
  ['GPa', [1e9], [1]],
  ['bar', [1e5], [1]],
  ['psi', [lb, g0, 1e8], [254, 254]],
  ['ksi', [lb, g0, 1e11], [254, 254]],
  ['reyn', [lb, g0, 1e8], [254, 254]],
  ['atm', [101325], [1]],
  ['torr', [101325], [760]],
  ['inHg', ['13595.1', g0, 254], [10000]],
  ['mmHg', ['13595.1', g0], [1000]],
  ['inH2O', [1000, g0, 254], [10000]],
  ['W', [1], [1]],
  ['kW', [1000], [1]],
  ['hp', [550, 3048, lb, g0], [10000]],
  ['PS', [75, g0], [1]],
  ['J', [1], [1]],
  ['kJ', [1000], [1]],
  ['Btu', [2326, lb], [1]],
  ['s', [1], [1]],
  ['ms', [1], [1000]],
  ['min', [60], [1]],
  ['h', [3600], [1]],
  ['Hz', [1], [1]],
  ['kHz', [1000], [1]],
  ['rad', [1], [1]],
  ['rev', [2, Math.PI], [1]],
  ['deg', [Math.PI], [180]],
  ['arcmin', [Math.PI], [10800]],
  ['rpm', [2, Math.PI], [60]],
  ['K', [1], [1]],
  ['R', [5], [9]],
  ['degC', [1], [1]],
  ['degF', [5], [9]],
  ['P', [1], [10]],
  ['cP', [1], [1000]],
  ['mPa*s', [1], [1000]],
  ['St', [1], [10000]],
  ['cSt', [1], [1e6]],
  ['cfm', ['0.3048', '0.3048', '0.3048'], [60]],
  ['mph', [1609344], [1000, 3600]],
  ['%', [1], [100]],
  ['um/m/K', [1], [1e6]],
  ['lb/in^3', [lb, 1e12], [254, 254, 254]],
  ['W/(m*K)', [1], [1]],
];

// id, unit, SI, figures of SP 811
const printed: readonly (readonly [id: string, unit: string, exact: number, nist: string])[] = [
  ['U-01', 'in', 0.0254, '0.0254'],
  ['U-02', 'thou', 2.54e-5, '2.54e-05'],
  ['U-03', 'uin', 2.54e-8, '2.54e-08'],
  ['U-04', 'ft', 0.3048, '0.3048'],
  ['U-05', 'in^2', 0.00064516, '0.00064516'],
  ['U-06', 'in^3', 1.6387064e-5, '1.638706e-05'],
  ['U-07', 'in^3/min', 2.73117733333333e-7, '2.731177e-07'],
  ['U-08', 'in^4', 4.162314256e-7, '4.162314e-07'],
  ['U-09', 'lb', 0.45359237, '0.4535924'],
  ['U-10', 'oz', 0.028349523125, '0.02834952'],
  ['U-11', 'gr', 64.79891e-6, '64.79891e-06'],
  ['U-12', 'slug', 14.5939029372064, '14.5939'],
  ['U-13', 'lbf', 4.4482216152605, '4.448222'],
  ['U-14', 'ozf', 0.278013850953781, '0.2780139'],
  ['U-15', 'kgf', 9.80665, '9.80665'],
  ['U-16', 'ft-lbf', 1.3558179483314, '1.355818'],
  ['U-17', 'in-lbf', 0.112984829027617, '0.1129848'],
  ['U-18', 'ozf-in', 0.00706155181422604, '0.007061552'],
  ['U-19', 'lbf/in', 175.126835246476, '175.1268'],
  ['U-20', 'lbf/ft', 14.5939029372064, '14.5939'],
  ['U-21', 'psi', 6894.75729316836, '6894.757'],
  ['U-22', 'ksi', 6894757.29316836, '6894757'],
  ['U-23', 'bar', 100000, '100000'],
  ['U-26', 'inHg', 3386.388640341, '3386.389'],
  ['U-28', 'inH2O', 249.08891, '249.0889'],
  ['U-29', 'mmHg', 133.322387415, '133.3224'],
  ['U-30', 'torr', 133.322368421053, '133.3224'],
  ['U-31', 'hp', 745.69987158227, '745.6999'],
  ['U-32', 'PS', 735.49875, '735.4988'],
  ['U-35', 'rpm', 0.10471975511966, '0.1047198'],
  ['U-36', 'deg', 0.0174532925199433, '0.01745329'],
  ['U-37', 'arcmin', 0.000290888208665722, '0.0002908882'],
];

// id, 1 of, in, figure: ratios between two units
const ratios: readonly (readonly [id: string, of: string, unit: string, expected: number])[] = [
  ['U-24', 'bar', 'psi', 14.5037737730209],
  ['U-25', 'atm', 'psi', 14.6959487755134],
  ['U-27', 'atm', 'inHg', 29.9212555797485],
  ['U-34', 'PS', 'hp', 0.986320070619531],
  ['U-38', 'L', 'in^3', 61.0237440947323],
];

function unit(text: string): Unit {
  const read = standardUnits.parse(text);
  if (!('unit' in read)) throw new Error(`${text} was not read: ${JSON.stringify(read)}`);
  return read.unit;
}

const product = (factors: Product): number => factors.reduce<number>((all, factor) => all * Number(factor), 1);
const apart = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

describe('unit factors', () => {
  it('are at least sixty, and every standard symbol is among them', () => {
    const written = new Set(definitions.map(([symbol]) => symbol));
    expect(definitions.length).toBeGreaterThanOrEqual(60);
    expect(standardUnits.symbols().filter((symbol) => !written.has(symbol) && symbol !== 'mPa')).toEqual([]);
  });

  it.each(definitions)('%s is what its definition says, to 1e-13', (text, above, below) => {
    expect(apart(unit(text).factor, product(above) / product(below))).toBeLessThan(1e-13);
  });

  it.each(printed)(
    '%s: %s agrees with the outside figure to 1e-12 and with SP 811 to its last figure',
    (_, text, exact, nist) => {
      expect(apart(unit(text).factor, exact)).toBeLessThan(1e-12);
      const lastFigure = 10 ** (Math.floor(Math.log10(Number(nist))) - 6);
      expect(Math.abs(unit(text).factor - Number(nist))).toBeLessThanOrEqual(lastFigure * 0.5000001);
    },
  );

  it.each(ratios)('%s: 1 %s in %s', (_, of, to, expected) => {
    expect(apart(unit(of).factor / unit(to).factor, expected)).toBeLessThan(1e-12);
  });

  it('five litres are 305.118720473661 cubic inches (U-39)', () => {
    expect(apart(toSI(5, unit('L')) / inch ** 3, 305.118720473661)).toBeLessThan(1e-12);
  });
});
