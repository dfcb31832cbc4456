/** Nothing is lost in silence: a value that is not taken is always told of. Every sort of value at every sort of place. */
import { describe, expect, it } from 'vitest';
import { projectOf } from './check.ts';

const paths =
  'plate.width plate.width-limits plate.bore plate.bore[1] plate.deck plate.lift plate.map grade wet note day heat count-of left.load left.face cell cell.nut cell[1].nut rider gasket gasket.thickness plan.post-of plate.girth plate.wave'.split(
    ' ',
  );
const values = [
  '1 mm',
  '1',
  '1..2 mm',
  '>= 1 mm',
  '3 ± 1 mm',
  '20 degC',
  '-1 mm',
  '1 + 1',
  'sqrt(4)',
  'pi',
  '(1 mm)',
  'plate.height',
  'if wet then 1 mm else 2 mm',
  '[1, 2] mm',
  '[1: 1, 2: 2] mm',
  '[[1, 2, 3], [1, 2, 3]] mm',
  '[top: 1, others: 2] mm',
  '[0: 1, 1: 2] deg -> mm',
  '[1, 2]',
  '[outer: 1, inner: 2] N',
  '[others: 3] mm',
  'yes',
  'plain',
  'not yes',
  '"t"',
  '2026-01-01',
  'N',
  '"N"',
  'G',
  '[N, N]',
  '[1: N, others: N]',
  'none',
  '_',
  'was',
  'row',
  'from "a.csv"',
  'repeated [1, 2] mm',
  '1..2 mm step 0.5 mm',
];

const operands = [
  'plate.width',
  'plate.mass',
  'share',
  'heat',
  'plate.slant',
  'plate.bore',
  'plan.post-of',
  'wet',
  'grade',
  'note',
  'day',
  'plate.width-limits',
  'plate.lift',
  'rider',
  'plate',
  'row',
  'level',
  'turn',
  '1 mm',
  '2',
  'pi',
  '_',
  'none',
  'others',
  '"t"',
  '2026-01-01',
  '(1..2 mm)',
  '[1, 2, 3] mm',
  'top',
];
const formulas = [
  'X + plate.width',
  'X * share',
  'X ^ 2',
  '-X',
  'abs(X)',
  'sin(X)',
  'max(X over row)',
  'plate.bore[X]',
  'X[1]',
  'plate.lift(X)',
  'halved(X)',
  'if X then 1 mm else 2 mm',
  'X otherwise 1 mm',
  'y where { y = X }',
  'middle(X)',
  'ordered(X)',
  'solve z: Length in 0 mm..9 mm where z = X',
  'through(X)',
  '[plain: X, others: 1 mm] by grade',
  '[plain: 1 mm, others: 2 mm] by X',
];

describe('nothing is lost in silence', () => {
  it.each(paths)('given to %s', (path) => {
    const lost = values.filter((value) => {
      const text = `part N: Nut { flats: 6 }\npart G: Gasket { thickness: 1.0..2.0 mm step 0.5 mm }\nbuild b {\n${path}: ${value} }`;
      const { problems, outcomes } = projectOf(
        new Map([
          ['main.thou', text],
          ['a.csv', 'row,bore [mm]\n1,3\n'],
        ]),
      ).check('main.thou');
      const { assignments, parts, removed } = outcomes[0]!.binding;
      const taken = [...assignments, ...parts].some(({ origin }) => origin.uri === 'main.thou') || removed.size > 0;
      return !taken && problems.every(({ code }) => code === 'use.no-edition');
    });
    expect(lost).toEqual([]);
  });

  it.each(formulas)('computed by %s', (formula) => {
    const lost = operands.filter((operand) => {
      const text = `derive it: Length = ${formula.replace('X', operand)}`;
      const { problems, schema } = projectOf(new Map([['main.thou', text]])).check('main.thou');
      const read = schema.slots[schema.slotAt.get('it')!]!.formula;
      return read?.op === 'missing' && read.type.value.is === 'unsettled' && problems.length === 0;
    });
    expect(lost).toEqual([]);
  });
});
