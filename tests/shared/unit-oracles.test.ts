// The same factors from two general libraries. mathjs 15.2.0: to 1e-9, except torr and mmHg, which it rounds to 133.322 Pa.
// GNU units 2.22 (Debian package `units`): to 1e-14, all of them; there `rad` is the radiation dose and the angle is `radian`.
import { spawnSync } from 'node:child_process';
import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { standardUnits, toSI } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';

function unit(text: string): Unit {
  const read = standardUnits.parse(text);
  if (!('unit' in read)) throw new Error(`${text} was not read`);
  return read.unit;
}

const apart = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

// ours, mathjs's name, SI there, tolerance where it is not 1e-9
const inMathjs: readonly { ours: string; theirs: string; si: string; tolerance?: number }[] = [
  { ours: 'in', theirs: 'in', si: 'm' },
  { ours: 'thou', theirs: 'mil', si: 'm' },
  { ours: 'ft', theirs: 'ft', si: 'm' },
  { ours: 'yd', theirs: 'yd', si: 'm' },
  { ours: 'mi', theirs: 'mi', si: 'm' },
  { ours: 'in^3', theirs: 'cuin', si: 'm^3' },
  { ours: 'L', theirs: 'L', si: 'm^3' },
  { ours: 'gal', theirs: 'gallon', si: 'm^3' },
  { ours: 'qt', theirs: 'quart', si: 'm^3' },
  { ours: 'pt', theirs: 'pint', si: 'm^3' },
  { ours: 'floz', theirs: 'floz', si: 'm^3' },
  { ours: 'lb', theirs: 'lbm', si: 'kg' },
  { ours: 'oz', theirs: 'oz', si: 'kg' },
  { ours: 'gr', theirs: 'grain', si: 'kg' },
  { ours: 'lbf', theirs: 'lbf', si: 'N' },
  { ours: 'kgf', theirs: 'kgf', si: 'N' },
  { ours: 'psi', theirs: 'psi', si: 'Pa' },
  { ours: 'bar', theirs: 'bar', si: 'Pa' },
  { ours: 'atm', theirs: 'atm', si: 'Pa' },
  { ours: 'torr', theirs: 'torr', si: 'Pa', tolerance: 3e-6 },
  { ours: 'mmHg', theirs: 'mmHg', si: 'Pa', tolerance: 3e-6 },
  { ours: 'hp', theirs: 'hp', si: 'W' },
  { ours: 'Btu', theirs: 'BTU', si: 'J' },
  { ours: 'deg', theirs: 'deg', si: 'rad' },
  { ours: 'arcmin', theirs: 'arcmin', si: 'rad' },
  { ours: 'rev', theirs: 'cycle', si: 'rad' },
  { ours: 'mph', theirs: 'mi/hour', si: 'm/s' },
  { ours: 'ft-lbf', theirs: 'lbf ft', si: 'N m' },
  { ours: 'in-lbf', theirs: 'lbf in', si: 'N m' },
  { ours: 'lbf/in', theirs: 'lbf/in', si: 'N/m' },
  { ours: 'cfm', theirs: 'cuft/minute', si: 'm^3/s' },
];

describe('against mathjs', () => {
  const math = create(all!);
  it.each(inMathjs)('$ours', ({ ours, theirs, si, tolerance = 1e-9 }) => {
    expect(apart(unit(ours).factor, math.unit(`1 ${theirs}`).toNumber(si))).toBeLessThan(tolerance);
  });

  it('reads temperatures on a scale the same way', () => {
    for (const degrees of [-40, 0, 59, 77, 212]) {
      const theirs = math.unit(degrees, 'degF').toNumber('K');
      expect(apart(toSI(degrees, unit('degF')), theirs)).toBeLessThan(1e-12);
    }
  });
});

// ours, GNU's name, SI there
const inGnu: readonly (readonly [ours: string, theirs: string, si: string])[] = [
  ['mm', 'mm', 'm'],
  ['in', 'inch', 'm'],
  ['thou', 'mil', 'm'],
  ['uin', 'microinch', 'm'],
  ['ft', 'ft', 'm'],
  ['yd', 'yd', 'm'],
  ['mi', 'mile', 'm'],
  ['in^2', 'in^2', 'm^2'],
  ['in^3', 'in^3', 'm^3'],
  ['L', 'liter', 'm^3'],
  ['cc', 'cc', 'm^3'],
  ['gal', 'gallon', 'm^3'],
  ['qt', 'quart', 'm^3'],
  ['pt', 'pint', 'm^3'],
  ['floz', 'floz', 'm^3'],
  ['impgal', 'brgallon', 'm^3'],
  ['lb', 'lb', 'kg'],
  ['oz', 'oz', 'kg'],
  ['gr', 'grain', 'kg'],
  ['slug', 'slug', 'kg'],
  ['lbf', 'lbf', 'N'],
  ['ozf', 'ounce force', 'N'],
  ['kgf', 'kgf', 'N'],
  ['ft-lbf', 'ft lbf', 'N m'],
  ['in-lbf', 'in lbf', 'N m'],
  ['ozf-in', 'ounce force inch', 'N m'],
  ['oz-in', 'oz inch', 'kg m'],
  ['g*mm', 'g mm', 'kg m'],
  ['lbf/in', 'lbf/in', 'N/m'],
  ['lbf/ft', 'lbf/ft', 'N/m'],
  ['kPa', 'kPa', 'Pa'],
  ['mPa', 'mPa', 'Pa'],
  ['psi', 'psi', 'Pa'],
  ['ksi', 'ksi', 'Pa'],
  ['reyn', 'reyn', 'Pa s'],
  ['bar', 'bar', 'Pa'],
  ['atm', 'atm', 'Pa'],
  ['torr', 'torr', 'Pa'],
  ['mmHg', 'mmHg', 'Pa'],
  ['inHg', 'inHg', 'Pa'],
  ['inH2O', 'inH2O', 'Pa'],
  ['hp', 'hp', 'W'],
  ['PS', 'metrichorsepower', 'W'],
  ['Btu', 'btu', 'J'],
  ['P', 'poise', 'Pa s'],
  ['cP', 'centipoise', 'Pa s'],
  ['St', 'stokes', 'm^2/s'],
  ['cSt', 'centistokes', 'm^2/s'],
  ['cfm', 'cfm', 'm^3/s'],
  ['mph', 'mph', 'm/s'],
  ['min', 'min', 's'],
  ['h', 'hour', 's'],
  ['kHz', 'kHz', 'Hz'],
  ['rev', 'revolution', 'radian'],
  ['deg', 'degree', 'radian'],
  ['arcmin', 'arcmin', 'radian'],
  ['rpm', 'rpm', 'radian/s'],
  ['R', 'degR', 'K'],
  ['degF', 'degF', 'K'],
  ['%', 'percent', '1'],
  ['lb/in^3', 'lb/in^3', 'kg/m^3'],
  ['um/m/K', 'um/m/K', '1/K'],
];

function askGnu(rows: readonly (readonly [string, string, string])[]): number[] {
  const input = rows.map(([, theirs, si]) => `${theirs}\n${si}\n`).join('');
  const run = spawnSync('units', ['-q', '-t', '-o', '%.17g'], { input, encoding: 'utf8' });
  if (run.error) throw run.error;
  return run.stdout.trim().split('\n').map(Number);
}

const installed = spawnSync('units', ['--version']).error === undefined;
const name = installed || process.env['CI'] ? 'against GNU units' : 'skipped: GNU units not installed';

describe(name, () => {
  it.skipIf(!installed && !process.env['CI'])('agrees on every unit to 1e-14', () => {
    const theirs = askGnu(inGnu);
    expect(theirs).toHaveLength(inGnu.length);
    const off = inGnu.filter(([ours], at) => !(apart(unit(ours).factor, theirs[at]!) < 1e-14));
    expect(off).toEqual([]);
  });
});
