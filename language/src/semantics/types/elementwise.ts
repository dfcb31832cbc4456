/** Functions of single figures, cell by cell; questions about a figure's standing; figures in another view. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare, isPoint, namedMeasures, plainNumber, raise, type Measure } from '@thou/shared/dimension/types';
import type { Apply, Elementwise, Expr, InView } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { builtinOptions } from './builtins.ts';
import { argumentsDue } from './calls.ts';
import { due as dueOf, target, workedFrom, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { date, flag, measureOf, nothing, typed, unionAxes } from './make.ts';
import type { ValueType } from './type.ts';
import { exprWords, listed, textOf, typeWords } from './words.ts';

const angle = namedMeasures.get('Angle')!;
const count = namedMeasures.get('Count')!;
const ratio = namedMeasures.get('Ratio')!;

function apply(
  ref: ast.Ref,
  name: string,
  args: readonly Expr[],
  value: ValueType,
  option: string | null = null,
): Apply {
  return {
    op: 'apply',
    function: name as Elementwise,
    args,
    option,
    type: typed(value, unionAxes(...args.map((arg) => arg.type.axes))),
    at: ref,
  };
}

/** The measure of an argument; null where it was reported. */
export function measureOfArgument(arg: Expr, name: string, due: Measure | null, env: Env): Measure | null {
  const type = arg.type.value;
  if (type.is === 'unsettled') return null;
  const fits =
    type.is === 'measure' &&
    (due === null ||
      (type.measure.dimension === due.dimension && (due.kind !== 'ratio' || type.measure.kind !== 'point')));
  if (fits) return type.measure;
  const words = due ? typeWords(measureOf(due), env) : 'a figure';
  if (arg.at)
    env.report.add('dimension.argument', target(env, arg.at), {
      function: name,
      due: words,
      value: textOf(arg.at),
      type: exprWords(arg, env),
    });
  return null;
}

export function readElementwise(ref: ast.Ref, name: string, call: ast.Call, env: Env, due: Due): Expr {
  switch (name) {
    case 'largest':
    case 'smallest':
      return readExtreme(ref, name, call, env, due);
    case 'atan2':
    case 'hypot':
    case 'wrap':
    case 'wrap-centred':
      return readPair(ref, name, call, env, due);
    case 'to-step':
      return readToStep(ref, call, env, due);
    default:
      return readSingle(ref, name, call, env, due);
  }
}

function readExtreme(ref: ast.Ref, name: string, call: ast.Call, env: Env, due: Due): Expr {
  if (!argumentsDue(ref, call, 2, Infinity, env)) return nothing(ref);
  const args = call.args.map((arg) => readExpression(arg, env, { ...due, type: null }));
  const measures = args.map((arg) => measureOfArgument(arg, name, null, env));
  const first = measures[0];
  if (!first || measures.some((measure) => measure === null)) return nothing(ref);
  const odd = measures.findIndex((measure) => !canCompare(first, measure!));
  if (odd > 0) {
    env.report.add('dimension.sum', target(env, args[odd]!.at!), {
      left: textOf(args[0]!.at),
      right: textOf(args[odd]!.at),
      leftType: exprWords(args[0]!, env),
      rightType: exprWords(args[odd]!, env),
      verb: 'compare',
    });
    return nothing(ref);
  }
  return apply(ref, name, args, measureOf(measures.find((measure) => measure!.kind !== null) ?? first));
}

function readPair(ref: ast.Ref, name: string, call: ast.Call, env: Env, due: Due): Expr {
  if (!argumentsDue(ref, call, 2, 2, env)) return nothing(ref);
  const args = call.args.map((arg) => readExpression(arg, env, workedFrom(due)));
  const [a, b] = args.map((arg) => measureOfArgument(arg, name, null, env));
  if (!a || !b) return nothing(ref);
  if (!canCompare(a, b)) {
    measureOfArgument(args[1]!, name, a, env);
    return nothing(ref);
  }
  return apply(ref, name, args, measureOf(name === 'atan2' ? angle : a));
}

function readToStep(ref: ast.Ref, call: ast.Call, env: Env, due: Due): Expr {
  if (!argumentsDue(ref, call, 2, 3, env)) return nothing(ref);
  const [x, step] = call.args.slice(0, 2).map((arg) => readExpression(arg, env, workedFrom(due)));
  const way = optionOf('to-step', call, env);
  const measure = measureOfArgument(x!, 'to-step', null, env);
  if (!measure || !measureOfArgument(step!, 'to-step', { ...measure, kind: null }, env)) return nothing(ref);
  return apply(ref, 'to-step', [x!, step!], measureOf(measure), way);
}

/** The word that chooses how a function works; reported where it is none of them. */
export function optionOf(builtin: string, call: ast.Call, env: Env): string {
  const { argument, words: described } = builtinOptions.get(builtin)!;
  const words = [...described.keys()];
  const arg = call.args[argument];
  if (!arg) return words[0]!;
  const name = arg.$type === 'Ref' && arg.steps.length === 1 ? arg.steps[0]!.name : '';
  if (words.includes(name)) return name;
  env.report.add('name.no-such-choice', target(env, arg), {
    name: textOf(arg),
    choices: listed(words),
    near: didYouMean(env.report.nearest(textOf(arg), words)),
  });
  return words[0]!;
}

function readSingle(ref: ast.Ref, name: string, call: ast.Call, env: Env, wanted: Due): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const arg = readExpression(call.args[0], env, workedFrom(wanted));
  const due =
    name === 'sin' || name === 'cos' || name === 'tan'
      ? angle
      : plainArgument.has(name)
        ? { ...ratio, kind: null }
        : null;
  const measure = measureOfArgument(arg, name, due, env);
  if (!measure) return nothing(ref);
  const result = resultOf(name, measure);
  if (result) return apply(ref, name, [arg], measureOf(result));
  env.report.add('dimension.scaled-point', target(env, ref));
  return nothing(ref);
}

const plainArgument: ReadonlySet<string> = new Set([
  'asin',
  'acos',
  'atan',
  'exp',
  'log',
  'log10',
  'round',
  'floor',
  'ceiling',
]);

function resultOf(name: string, measure: Measure): Measure | null {
  switch (name) {
    case 'sin':
    case 'cos':
    case 'tan':
    case 'exp':
    case 'log':
    case 'log10':
      return ratio;
    case 'asin':
    case 'acos':
    case 'atan':
      return angle;
    case 'round':
    case 'floor':
    case 'ceiling':
      return count;
    case 'sign':
      return plainNumber;
    case 'absolute':
      return { dimension: measure.dimension, kind: null };
    case 'sqrt':
      return isPoint(measure) ? null : raise(measure, 0.5);
    default:
      return isPoint(measure) && !isNone(measure.dimension) ? null : measure;
  }
}

/** low(x), given(x) …: about the figure, not computed from it. */
export function readStanding(ref: ast.Ref, name: string, call: ast.Call, env: Env): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const arg = readExpression(call.args[0], env, dueOf(null));
  const type = arg.type.value;
  if (type.is === 'unsettled') return nothing(ref);
  switch (name) {
    case 'given':
    case 'present':
    case 'machined':
      return apply(ref, name, [arg], flag);
    case 'read-on':
      return apply(ref, name, [arg], date);
    case 'read-at':
      return apply(ref, name, [arg], measureOf(namedMeasures.get('Temperature')!));
    default:
      if (type.is === 'measure' || type.is === 'limits') {
        const kind = name === 'uncertainty' && type.measure.kind === 'point' ? 'difference' : type.measure.kind;
        return apply(ref, name, [arg], measureOf({ dimension: type.measure.dimension, kind }));
      }
      measureOfArgument(arg, name, null, env);
      return nothing(ref);
  }
}

export function readView(ref: ast.Ref, name: string, call: ast.Call, env: Env, due: Due): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const of = readExpression(call.args[0], env, due);
  return { op: 'view', view: name as InView['view'], of, type: of.type, at: ref };
}
