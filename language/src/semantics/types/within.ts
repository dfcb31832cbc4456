/** `within`: a figure and the limits that it is held in. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare, type Measure } from '@thou/shared/dimension/types';
import type { Expr, SlotId } from '../ir.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { reportBare, writtenBare } from './fit.ts';
import { flag, measureOf, nothing, typed, unionAxes } from './make.ts';
import { exprWords, textOf, typeWords } from './words.ts';

export function readWithin(expr: ast.Binary, env: Env): Expr {
  const value = readExpression(expr.left, { ...env, unit: null }, dueOf(null));
  const type = value.type.value;
  const limits = readLimits(
    expr.right,
    value.op === 'slot' ? value.slot : null,
    type.is === 'measure' ? type.measure : null,
    textOf(expr.left),
    env,
  );
  if (!limits || type.is === 'unsettled') return { ...nothing(expr), type: typed(flag) };
  if (type.is !== 'measure') {
    env.report.add('dimension.argument', target(env, value.at ?? expr), {
      function: '"within"',
      due: 'a figure on its left',
      value: textOf(value.at),
      type: exprWords(value, env),
    });
    return { ...nothing(expr), type: typed(flag) };
  }
  return { op: 'within', value, limits, type: typed(flag, unionAxes(value.type.axes, limits.type.axes)), at: expr };
}

/** What stands behind `within`: limits that go with the figure. Null: reported. */
export function readLimits(
  expr: ast.Expr | ast.Prefixed | undefined,
  slot: SlotId | null,
  measure: Measure | null,
  what: string,
  env: Env,
): Expr | null {
  const limits = readExpression(expr, env, dueOf(null));
  const type = limits.type.value;
  if (type.is === 'unsettled' || !limits.at) return null;
  if (type.is !== 'limits') {
    env.report.add('dimension.within', target(env, limits.at), {
      value: textOf(limits.at),
      type: exprWords(limits, env),
    });
    return null;
  }
  if (!measure || canCompare(type.measure, measure)) return limits;
  if (isNone(type.measure.dimension) && writtenBare(limits.at)) {
    reportBare(
      limits.at,
      measure.dimension,
      dueOf(measureOf(measure), [], what, slot === null ? undefined : env.draft.slots[slot]?.shown[0]?.unit?.symbol),
      env,
    );
  } else {
    env.report.add('dimension.sum', target(env, limits.at), {
      left: what,
      leftType: typeWords(measureOf(measure), env),
      right: textOf(limits.at),
      rightType: exprWords(limits, env),
      verb: 'go together',
    });
  }
  return null;
}
