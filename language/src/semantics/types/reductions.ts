/** Many cells to one along named axes, and figures of neighbours along an axis. */
import type * as ast from '../../grammar/generated/ast.ts';
import { combine, isPoint, namedMeasures, raise, type Measure } from '@thou/shared/dimension/types';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import type { AlongAxis, Expr, Reduce, Reduction } from '../ir.ts';
import { axisAmong, constantOf, noteAxis } from './axes.ts';
import { argumentsDue } from './calls.ts';
import { readCurveFunction } from './curves.ts';
import { measureOfArgument } from './elementwise.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { condition } from './operators.ts';
import { flag, measureOf, nothing, typed, unionAxes } from './make.ts';
import type { AxisId, ValueType } from './type.ts';
import { exprWords, perWords, textOf } from './words.ts';

const count = namedMeasures.get('Count')!;
const asked: ReadonlySet<string> = new Set(['any', 'all', 'where-first']);

export function readReduction(ref: ast.Ref, name: string, call: ast.Call, env: Env): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const of = readExpression(call.args[0], env, dueOf(null));
  if (of.type.value.is === 'curve' && call.over.length === 0 && (name === 'max' || name === 'min'))
    return readCurveFunction(ref, name, call, env);
  const where = call.where ? condition(call.where, env) : null;
  const spread = unionAxes(of.type.axes, where?.type.axes ?? []);
  if (of.type.value.is === 'unsettled') return nothing(ref);
  const over = axesOver(call, call.over, spread, name, env);
  if (!over) return nothing(ref);
  const by = call.by ? grouping(call, env) : null;
  const value = resultOf(ref, name, of, over, env);
  if (!value || by === 'wrong') return nothing(ref);
  const rest = unionAxes(spread, by?.index.type.axes ?? []).filter((axis) => !over.includes(axis));
  const type = typed(value, by ? unionAxes(rest, [by.to]) : rest);
  return { op: 'reduce', function: name as Reduction, of, over, where, by, type, at: ref };
}

/** The axes named behind `over`; each must be one that the figure varies along. */
function axesOver(
  call: ast.Call,
  over: readonly ast.Expr[],
  axes: readonly AxisId[],
  name: string,
  env: Env,
): AxisId[] | null {
  if (over.length === 0) {
    const example = axes.map((axis) => env.draft.axes[axis]?.name ?? '').join(', ');
    env.report.add('axes.needs-over', target(env, call), {
      function: name,
      example: example === '' ? '' : `, as in "over ${example}"`,
    });
    return null;
  }
  const found: AxisId[] = [];
  for (const one of over) {
    const axis = axisOver(one, axes, call.args[0], env);
    if (axis === null) return null;
    found.push(axis);
  }
  return found;
}

function axisOver(one: ast.Expr, axes: readonly AxisId[], of: ast.Expr | undefined, env: Env): AxisId | null {
  const name = one.$type === 'Ref' ? one.steps.map((step) => step.name).join('.') : textOf(one);
  const short = name.slice(name.lastIndexOf('.') + 1);
  const named = name.includes('.')
    ? axes.filter((axis) => env.draft.axisPath(axis) === name)[0]
    : axisAmong(short, axes, env);
  if (typeof named === 'number') {
    noteAxis(one, named, env);
    return named;
  }
  if (named === 'ambiguous') {
    const choices = axes.filter((axis) => env.draft.axes[axis]?.name === short).map((axis) => env.draft.axisPath(axis));
    env.report.add(
      'name.ambiguous-axis',
      target(env, one),
      { name, choices: choices.join(' or ') },
      { fixes: insteadOf(target(env, one), choices) },
    );
    return null;
  }
  const known = env.draft.axisNamed(short, env.mount) !== null;
  if (known)
    env.report.add('axes.no-such', target(env, one), {
      value: textOf(of ?? null),
      axis: short,
      have: axes.length > 0 ? `: it is given ${perWords(axes, env)}` : '',
    });
  else {
    const near = env.report.nearest(
      short,
      axes.map((axis) => env.draft.axes[axis]?.name ?? ''),
    );
    const words =
      near.length > 0
        ? didYouMean(near)
        : axes.length > 0
          ? ` ${textOf(of ?? null)} is given ${perWords(axes, env)}.`
          : '';
    env.report.add(
      'name.no-such-axis',
      target(env, one),
      { name, near: words },
      { fixes: insteadOf(target(env, one), near) },
    );
  }
  return null;
}

function grouping(call: ast.Call, env: Env): Reduce['by'] | 'wrong' {
  const index = readExpression(call.by, env, dueOf(null));
  const type = index.type.value;
  if (type.is === 'index') return { index, to: type.axis };
  if (type.is !== 'unsettled')
    env.report.add('axes.index', target(env, call, 'by'), {
      axis: 'an axis',
      value: textOf(call.by ?? null),
      type: exprWords(index, env),
    });
  return 'wrong';
}

function resultOf(ref: ast.Ref, name: string, of: Expr, over: readonly AxisId[], env: Env): ValueType | null {
  if (asked.has(name) && of.type.value.is !== 'flag') {
    env.report.add('dimension.condition', target(env, ref.steps[0]!.call!.args[0]!), {
      value: textOf(of.at),
      type: exprWords(of, env),
    });
    return null;
  }
  switch (name) {
    case 'any':
    case 'all':
      return flag;
    case 'count':
      return measureOf(count);
    case 'where-first':
    case 'where-least':
    case 'where-most':
      return { is: 'index', axis: over[0]! };
    default: {
      const measure = measureOfArgument(of, name, null, env);
      return measure && measureOf(reduced(name, measure, over, env));
    }
  }
}

function reduced(name: string, measure: Measure, over: readonly AxisId[], env: Env): Measure {
  const along = env.draft.axes[over[0]!]?.measure ?? count;
  switch (name) {
    case 'spread':
      return isPoint(measure) ? { ...measure, kind: 'difference' } : measure;
    case 'least-at':
    case 'most-at':
      return along;
    case 'area':
      return combine('*', measure, along);
    case 'mean':
      return measure.kind === 'count' ? { ...measure, kind: 'ratio' } : measure;
    default:
      return measure;
  }
}

export function readAlong(ref: ast.Ref, name: string, call: ast.Call, env: Env): Expr {
  const of = readExpression(call.args[0], env, dueOf(null));
  if ((name === 'slope' || name === 'smoothed') && of.type.value.is === 'curve')
    return readCurveFunction(ref, name, call, env);
  if (!argumentsDue(ref, call, 1, 1, env) || of.type.value.is === 'unsettled') return nothing(ref);
  const over = axesOver(call, call.over.slice(0, 1), of.type.axes, name, env);
  if (!over) return nothing(ref);
  const axis = over[0]!;
  const args = call.over.slice(1).map((arg) => readExpression(arg, env, dueOf(null)));
  const value = alongType(name, of, axis, args, env);
  if (!value) return nothing(ref);
  return { op: 'along', function: name as AlongAxis, of, axis, args, type: typed(value, of.type.axes), at: ref };
}

function alongType(name: string, of: Expr, axis: AxisId, args: readonly Expr[], env: Env): ValueType | null {
  if (name === 'rank') return { is: 'index', axis };
  if (name === 'next' || name === 'previous') return of.type.value;
  const measure = measureOfArgument(of, name, null, env);
  if (!measure) return null;
  const along = env.draft.axes[axis]?.measure ?? count;
  const order = name === 'slope' ? 1 : name === 'smoothed' ? (constantOf(args[1] ?? of) ?? 0) : 0;
  return measureOf(order === 0 ? measure : combine('/', measure, raise(along, order)));
}
