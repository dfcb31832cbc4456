/** Readings that were written down wrongly: another unit, two figures that changed places, the point elsewhere. */
import { describe, expect, test } from 'vitest';
import { message } from '../../language/src/report/findings.ts';
import { runEdited } from './run.ts';

const engineOf = (given: string, read: string): string =>
  `use prelude 1\nbuild b {\nlayout: inline-2\n${given}\nmeasured "M" on 2026-03-14 { ${read} }\n}\n`;

describe('with a tolerance, the check of the size says which slip would explain it', () => {
  const toDo = (given: string, read: string): string => {
    const { outcome } = runEdited(engineOf(`block.bore: ${given}`, `block.bore: ${read}`)).builds[0]!;
    const check = outcome.checks.find(({ id }) => id === 'block.bore.to-size')!;
    return /What to do: (.*)\.$/.exec(message(outcome, check, { placeOf: () => null, nameOf: () => '' }))![1]!;
  };
  const machine = 'have it machined to size, or change the order';

  test.each([
    ['another unit', '4.0302', 'mm', 'look at the unit, since 4.0302 in would be to size'],
    [
      'neighbours that changed places',
      '4.3002',
      'in',
      'look whether two figures changed places, since 4.0302 in would be to size',
    ],
    ['others that did', '4.0203', 'in', 'look whether two figures changed places, since 4.0302 in would be to size'],
    ['the point', '40.302', 'in', 'look at the point, since 4.0302 in would be to size'],
    ['the point, the other way', '0.40302', 'in', 'look at the point, since 4.0302 in would be to size'],
  ])('%s', (_, number, unit, words) => {
    expect(toDo('4.0300..4.0305 in', `[${number}, ${number}] ${unit}`)).toBe(`${words}; else ${machine}`);
  });
  test('a unit that only the order is written in', () => {
    expect(toDo('10.2362..10.2375 cm', '[4.0302, 4.0302] cm')).toContain('4.0302 in would be to size');
    expect(toDo('10.2362..10.2375 cm', '[10.2370, 10.2370] mm')).toContain('10.2370 cm would be to size');
  });
  test('what no slip explains is said as before', () => {
    expect(toDo('4.0300..4.0305 in', '[4.0311, 4.0302] in')).toBe(machine);
  });
});

describe('without one, the reading is told of', () => {
  const slips = (given: string, read: string): readonly string[] => runEdited(engineOf(given, read)).slips;

  test('in another unit, once for a list', () => {
    expect(slips('block.bore: 4.125 in', 'block.bore: [4.1252, 4.1251] mm')).toEqual([
      'reading.unit: block.bore[1] was read as 0.1624 in, where 4.1250 in is given: look at the unit.',
    ]);
    expect(slips('block.bore: 105 mm', 'block.bore: [105.01, 105.02] in').join()).toMatch(/^reading\.unit/);
  });
  test('with the point elsewhere, the place named', () => {
    expect(slips('head.chamber: 66 cc', 'head.chamber: [66.1, 6.61] cc')).toEqual([
      'reading.point: head.chamber[2] was read as 6.6 cc, where 66.0 cc is given: look at the point.',
    ]);
  });
  test('all alike to the last digit: were they read?', () => {
    const alike = (read: string, layout = 'inline-4') =>
      runEdited(engineOf('', read).replace('inline-2', layout)).builds[0]!.outcome.problems.flatMap(({ code, args }) =>
        code === 'reading.alike' ? [args] : [],
      );
    expect(alike('piston.skirt: [4.1205, 4.1205, 4.1205, 4.1205] in')).toEqual([{ path: 'piston.skirt', count: '4' }]);
    expect(alike('piston.skirt: [others: 4.1205] in')).toEqual([]);
    expect(alike('piston.skirt: [4.1205, 4.1205, 4.1205, 4.1206] in')).toEqual([]);
    expect(alike('piston.skirt: [4.1205, 4.1205, 4.1205, _] in')).toEqual([]);
    expect(alike('piston.skirt: [4.1205, 4.1205] in', 'inline-2')).toEqual([]);
  });
  test.each([
    ['what is read otherwise for good reasons', 'head.chamber: 66 cc', 'head.chamber: [60.2, 132] cc'],
    [
      'what has a tolerance, which its check tells of',
      'block.bore: 4.1250..4.1255 in',
      'block.bore: [4.1252, 4.1251] mm',
    ],
    ['what nobody gave', '', 'block.bore: [4.1252, 4.1251] mm'],
    ['nought', 'intake.lash: 0 in', 'intake.lash: [others: [0.010]] in'],
  ])('not %s', (_, given, read) => {
    expect(slips(given, read)).toEqual([]);
  });
});
