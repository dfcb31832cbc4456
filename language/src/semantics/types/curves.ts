/** Curves: read at a place, as another kind of curve, differentiated, inverted. */
import type * as ast from '../../grammar/generated/ast.ts';
import { canCompare, combine, nameOf, raise } from '@thou/shared/dimension/types';
import type { CurveApply, Expr } from '../ir.ts';
import { axisAmong, constantOf, noteAxis } from './axes.ts';
import { figures, reportCount } from './calls.ts';
import { measureOfArgument, optionOf } from './elementwise.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { measureOf, nothing, number, typed, unionAxes } from './make.ts';
import type { ValueType } from './type.ts';
import { exprWords, textOf } from './words.ts';

type CurveType = ValueType & { readonly is: 'curve' };

function curveType(expr: Expr, at: ast.Ref, env: Env): CurveType | null {
  const type = expr.type.value;
  if (type.is === 'curve') return type;
  if (type.is !== 'unsettled')
    env.report.add('name.no-such-function', target(env, at), {
      name: at.steps.map((step) => step.name).join('.'),
      near: ` It is ${exprWords(expr, env)}.`,
    });
  return null;
}

/** The argument of a function that works on curves. */
function curveArgument(curve: Expr, name: string, env: Env): CurveType | null {
  const type = curve.type.value;
  if (type.is === 'curve') return type;
  if (type.is !== 'unsettled' && curve.at)
    env.report.add('dimension.argument', target(env, curve.at), {
      function: name,
      due: 'a curve',
      value: textOf(curve.at),
      type: exprWords(curve, env),
    });
  return null;
}

/** `flow(lift)`. */
export function readCurveCall(ref: ast.Ref, curve: Expr, call: ast.Call, env: Env): Expr {
  const type = curveType(curve, ref, env);
  if (!type) return nothing(ref);
  if (call.args.length !== type.against.length) {
    const name = ref.steps.map((step) => step.name).join('.');
    reportCount(
      call,
      name,
      figures(type.against.length),
      `${name}(${type.against.map((measure) => nameOf(measure, env.library.measures)).join(', ')})`,
      env,
    );
    return nothing(ref);
  }
  const args = call.args.map((arg, i) =>
    readExpression(arg, env, dueOf(measureOf(type.against[i]!), [], 'where the curve is read')),
  );
  return {
    op: 'curve-call',
    curve,
    args,
    type: typed(measureOf(type.result), unionAxes(curve.type.axes, ...args.map((arg) => arg.type.axes))),
    at: ref,
  };
}

export function readCurveFunction(ref: ast.Ref, name: string, call: ast.Call, env: Env): Expr {
  const curve = readExpression(call.args[0], env, dueOf(null));
  const type = curveArgument(curve, name, env);
  if (!type) return nothing(ref);
  const made = (
    fn: CurveApply['function'],
    value: ValueType,
    more: Partial<Pick<CurveApply, 'args' | 'option' | 'axis'>> = {},
  ): Expr => ({
    op: 'curve-apply',
    function: fn,
    curve,
    args: more.args ?? [],
    option: more.option ?? null,
    axis: more.axis ?? null,
    type: typed(
      value,
      unionAxes(
        curve.type.axes,
        ...(more.args ?? []).map((arg) => arg.type.axes),
        more.axis === undefined || more.axis === null ? [] : [more.axis],
      ),
    ),
    at: ref,
  });
  switch (name) {
    case 'through':
      return made('through', type, {
        option: optionOf('through', call, env),
      });
    case 'clamped':
      return made('clamped', type);
    case 'max':
      return made('greatest', measureOf(type.result));
    case 'min':
      return made('least', measureOf(type.result));
    case 'slope':
      return slopeOf(call, type, made, env);
    case 'smoothed':
      return smoothedOf(call, type, made, env);
    case 'rises-at':
    case 'falls-at': {
      const level = readExpression(call.args[1], env, dueOf(measureOf(type.result), [], 'the level'));
      if (level.type.value.is === 'unsettled') return nothing(ref);
      return made(name, measureOf(type.against[0]!), { args: [level] });
    }
    default:
      return cellsOf(ref, name, curve, type, made, env);
  }
}

function slopeOf(
  call: ast.Call,
  type: CurveType,
  made: (fn: 'slope', value: ValueType, more: { args: readonly Expr[] }) => Expr,
  env: Env,
): Expr {
  const order = call.args[1] ? readExpression(call.args[1], env, dueOf(null)) : number(1, call);
  const times = constantOf(order) ?? 1;
  const result = combine('/', type.result, raise(type.against[0]!, times));
  return made('slope', { ...type, result }, { args: [order] });
}

/** smoothed(c, window, order): the points replaced by local quadratics through their neighbours, or by the slopes of these. */
function smoothedOf(
  call: ast.Call,
  type: CurveType,
  made: (fn: 'smoothed', value: ValueType, more: { args: readonly Expr[] }) => Expr,
  env: Env,
): Expr {
  const window = call.args[1] ? readExpression(call.args[1], env, dueOf(null)) : number(3, call);
  const order = call.args[2] ? readExpression(call.args[2], env, dueOf(null)) : number(0, call);
  const times = constantOf(order) ?? 0;
  const result = times === 0 ? type.result : combine('/', type.result, raise(type.against[0]!, times));
  return made('smoothed', { ...type, result }, { args: [window, order] });
}

/** keys(c), values(c): along an axis whose length comes with the curve. */
function cellsOf(
  ref: ast.Ref,
  name: string,
  curve: Expr,
  type: CurveType,
  made: (fn: 'keys' | 'values', value: ValueType, more: { axis: number }) => Expr,
  env: Env,
): Expr {
  const axis = env.draft.openAxis(`key of ${textOf(curve.at)}`, { uri: env.uri, at: ref });
  return made(name === 'keys' ? 'keys' : 'values', measureOf(name === 'keys' ? type.against[0]! : type.result), {
    axis,
  });
}

/** curve(keys, values over axis). */
export function readCurveOver(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  const [keys, values] = call.args.map((arg) => readExpression(arg, env, dueOf(null)));
  const axis = call.over[0]?.$type === 'Ref' ? call.over[0].steps[0]?.name : undefined;
  const shared = unionAxes(keys?.type.axes ?? [], values?.type.axes ?? []);
  const along = axis === undefined ? null : axisAmong(axis, shared, env);
  if (!keys || !values || along === null || along === 'ambiguous') {
    env.report.add('axes.needs-over', target(env, call), { function: 'curve' });
    return nothing(ref);
  }
  noteAxis(call.over[0], along, env);
  const [against, result] = [
    measureOfArgument(keys, 'curve', null, env),
    measureOfArgument(values, 'curve', null, env),
  ];
  if (!against || !result || !canCompare(against, against)) return nothing(ref);
  return {
    op: 'curve-over',
    keys,
    values,
    axis: along,
    type: typed(
      { is: 'curve', result, against: [against] },
      shared.filter((one) => one !== along),
    ),
    at: ref,
  };
}
