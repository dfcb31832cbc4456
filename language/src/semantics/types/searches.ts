/** Searches and the other forms of call: solve, assign, nearest sums, pooled and offered cells, inverse, coordinate. */
import type * as ast from '../../grammar/generated/ast.ts';
import { namedMeasures } from '@thou/shared/dimension/types';
import type { Assign, Expr } from '../ir.ts';
import { Silence } from '../problems/report.ts';
import { axisAmong, noteAxis } from './axes.ts';
import { argumentsDue } from './calls.ts';
import { readCurveOver } from './curves.ts';
import { measureOfArgument, optionOf } from './elementwise.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression, reportKept } from './expression.ts';
import { fit } from './fit.ts';
import { Locals } from './locals.ts';
import { measureOf, missing, nothing, number, typed, unionAxes, unsettled } from './make.ts';
import { readMeasure } from './named.ts';
import { readOffered } from './offered.ts';
import { common, condition } from './operators.ts';
import type { AxisId } from './type.ts';
import { exprWords, textOf } from './words.ts';

const count = namedMeasures.get('Count')!;

export function readSpecial(ref: ast.Ref, name: string, call: ast.Call, env: Env, due: Due): Expr {
  switch (name) {
    case 'inverse':
      return readInverse(ref, call, env);
    case 'coordinate':
      return readCoordinate(ref, call, env);
    case 'unknown':
      return readUnknown(ref, call, env, due);
    case 'curve':
      return readCurveOver(ref, call, env);
    case 'assign':
      return readAssign(ref, call, env);
    case 'nearest-sum':
      return readNearestSum(ref, call, env);
    case 'pooled':
      return readPooled(ref, call, env);
    default:
      return readOffered(ref, call, env);
  }
}

function indexArgument(call: ast.Call, env: Env): { readonly of: Expr; readonly axis: AxisId } | null {
  const of = readExpression(call.args[0], env, dueOf(null));
  const type = of.type.value;
  if (type.is === 'index') return { of, axis: type.axis };
  if (type.is !== 'unsettled' && of.at)
    env.report.add('axes.index', target(env, of.at), {
      axis: 'an axis',
      value: textOf(of.at),
      type: exprWords(of, env),
    });
  return null;
}

/** inverse(p: a per b): b per a. */
function readInverse(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  const found = argumentsDue(ref, call, 1, 1, env) ? indexArgument(call, env) : null;
  if (!found) return nothing(ref);
  const named =
    call.over[0]?.$type === 'Ref' ? axisAmong(call.over[0].steps[0]?.name ?? '', found.of.type.axes, env) : null;
  if (typeof named === 'number') noteAxis(call.over[0], named, env);
  const from = typeof named === 'number' ? named : found.of.type.axes[found.of.type.axes.length - 1];
  if (from === undefined) {
    env.report.add('axes.needs-over', target(env, call), { function: 'inverse' });
    return nothing(ref);
  }
  const rest = found.of.type.axes.filter((axis) => axis !== from);
  return {
    op: 'inverse',
    of: found.of,
    from,
    to: found.axis,
    type: typed({ is: 'index', axis: from }, unionAxes(rest, [found.axis])),
    at: ref,
  };
}

function readCoordinate(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const itself = readExpression(call.args[0], { ...env, report: new Silence() }, dueOf(null));
  if (itself.op === 'coordinate' && itself.of === null) return itself;
  const found = indexArgument(call, env);
  if (!found) return nothing(ref);
  const measure = env.draft.axes[found.axis]?.measure ?? count;
  return {
    op: 'coordinate',
    axis: found.axis,
    of: found.of,
    type: typed(measureOf(measure), found.of.type.axes),
    at: ref,
  };
}

function readUnknown(ref: ast.Ref, call: ast.Call, env: Env, due: Due): Expr {
  const why = call.args[0];
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  if (why?.$type === 'Text') return missing(due.type ?? unsettled, why.text, ref);
  env.report.add('dimension.argument', target(env, why!), {
    function: 'unknown',
    due: 'a text in quotes',
    value: textOf(why!),
    type: 'none',
  });
  return nothing(ref);
}

export function readSolve(solve: ast.Solve, env: Env): Expr {
  const locals = new Locals(env.locals);
  const inner = { ...env, locals, unit: null };
  const unknowns = solve.unknowns.map((unknown) => {
    const measure = readMeasure(unknown.type, env);
    const type = measure ? measureOf(measure) : unsettled;
    const range = unknown.range.$type === 'Binary' && unknown.range.operator === '..' ? unknown.range : null;
    if (unknown.word !== 'in' || !range)
      env.report.add('solve.range', target(env, unknown, unknown.word === 'in' ? 'range' : 'word'), {
        name: unknown.name,
      });
    const limits = range
      ? readExpression(
          range,
          { ...env, unit: null },
          dueOf(measure ? { is: 'limits', measure } : null, [], `the range of ${unknown.name}`),
        )
      : null;
    const [from, to] = limits?.op === 'limits' ? [limits.low!, limits.high!] : [nothing(unknown), nothing(unknown)];
    reportKept(unknown.name, target(env, unknown, 'name'), env);
    const local = locals.unknown(unknown.name, { ...number(Number.NaN, unknown), type: typed(type) }, unknown);
    return { local, name: unknown.name, from, to, type: typed(type) };
  });
  const sides = solve.equations.map((left, i) => ({ left, right: solve.rights[i] }));
  const equations = sides.map(({ left, right }) => {
    const a = readExpression(left, inner, dueOf(null));
    const b = right ? readExpression(right, inner, dueOf(null)) : number(0, solve);
    if (!common(a.type.value, b.type.value, env)) {
      env.report.add('dimension.sum', target(env, solve), {
        left: textOf(a.at),
        right: textOf(b.at),
        leftType: exprWords(a, env),
        rightType: exprWords(b, env),
        verb: 'compare',
      });
    }
    return { left: a, right: b };
  });
  const first = unknowns[0];
  if (!first || equations.length !== unknowns.length || unknowns.length > 3) {
    env.report.add('solve.count', target(env, solve), {
      unknowns: counted(unknowns.length, 'figure is looked for', 'figures are looked for'),
      equations: counted(equations.length, 'equation', 'equations'),
    });
    return nothing(solve);
  }
  const axes = unionAxes(
    ...equations.flatMap(({ left, right }) => [left.type.axes, right.type.axes]),
    ...unknowns.flatMap(({ from, to }) => [from.type.axes, to.type.axes]),
  );
  return { op: 'solve', unknowns, equations, type: typed(first.type.value, axes), at: solve };
}

function counted(many: number, one: string, more: string): string {
  return `${many} ${many === 1 ? one : more}`;
}

/** An axis by its name among those of a figure. */
function namedAxis(
  expr: ast.Expr | undefined,
  axes: readonly AxisId[],
  call: ast.Call,
  name: string,
  env: Env,
): AxisId | null {
  const axis = expr?.$type === 'Ref' ? axisAmong(expr.steps[0]?.name ?? '', axes, env) : null;
  if (typeof axis === 'number') {
    noteAxis(expr, axis, env);
    return axis;
  }
  env.report.add('axes.needs-over', target(env, call), { function: name });
  return null;
}

function readAssign(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  const cost = readExpression(call.args[0], env, dueOf(null));
  if (cost.type.value.is === 'unsettled' || !measureOfArgument(cost, 'assign', null, env)) return nothing(ref);
  const where = call.where ? condition(call.where, env) : null;
  const axes = unionAxes(cost.type.axes, where?.type.axes ?? []);
  const row = namedAxis(call.over[0], axes, call, 'assign', env);
  const to = call.to.map((one) => namedAxis(one, axes, call, 'assign', env));
  if (row === null || to.length === 0 || to.some((axis) => axis === null)) return nothing(ref);
  const aim: Assign['aim'] = optionOf('assign', call, env) === 'spread' ? 'spread' : 'sum';
  const of = call.stock ? readExpression(call.stock, env, dueOf(measureOf(count), [], 'the stock')) : null;
  const over = of ? namedAxis(call.stockOver, unionAxes(of.type.axes, to as AxisId[]), call, 'assign', env) : null;
  const result = to[0]!;
  const rest = axes.filter((axis) => axis !== row && !to.includes(axis));
  const stock = of && over !== null ? { of, over } : null;
  return {
    op: 'assign',
    cost,
    row,
    to: to as AxisId[],
    result,
    where,
    stock,
    aim,
    type: typed({ is: 'index', axis: result }, unionAxes(rest, [row])),
    at: ref,
  };
}

function readNearestSum(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  const sizes = readExpression(call.args[0], env, dueOf(null));
  const axis = namedAxis(call.over[0], sizes.type.axes, call, 'nearest-sum', env);
  const measure = measureOfArgument(sizes, 'nearest-sum', null, env);
  if (axis === null || !measure) return nothing(ref);
  const figure = readExpression(call.over[1], env, dueOf(measureOf(measure), [], 'the target'));
  const atMost = readExpression(call.over[2], env, dueOf(measureOf(count), [], 'the greatest number'));
  const axes = unionAxes(sizes.type.axes, figure.type.axes, atMost.type.axes);
  return { op: 'nearest-sum', sizes, axis, target: figure, atMost, type: typed(measureOf(count), axes), at: ref };
}

/** Each figure's last axis is laid along the new one. */
function readPooled(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  const parts = call.args.map((arg) => readExpression(arg, env, dueOf(null)));
  const to = call.over[0]?.$type === 'Ref' ? env.draft.axisNamed(call.over[0].steps[0]?.name ?? '', env.mount) : null;
  const first = parts[0];
  if (!first || to === null) {
    env.report.add('axes.needs-over', target(env, call), { function: 'pooled' });
    return nothing(ref);
  }
  noteAxis(call.over[0], to, env);
  const pooledParts = parts.map((part) => fit(part, dueOf(first.type.value), env));
  const from = pooledParts.map((part) => part.type.axes[part.type.axes.length - 1] ?? to);
  const rest = unionAxes(...pooledParts.map((part) => part.type.axes.slice(0, -1)));
  return { op: 'pooled', parts: pooledParts, from, to, type: typed(first.type.value, unionAxes(rest, [to])), at: ref };
}
