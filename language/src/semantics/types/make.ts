/** Small makers of expressions: constants are folded on the way, so that a written figure stays one number. */
import type { AstNode } from 'langium';
import type { Measure } from '@thou/shared/dimension/types';
import { plainNumber } from '@thou/shared/dimension/types';
import type { Binary, Constant, Expr, Missing } from '../ir.ts';
import type { AxisId, ExprType, ValueType } from './type.ts';

export const unsettled: ValueType = { is: 'unsettled' };
export const flag: ValueType = { is: 'flag' };
export const text: ValueType = { is: 'text' };
export const date: ValueType = { is: 'date' };

export function measureOf(measure: Measure): ValueType {
  return { is: 'measure', measure };
}

export function typed(value: ValueType, axes: readonly AxisId[] = []): ExprType {
  return { value, axes };
}

export function constant(value: number, type: ValueType, at: AstNode | null): Constant {
  return { op: 'constant', value, type: typed(type), at };
}

export function number(value: number, at: AstNode | null): Constant {
  return constant(value, measureOf(plainNumber), at);
}

export function missing(type: ValueType, why: string | null, at: AstNode | null): Missing {
  return { op: 'missing', why, type: typed(type), at };
}

/** What stands where something was reported already. */
export function nothing(at: AstNode | null): Missing {
  return missing(unsettled, null, at);
}

export function unionAxes(...lists: (readonly AxisId[])[]): readonly AxisId[] {
  const [first = [], ...rest] = lists;
  if (rest.every((list) => list.every((axis) => first.includes(axis)))) return first;
  return [...new Set(lists.flat())];
}

export function binary(operator: Binary, left: Expr, right: Expr, value: ValueType, at: AstNode | null): Expr {
  const folded = fold(operator, left, right);
  if (folded !== null) return constant(folded, value, at);
  return { op: 'binary', operator, left, right, type: typed(value, unionAxes(left.type.axes, right.type.axes)), at };
}

function fold(operator: Binary, left: Expr, right: Expr): number | null {
  if (left.op !== 'constant' || right.op !== 'constant') return null;
  switch (operator) {
    case '+':
      return left.value + right.value;
    case '-':
      return left.value - right.value;
    case '*':
      return left.value * right.value;
    case '/':
      return right.value === 0 ? null : left.value / right.value;
    default:
      return null;
  }
}

export function negated(of: Expr, at: AstNode | null): Expr {
  if (of.op === 'constant') return constant(-of.value, of.type.value, at);
  return { op: 'negate', of, type: of.type, at };
}

/** The middle of two figures of one measure. */
export function middleOf(low: Expr, high: Expr, at: AstNode | null): Expr {
  const sum = binary('+', low, high, low.type.value, at);
  return binary('/', sum, number(2, at), low.type.value, at);
}
