/** Reads one expression: names, dimensions and axes settled, every slip reported once. The room's front door. */
import type * as ast from '../../grammar/generated/ast.ts';
import { caps } from '@thou/shared/limits';
import type { Expr } from '../ir.ts';
import type { Target } from '../problems/report.ts';
import { builtinValues } from './builtins.ts';
import { readChoose, readOperator, readPower, readPrefixed } from './operators.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { fit } from './fit.ts';
import { readDay, readMargin, readOneSided, readQuantity, readRange, readRepeated, readText } from './literals.ts';
import { readList } from './lists.ts';
import { boundRound, Locals } from './locals.ts';
import { nothing } from './make.ts';
import { readReference } from './references.ts';
import { indexed } from './indices.ts';
import { readSolve } from './searches.ts';
import { readTable } from './tables.ts';

/** The expression as far as it is there: a half-written one is missing and was reported by the parser. */
export function readExpression(expr: ast.Expr | ast.Prefixed | undefined, env: Env, due: Due): Expr {
  switch (expr?.$type) {
    case 'Quantity':
      return fit(readQuantity(expr, env, due), due, env);
    case 'Ref':
      return fit(readReference(expr, env, due), due, env);
    case 'List':
      return fit(readList(expr, env, due), due, env);
    case 'Paren':
      return readParen(expr, env, due);
    case 'Prefixed':
      return expr.operator === '-' || expr.operator === 'not'
        ? fit(readPrefixed(expr, env, due), due, env)
        : readOneSided(expr, env, due);
    case 'Binary':
      if (expr.operator === '..') return readRange(expr, env, due);
      if (expr.operator === '±' || expr.operator === '+-') return readMargin(expr, env, due);
      return fit(readOperator(expr, env, due), due, env);
    case 'Power':
      return fit(readPower(expr, env, due), due, env);
    case 'If':
      return fit(readChoose(expr, env, due), due, env);
    case 'Solve':
      return fit(readSolve(expr, env), due, env);
    case 'Day':
      return readDay(expr, env, due);
    case 'Text':
      return readText(expr, env, due);
    case 'Repeated':
      return fit(readRepeated(expr, env, due), due, env);
    case 'FromFile':
      return readTable(expr, env, due);
    default:
      return nothing(expr ?? null);
  }
}

function readParen(paren: ast.Paren, env: Env, due: Due): Expr {
  if (paren.keys.length === 0) return readExpression(paren.value, env, due);
  const inner = readExpression(paren.value, env, dueOf(null));
  return fit(indexed(inner, paren.keys, inner.type.axes, paren, env), due, env);
}

/** A formula with its `where`: each local is read when it is first needed, so their order does not matter. */
export function readFormula(value: ast.Expr | undefined, where: ast.Where | undefined, env: Env, due: Due): Expr {
  if (!where || where.locals.length === 0) return readExpression(value, env, due);
  if (where.locals.length > caps.locals) {
    env.report.add('declare.where-long', target(env, where.locals[caps.locals]!, 'name'), {
      most: String(caps.locals),
      here: String(where.locals.length),
    });
    return nothing(value ?? null);
  }
  const locals = new Locals(env.locals);
  for (const local of where.locals) {
    if (local.name && !reportKept(local.name, target(env, local, 'name'), env)) locals.await(local);
  }
  const inner = { ...env, locals };
  const body = readExpression(value, inner, due);
  reportUnused(where, locals, env);
  return boundRound(body, locals);
}

/** A local may hide anything but the words that always mean the same. */
export function reportKept(name: string, at: Target, env: Env): boolean {
  if (!builtinValues.has(name)) return false;
  env.report.add('name.reserved', at, { name });
  return true;
}

/** A local that nothing needs is still read, for its own slips. */
function reportUnused(where: ast.Where, locals: Locals, env: Env): void {
  for (const local of where.locals) {
    if (!local.name || builtinValues.has(local.name) || locals.order.some(({ name }) => name === local.name)) continue;
    readExpression(local.value, { ...env, locals }, dueOf(null));
    env.report.add('given.unused', target(env, local, 'name'), { what: `figure "${local.name}"` });
  }
}
