/** Whether an expression is what is due, and the sentence when it is not. */
import { canCompare, fits, nameOf } from '@thou/shared/dimension/types';
import { differsOnlyByAngle, isNone, type Dimension } from '@thou/shared/dimension/dimension';
import type { Quantity } from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';
import type { Fix } from '../problems/report.ts';
import { target, type Due, type Env } from './env.ts';
import { nothing } from './make.ts';
import { exprWords, textOf, typeWords } from './words.ts';
import type { ValueType } from './type.ts';

/** The expression where it fits; else reported, and something that fits everywhere. */
export function fit(expr: Expr, due: Due, env: Env): Expr {
  const { type } = due;
  const value = expr.type.value;
  if (type === null || type.is === 'unsettled' || value.is === 'unsettled' || type.is === 'any') return expr;
  if (fitsType(value, type, env)) return expr;
  complain(expr, due, type, env);
  return nothing(expr.at);
}

export function fitsType(value: ValueType, due: ValueType, env: Env): boolean {
  switch (due.is) {
    case 'measure':
      return value.is === 'measure' && fits(value.measure, due.measure);
    case 'limits':
      return value.is === 'limits' && canCompare(value.measure, due.measure);
    case 'choice':
      return value.is === 'choice' && value.names.every((name) => due.names.includes(name));
    case 'index':
      return value.is === 'index' && sameAxis(value.axis, due.axis, env);
    case 'curve':
      return (
        value.is === 'curve' &&
        fits(value.result, due.result) &&
        value.against.length === due.against.length &&
        value.against.every((measure, i) => fits(measure, due.against[i]!))
      );
    case 'part':
      return value.is === 'part' && value.component === due.component;
    default:
      return value.is === due.is;
  }
}

/** An axis and its twin number the same places. */
export function sameAxis(a: number, b: number, env: Env): boolean {
  const root = (axis: number): number => env.draft.axes[axis]?.twinOf ?? axis;
  return a === b || root(a) === root(b);
}

function complain(expr: Expr, due: Due, type: ValueType, env: Env): void {
  if (!expr.at) return;
  const at = target(env, expr.at);
  const value = expr.type.value;
  const words = { what: due.what, due: typeWords(type, env), value: textOf(expr.at), type: exprWords(expr, env) };
  if ((type.is === 'measure' || type.is === 'limits') && (value.is === 'measure' || value.is === 'limits')) {
    if (complainOfUnit(expr, type.measure.dimension, due, env)) return;
    const half = differsOnlyByAngle(value.measure.dimension, type.measure.dimension);
    if (half && type.is === value.is) {
      const fixes: Fix[] = ['1 rad', '1 rev'].map((unit) => ({
        title: `divide by ${unit}`,
        edits: [{ target: at, text: ` / ${unit}`, place: 'after' as const }],
      }));
      env.report.add('dimension.angle', at, words, { fixes });
      return;
    }
    if (isNone(type.measure.dimension) && expr.at.$type === 'Quantity' && (expr.at as Quantity).unit) {
      env.report.add('unit.not-here', { ...at, property: 'unit' }, { ...words, unit: (expr.at as Quantity).unit ?? '' });
      return;
    }
  }
  env.report.add('dimension.due', at, words);
}

/** A bare figure where a unit is due, or a pound of mass where one of force is. */
function complainOfUnit(expr: Expr, due: Dimension, what: Due, env: Env): boolean {
  const value = expr.type.value;
  if (value.is !== 'measure' && value.is !== 'limits') return false;
  const at = expr.at!;
  if (isNone(value.measure.dimension) && !isNone(due) && writtenBare(at)) {
    const unit = env.library.units.offered(due)[0]?.symbol ?? '';
    env.report.add(
      'unit.missing',
      target(env, at),
      { what: what.what, type: what.type ? typeWords(what.type, env) : '', example: `${textOf(at)} ${unit}` },
      { fixes: [{ title: `${textOf(at)} ${unit}`, edits: [{ target: target(env, at), text: ` ${unit}`, place: 'after' }] }] },
    );
    return true;
  }
  if (at.$type === 'Quantity' && (at as Quantity).unit === 'lb' && nameOf({ dimension: due, kind: null }) === 'Force') {
    const unitAt = target(env, at, 'unit');
    env.report.add('unit.pound', unitAt, {}, { fixes: [{ title: 'lbf', edits: [{ target: unitAt, text: 'lbf', place: 'instead' }] }] });
    return true;
  }
  return false;
}

function writtenBare(at: { readonly $type: string }): boolean {
  if (at.$type === 'Quantity') return !(at as Quantity).unit;
  if (at.$type === 'Binary') {
    const { left, right, operator } = at as unknown as { left: { $type: string }; right: { $type: string }; operator: string };
    return (operator === '..' || operator === '±' || operator === '+-') && writtenBare(left) && writtenBare(right);
  }
  if (at.$type === 'Prefixed') return writtenBare((at as unknown as { operand: { $type: string } }).operand);
  return false;
}
