/** A curve written out: figures it is given for, which rise, and what it is there. */
import type * as ast from '../../grammar/generated/ast.ts';
import { canCompare, plainNumber, type Measure } from '@thou/shared/dimension/types';
import type { Unit } from '@thou/shared/unit/unit';
import type { Expr } from '../ir.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { reportWrongUnit } from './list-units.ts';
import { readUnit } from './literals.ts';
import { measureOf, nothing, typed } from './make.ts';
import type { ValueType } from './type.ts';
import { textOf } from './words.ts';

type Curve = ValueType & { readonly is: 'curve' };

export function readCurve(list: ast.List, type: Curve, env: Env, due: Due): Expr {
  const [first = plainNumber, second] = type.against;
  const keyUnit = list.unit ? readUnit(list.unit, list, 'unit', env) : null;
  const valueUnit = list.to ? readUnit(list.to, list, 'to', env) : null;
  const keysOf = dueOf(measureOf(first), [], `what ${due.what} is given for`);
  const valuesOf = dueOf(measureOf(type.result), [], due.what);
  const bare = list.entries.find((entry) => !entry.item);
  if (bare) env.report.add('axes.mixed-keys', target(env, list));
  const wrong = (unit: Unit | null, measure: Measure, property: string, words: Due): boolean =>
    unit !== null &&
    !canCompare(unit.measure, measure) &&
    reportWrongUnit(target(env, list, property), unit, measure, env, words);
  if (bare || wrong(keyUnit, first, 'unit', keysOf) || wrong(valueUnit, type.result, 'to', valuesOf))
    return nothing(list);
  const inKeys = { ...env, unit: keyUnit };
  const inValues = { ...env, unit: valueUnit };
  const keys = list.entries.map((entry) => readExpression(entry.value, inKeys, keysOf));
  const made = (all: readonly (readonly Expr[])[], values: readonly Expr[]): Expr =>
    rising({ op: 'curve', keys: all, values, type: typed(type), at: list }, env);
  if (!second)
    return made(
      [keys],
      list.entries.map((entry) => readExpression(entry.item!, inValues, valuesOf)),
    );
  const rows = curveRows(list, env);
  if (!rows) return nothing(list);
  const across = rows[0]!.entries.map((entry) =>
    readExpression(
      entry.value,
      { ...env, unit: unitOf(rows[0]!, env) },
      dueOf(measureOf(second), [], `what ${due.what} is given for`),
    ),
  );
  return made(
    [keys, across],
    rows.flatMap((row) => row.entries.map((entry) => readExpression(entry.item, inValues, valuesOf))),
  );
}

/** The rows of a curve of two arguments: all are given for the same figures. */
function curveRows(list: ast.List, env: Env): ast.List[] | null {
  const keysIn = (row: ast.Expr | undefined): string | null =>
    row?.$type === 'List' && row.entries.every((entry) => entry.item)
      ? row.entries.map((entry) => textOf(entry.value)).join(', ')
      : null;
  const keys = list.entries.map((entry) => keysIn(entry.item)).find((one) => one !== null) ?? null;
  const odd = list.entries.find((entry) => keysIn(entry.item) !== keys || keys === null);
  if (!odd) return list.entries.map((entry) => entry.item as ast.List);
  env.report.add('axes.curve-rows', target(env, odd, 'item'), { keys: keys ?? 'as in [0.5: …, 1: …]' });
  return null;
}

function unitOf(row: ast.List, env: Env): Env['unit'] {
  return row.unit ? readUnit(row.unit, row, 'unit', env) : null;
}

function rising(curve: Expr & { op: 'curve' }, env: Env): Expr {
  for (const keys of curve.keys) {
    for (let i = 1; i < keys.length; i++) {
      const [a, b] = [keys[i - 1]!, keys[i]!];
      if (a.op === 'constant' && b.op === 'constant' && !(b.value > a.value) && b.at) {
        env.report.add('axes.curve-rises', target(env, b.at), { key: textOf(b.at) });
        return nothing(curve.at);
      }
    }
  }
  return curve;
}
