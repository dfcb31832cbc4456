/** Whether an expression is what is due, and the sentence when it is not. */
import type { AstNode } from 'langium';
import { canCompare, fits } from '@thou/shared/dimension/types';
import { differsOnlyByAngle, isNone, over, type Dimension } from '@thou/shared/dimension/dimension';
import type { Binary, Quantity } from '../../grammar/generated/ast.ts';
import { sourceText } from '../../grammar/file.ts';
import type { Expr } from '../ir.ts';
import type { Fix, Target } from '../problems/report.ts';
import { target, type Due, type Env } from './env.ts';
import { nothing } from './make.ts';
import { exprWords, textOf, typeWords } from './words.ts';
import type { ValueType } from './type.ts';

/** The expression where it fits; else reported, and something that fits everywhere. */
export function fit(expr: Expr, due: Due, env: Env): Expr {
  const { type } = due;
  const value = expr.type.value;
  if (type === null || type.is === 'unsettled' || value.is === 'unsettled') return expr;
  if (type.is === 'any') return withUnit(expr, due, env);
  if (fitsType(value, type, env)) return expr;
  complain(expr, due, type, env);
  return nothing(expr.at);
}

/** A figure of any dimension: of which, its unit says. */
function withUnit(expr: Expr, due: Due, env: Env): Expr {
  const value = expr.type.value;
  const bare = value.is === 'measure' && isNone(value.measure.dimension) && expr.at !== null && writtenBare(expr.at);
  if (!bare || !expr.at) return expr;
  const words = { what: due.what, type: 'a figure with a unit', example: `${textOf(expr.at)} mm` };
  env.report.add('unit.missing', target(env, expr.at), words);
  return nothing(expr.at);
}

export function fitsType(value: ValueType, due: ValueType, env: Env): boolean {
  switch (due.is) {
    case 'measure':
      return value.is === 'measure' && fits(value.measure, due.measure);
    case 'limits':
      return value.is === 'limits' && canCompare(value.measure, due.measure);
    case 'choice':
      return value.is === 'choice' && sameNames(value.names, due.names);
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

/** A choice is kept as its place among the names: only the same names in the same order mean the same. */
function sameNames(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((name, i) => name === b[i]);
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
    if (differsOnlyByAngle(value.measure.dimension, type.measure.dimension) && type.is === value.is) {
      const turns = over(value.measure.dimension, type.measure.dimension).exponents.get('angle') ?? 1;
      env.report.add(
        'dimension.angle',
        at,
        { ...words, extra: turns > 0 ? 'left over' : 'missing' },
        { fixes: ['1 rad', '1 rev'].map((unit) => turned(expr.at!, at, turns, unit)) },
      );
      return;
    }
    if (isNone(type.measure.dimension) && expr.at.$type === 'Quantity' && (expr.at as Quantity).unit) {
      env.report.add(
        'unit.not-here',
        { ...at, property: 'unit' },
        { ...words, unit: (expr.at as Quantity).unit ?? '' },
      );
      return;
    }
  }
  env.report.add('dimension.due', at, words);
}

/** Divides by a turn or a radian as often as it is left over, or multiplies where it is missing. */
function turned(written: AstNode, at: Target, turns: number, unit: string): Fix {
  const [sign, word] = turns > 0 ? ['/', 'divide'] : ['*', 'multiply'];
  const times = Math.abs(turns);
  const factor = times === 1 ? unit : `(${unit}) ^ ${times}`;
  const isSum = ['Binary', 'If', 'Solve'].includes(written.$type) && !['*', '/'].includes((written as Binary).operator);
  const text = isSum ? `(${sourceText(written)}) ${sign} ${factor}` : ` ${sign} ${factor}`;
  return { title: `${word} by ${factor}`, edits: [{ target: at, text, place: isSum ? 'instead' : 'after' }] };
}

/** A bare figure where a unit is due, or a pound of mass where one of force is. */
function complainOfUnit(expr: Expr, due: Dimension, what: Due, env: Env): boolean {
  const value = expr.type.value;
  if (value.is !== 'measure' && value.is !== 'limits') return false;
  const at = expr.at!;
  if (isNone(value.measure.dimension) && !isNone(due) && writtenBare(at)) {
    reportBare(at, due, what, env);
    return true;
  }
  const unit = at.$type === 'Quantity' ? (at as Quantity).unit : undefined;
  return unit !== undefined && complainOfPound(unit, target(env, at, 'unit'), due, env);
}

/** One message for a figure, a range or a whole list without its unit; the fix writes the unit that the figure is shown in. */
export function reportBare(at: AstNode, due: Dimension, what: Due, env: Env): void {
  const unit = what.unit ?? env.library.units.offered(due)[0]?.symbol ?? '';
  const margin = at.$type === 'Quantity' ? (at as Quantity).margin : undefined;
  const place = margin === undefined ? target(env, at) : target(env, at, 'number');
  const example = margin === undefined ? `${textOf(at)} ${unit}` : `${(at as Quantity).number} ${unit} ${margin}`;
  const fix: Fix = { title: example, edits: [{ target: place, text: ` ${unit}`, place: 'after' }] };
  env.report.add(
    'unit.missing',
    target(env, at),
    { what: what.what, type: what.type ? typeWords(what.type, env) : '', example },
    { fixes: [fix] },
  );
}

/** `lb/in` where `lbf/in` is due: true where it was that, and reported. */
export function complainOfPound(unit: string, at: Target, due: Dimension, env: Env): boolean {
  const better = unit.replace(/\blb\b/g, 'lbf');
  const read = better === unit ? null : env.library.units.parse(better);
  if (!read || !('unit' in read) || read.unit.measure.dimension !== due) return false;
  env.report.add(
    'unit.pound',
    at,
    { better },
    { fixes: [{ title: better, edits: [{ target: at, text: better, place: 'instead' }] }] },
  );
  return true;
}

export function writtenBare(at: { readonly $type: string }): boolean {
  if (at.$type === 'Quantity') return !(at as Quantity).unit;
  if (at.$type === 'Binary') {
    const { left, right, operator } = at as unknown as {
      left: { $type: string };
      right: { $type: string };
      operator: string;
    };
    return (operator === '..' || operator === '±' || operator === '+-') && writtenBare(left) && writtenBare(right);
  }
  if (at.$type === 'Prefixed') return writtenBare((at as unknown as { operand: { $type: string } }).operand);
  return false;
}
