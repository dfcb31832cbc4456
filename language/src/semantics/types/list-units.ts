/** The unit of a list: one message for the list where it is missing or wrong. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare, type Measure } from '@thou/shared/dimension/types';
import type { Unit } from '@thou/shared/unit/unit';
import type { Target } from '../problems/report.ts';
import { target, type Due, type Env } from './env.ts';
import { complainOfPound, reportBare, writtenBare } from './fit.ts';
import { measureOf } from './make.ts';
import { typeWords } from './words.ts';

/** One message for a list whose unit is missing or wrong, not one for each of its figures. */
export function reportListUnit(list: ast.List, inner: Env, outer: Env, due: Due): boolean {
  const measure = due.type?.is === 'measure' || due.type?.is === 'limits' ? due.type.measure : null;
  const figures = figuresOf(list);
  const last = list.unit ? undefined : figures.at(-1);
  if (!measure || outer.unit || figures.length === 0) return false;
  if (!figures.every((figure) => writtenBare(figure) || (figure === last && inner.unit))) return false;
  if (inner.unit)
    return (
      !canCompare(inner.unit.measure, measure) &&
      reportWrongUnit(list.unit ? target(outer, list, 'unit') : target(outer, last!), inner.unit, measure, outer, due)
    );
  if (list.unit || isNone(measure.dimension)) return false;
  reportBare(list, measure.dimension, due, outer);
  return true;
}

export function reportWrongUnit(place: Target, unit: Unit, measure: Measure, env: Env, due: Due): true {
  if (complainOfPound(unit.symbol, place, measure.dimension, env)) return true;
  const words = {
    what: due.what,
    due: typeWords(due.type!, env),
    value: unit.symbol,
    type: typeWords(measureOf(unit.measure), env),
  };
  if (isNone(measure.dimension)) env.report.add('unit.not-here', place, { what: due.what, unit: unit.symbol });
  else env.report.add('dimension.due', place, words);
  return true;
}

/** The figures of a list and of the lists in it; `_` is none. */
function figuresOf(list: ast.List): ast.Expr[] {
  return list.entries.flatMap((entry) => {
    const value = entry.item ?? entry.value;
    if (value.$type === 'List' && !value.subject) return figuresOf(value);
    return value.$type === 'Ref' && value.steps[0]?.name === '_' ? [] : [value];
  });
}
