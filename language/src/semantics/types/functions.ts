/** A builder's function: read once for its own slips, and again at every call with the axes of what is handed in. */
import type * as ast from '../../grammar/generated/ast.ts';
import { caps } from '@thou/shared/limits';
import type { Declared } from '../names/library.ts';
import { Silence } from '../problems/report.ts';
import type { Expr } from '../ir.ts';
import { argumentsDue } from './calls.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression, readFormula, reportKept } from './expression.ts';
import { boundRound, Locals } from './locals.ts';
import { constant, nothing } from './make.ts';
import { readType } from './named.ts';

export function readFunction(
  ref: ast.Ref,
  declared: Declared<ast.FunctionDeclaration>,
  call: ast.Call,
  env: Env,
): Expr {
  const { item } = declared;
  const cost = env.library.functionCalls.cost(item.name);
  if (cost === null) return nothing(ref);
  if (!env.isInFunction) {
    const before = env.written.calls;
    env.written.calls += cost;
    if (before <= caps.calls && env.written.calls > caps.calls)
      env.report.add('call.too-many', target(env, ref), { name: 'This formula', most: String(caps.calls) });
    if (env.written.calls > caps.calls) return nothing(ref);
  }
  if (!argumentsDue(ref, call, item.parameters.length, item.parameters.length, env)) return nothing(ref);
  const inside = insideOf(declared, { ...env, report: new Silence() });
  const locals = new Locals(env.locals);
  let whole = true;
  item.parameters.forEach((parameter, i) => {
    const type = readType(parameter.type, inside).value;
    const value = readExpression(call.args[i], env, dueOf(type, [], parameter.name));
    whole &&= value.type.value.is !== 'unsettled';
    locals.bind(parameter.name, value, parameter);
  });
  if (!whole) return nothing(ref);
  const body = readFormula(
    item.value,
    item.where,
    { ...inside, locals, isInFunction: true },
    dueOf(readType(item.type, inside).value),
  );
  return { ...boundRound(body, locals), at: ref };
}

/** Functions see their parameters and the library, nothing of the mount that calls them. */
function insideOf(declared: Declared<ast.FunctionDeclaration>, env: Env): Env {
  return { ...env, uri: declared.uri, mount: 0, unit: null, was: null, locals: null };
}

/** The function's own slips, with parameters of the declared types. */
export function checkFunction(declared: Declared<ast.FunctionDeclaration>, env: Env): void {
  const inside = insideOf(declared, env);
  const { name } = declared.item;
  for (const call of env.library.functionCalls.circlesOf(name))
    env.report.add('declare.function-cycle', target(inside, call));
  if (env.library.functionCalls.isTooLong(name)) {
    env.report.add('call.too-many', target(inside, declared.item, 'name'), {
      name: `"${name}"`,
      most: String(caps.calls),
    });
    return;
  }
  const locals = new Locals(null);
  for (const parameter of declared.item.parameters) {
    reportKept(parameter.name, target(inside, parameter, 'name'), inside);
    const type = readType(parameter.type, inside).value;
    locals.unknown(parameter.name, constant(Number.NaN, type, parameter), parameter);
  }
  const result = readType(declared.item.type, inside).value;
  const read = { ...inside, locals };
  readFormula(declared.item.value, declared.item.where, read, dueOf(result, [], declared.item.name));
}
