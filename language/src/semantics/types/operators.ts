/** Signs between figures: what each takes, what it gives, and the sentence when the two sides do not go together. */
import { isWritten } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { add, canCompare, combine, isPoint, raise, subtract, type Measure } from '@thou/shared/dimension/types';
import type { Binary, Expr } from '../ir.ts';
import { due as dueOf, target, workedFrom, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { fitsType, reportBare, sameAxis, writtenBare } from './fit.ts';
import { binary, flag, measureOf, negated, nothing, typed, unionAxes } from './make.ts';
import type { ValueType } from './type.ts';
import { isKnown } from './references.ts';
import { readWithin } from './within.ts';
import { exprWords, textOf } from './words.ts';

export function readOperator(expr: ast.Binary, env: Env, due: Due): Expr {
  switch (expr.operator) {
    case '+':
    case '-':
      return readSum(expr, expr.operator, env, due);
    case '*':
    case '/':
      return readProduct(expr, expr.operator, env, due);
    case 'and':
    case 'or':
      return readLogic(expr, expr.operator, env);
    case 'otherwise':
      return readOtherwise(expr, env, due);
    case 'within':
      return readWithin(expr, env);
    default:
      return readComparison(expr, expr.operator as Binary, env);
  }
}

function disagree(expr: ast.Binary, left: Expr, right: Expr, verb: string, env: Env): Expr {
  env.report.add('dimension.sum', target(env, expr), {
    left: textOf(left.at),
    right: textOf(right.at),
    leftType: exprWords(left, env),
    rightType: exprWords(right, env),
    verb,
  });
  return nothing(expr);
}

function readSum(expr: ast.Binary, operator: '+' | '-', env: Env, due: Due): Expr {
  const side: Due = { ...due, type: null };
  const left = readExpression(expr.left, env, side);
  const right = readExpression(expr.right, env, side);
  const [a, b] = [left.type.value, right.type.value];
  if (a.is === 'unsettled' || b.is === 'unsettled') return nothing(expr);
  if (a.is === 'limits' && b.is === 'measure') return shifted(expr, operator, left, right, a.measure, b.measure, env);
  if (a.is !== 'measure' || b.is !== 'measure')
    return disagree(expr, left, right, operator === '+' ? 'add' : 'subtract', env);
  const measure = operator === '+' ? add(a.measure, b.measure) : subtract(a.measure, b.measure);
  if (measure) return binary(operator, left, right, measureOf(measure), expr);
  if (isPoint(a.measure) && isPoint(b.measure)) {
    env.report.add('dimension.points', target(env, expr));
    return nothing(expr);
  }
  return disagree(expr, left, right, operator === '+' ? 'add' : 'subtract', env);
}

/** Limits shift by a figure of their own measure. */
function shifted(expr: ast.Binary, operator: Binary, left: Expr, right: Expr, a: Measure, b: Measure, env: Env): Expr {
  if (!canCompare(a, b)) return disagree(expr, left, right, 'go together', env);
  return binary(operator, left, right, left.type.value, expr);
}

function readProduct(expr: ast.Binary, operator: '*' | '/', env: Env, due: Due): Expr {
  const inner = { ...env, unit: null };
  const left = readExpression(expr.left, inner, workedFrom(due));
  const right = readExpression(expr.right, inner, workedFrom(due));
  const [a, b] = [left.type.value, right.type.value];
  if (a.is === 'unsettled' || b.is === 'unsettled') return nothing(expr);
  if (a.is === 'limits' || b.is === 'limits') return scaled(expr, operator, left, right, env);
  if (a.is !== 'measure' || b.is !== 'measure')
    return disagree(expr, left, right, operator === '*' ? 'multiply' : 'divide', env);
  if (isPoint(a.measure) || isPoint(b.measure)) {
    env.report.add('dimension.scaled-point', target(env, expr));
    return nothing(expr);
  }
  return binary(operator, left, right, measureOf(combine(operator, a.measure, b.measure)), expr);
}

/** Limits scale by a figure: limits per unit of something, times that something, are limits again. */
function scaled(expr: ast.Binary, operator: '*' | '/', left: Expr, right: Expr, env: Env): Expr {
  const [a, b] = [left.type.value, right.type.value];
  if (a.is === 'limits' && b.is === 'measure') {
    return binary(operator, left, right, { is: 'limits', measure: combine(operator, a.measure, b.measure) }, expr);
  }
  if (a.is === 'measure' && b.is === 'limits' && operator === '*') {
    return binary(operator, left, right, { is: 'limits', measure: combine(operator, a.measure, b.measure) }, expr);
  }
  env.report.add('dimension.limits', target(env, expr));
  return nothing(expr);
}

function readLogic(expr: ast.Binary, operator: 'and' | 'or', env: Env): Expr {
  const left = condition(expr.left, env);
  const right = condition(expr.right, env);
  return binary(operator, left, right, flag, expr);
}

/** A yes or no; reported where it is something else. */
export function condition(expr: ast.Expr | ast.Prefixed | undefined, env: Env): Expr {
  const read = readExpression(expr, { ...env, unit: null }, dueOf(null));
  if (read.type.value.is === 'flag' || read.type.value.is === 'unsettled') return read;
  if (read.at)
    env.report.add('dimension.condition', target(env, read.at), { value: textOf(read.at), type: exprWords(read, env) });
  return { ...nothing(read.at), type: typed(flag) };
}

function readOtherwise(expr: ast.Binary, env: Env, due: Due): Expr {
  const left = readExpression(expr.left, env, due);
  const right = readExpression(
    expr.right,
    env,
    due.type ? due : { ...due, type: left.type.value, what: textOf(isWritten(expr.left) ? expr.left : null) },
  );
  const type = common(left.type.value, right.type.value, env);
  if (!type) return disagree(expr, left, right, 'stand for each other', env);
  return binary('otherwise', left, right, type, expr);
}

/** The type that both sides can be taken as; null where there is none. */
export function common(a: ValueType, b: ValueType, env: Env): ValueType | null {
  if (a.is === 'unsettled') return b;
  if (b.is === 'unsettled') return a;
  if (a.is === 'measure' && b.is === 'measure')
    return canCompare(a.measure, b.measure) ? (a.measure.kind === null ? b : a) : null;
  if (a.is === 'index' && b.is === 'index') return sameAxis(a.axis, b.axis, env) ? a : null;
  return fitsType(b, a, env) ? a : null;
}

function readComparison(expr: ast.Binary, operator: Binary, env: Env): Expr {
  const inner = { ...env, unit: null };
  const [left, right] = bothSides(expr, inner);
  const [a, b] = [left.type.value, right.type.value];
  if (a.is === 'unsettled' || b.is === 'unsettled') return { ...nothing(expr), type: typed(flag) };
  const equality = operator === '==' || operator === '!=';
  const ordered = a.is === 'measure' || a.is === 'date' || a.is === 'index';
  if (unitMissing(left, right, env) || unitMissing(right, left, env)) return { ...nothing(expr), type: typed(flag) };
  if (!common(a, b, env) || (!equality && !ordered)) return disagree(expr, left, right, 'compare', env);
  return binary(operator, left, right, flag, expr);
}

/** A bare figure beside one with a dimension: true where it was that, and reported. */
function unitMissing(bare: Expr, beside: Expr, env: Env): boolean {
  const [is, due] = [bare.type.value, beside.type.value];
  if (is.is !== 'measure' || due.is !== 'measure' || bare.at === null || !writtenBare(bare.at)) return false;
  if (!isNone(is.measure.dimension) || isNone(due.measure.dimension)) return false;
  const picked = beside.op === 'gather' ? beside.of : beside;
  const unit = picked.op === 'slot' ? env.draft.slots[picked.slot]?.shown[0]?.unit?.symbol : undefined;
  reportBare(bare.at, due.measure.dimension, dueOf(due, [], textOf(beside.at), unit), env);
  return true;
}

/** The side that says what is meant is read first, so that a choice or a label on the other is understood. */
function bothSides(expr: ast.Binary, env: Env): readonly [Expr, Expr] {
  const saysLess = (side: ast.Expr | ast.Prefixed): boolean =>
    side.$type === 'Quantity' || (side.$type === 'Ref' && side.steps.length === 1 && !knownName(side, env));
  if (saysLess(expr.left)) {
    const right = readExpression(expr.right, env, dueOf(null));
    return [readExpression(expr.left, env, hint(right, expr.left, env)), right];
  }
  const left = readExpression(expr.left, env, dueOf(null));
  return [left, readExpression(expr.right, env, hint(left, expr.right, env))];
}

function knownName(ref: ast.Ref, env: Env): boolean {
  return isKnown(ref.steps[0]?.name ?? '', env);
}

/** Choices and places are hinted at; figures are compared afterwards, with both sides in the message. */
function hint(other: Expr, side: ast.Expr | ast.Prefixed, env: Env): Due {
  const type = other.type.value;
  if (type.is === 'index') return dueOf(type);
  const isChoice =
    type.is === 'choice' &&
    side.$type === 'Ref' &&
    (type.names.includes(side.steps[0]?.name ?? '') || !knownName(side, env));
  return dueOf(isChoice ? type : null, [], 'what is compared');
}

export function readPrefixed(expr: ast.Prefixed, env: Env, due: Due): Expr {
  if (expr.operator === 'not') {
    const of = condition(expr.operand, env);
    return { op: 'not', of, type: typed(flag, of.type.axes), at: expr };
  }
  const of = readExpression(expr.operand, env, { ...due, type: null });
  const type = of.type.value;
  if (type.is === 'measure' && isPoint(type.measure) && of.op !== 'constant') {
    env.report.add('dimension.scaled-point', target(env, expr));
    return nothing(expr);
  }
  if (type.is !== 'measure' && type.is !== 'unsettled') {
    env.report.add('dimension.argument', target(env, expr), {
      function: 'A minus',
      due: 'a figure',
      value: textOf(of.at),
      type: exprWords(of, env),
    });
    return nothing(expr);
  }
  return negated(of, expr);
}

export function readPower(expr: ast.Power, env: Env, due: Due): Expr {
  const inner = { ...env, unit: null };
  const base = readExpression(expr.base, inner, workedFrom(due));
  const exponent = readExpression(expr.exponent, inner, dueOf(null));
  const [a, b] = [base.type.value, exponent.type.value];
  if (a.is === 'unsettled' || b.is === 'unsettled') return nothing(expr);
  if (a.is === 'limits') {
    env.report.add('dimension.limits', target(env, expr));
    return nothing(expr);
  }
  if (a.is !== 'measure') {
    env.report.add('dimension.argument', target(env, expr), {
      function: 'A power',
      due: 'a figure',
      value: textOf(base.at),
      type: exprWords(base, env),
    });
    return nothing(expr);
  }
  if (isPoint(a.measure)) {
    env.report.add('dimension.scaled-point', target(env, expr));
    return nothing(expr);
  }
  if (b.is !== 'measure' || !isNone(b.measure.dimension)) {
    env.report.add('dimension.plain', target(env, expr, 'exponent'), {
      what: 'an exponent',
      value: textOf(exponent.at),
      type: exprWords(exponent, env),
    });
    return nothing(expr);
  }
  if (!isNone(a.measure.dimension) && exponent.op !== 'constant') {
    env.report.add('dimension.exponent', target(env, expr, 'exponent'));
    return nothing(expr);
  }
  const measure = exponent.op === 'constant' ? raise(a.measure, exponent.value) : a.measure;
  return binary('^', base, exponent, measureOf(measure), expr);
}

export function readChoose(expr: ast.If, env: Env, due: Due): Expr {
  const when = condition(expr.condition, env);
  const yes = readExpression(expr.yes, env, due);
  const no = readExpression(expr.no, env, due.type ? due : { ...due, type: yes.type.value, what: 'the other branch' });
  const type = common(yes.type.value, no.type.value, env);
  if (!type) {
    env.report.add('dimension.due', target(env, expr, 'no'), {
      what: 'the other branch',
      due: exprWords(yes, env),
      value: textOf(no.at),
      type: exprWords(no, env),
    });
    return nothing(expr);
  }
  return {
    op: 'if',
    condition: when,
    yes,
    no,
    type: typed(type, unionAxes(when.type.axes, yes.type.axes, no.type.axes)),
    at: expr,
  };
}
