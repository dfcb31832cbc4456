/** `x[…]`: cells picked by label, number or an index figure; what is left keeps its axes. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { axisAmong, labelsOf, noteAxis, placeOfNumber, reportNoLabel } from './axes.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { sameAxis } from './fit.ts';
import { constant, nothing, typed, unionAxes } from './make.ts';
import { isKnown } from './references.ts';
import type { AxisId } from './type.ts';
import { exprWords, listed, textOf } from './words.ts';

/** Keys go to the axes offered, in order; a label or an index figure finds its own. */
export function indexed(
  of: Expr,
  keys: readonly ast.Entry[],
  axes: readonly AxisId[],
  step: ast.RefStep | ast.Paren,
  env: Env,
): Expr {
  const at = wholeOf(step);
  if (of.type.value.is === 'unsettled') return of;
  const left = [...axes];
  let result = of;
  for (const key of keys) {
    const pick = readKey(key, left, env);
    if (!pick) return nothing(at);
    if (!result.type.axes.includes(pick.axis)) {
      env.report.add('axes.key-left', target(env, key), { value: textOf(at) });
      return nothing(at);
    }
    left.splice(left.indexOf(pick.axis), 1);
    const rest = result.type.axes.filter((axis) => axis !== pick.axis);
    result = {
      op: 'gather',
      of: result,
      axis: pick.axis,
      index: pick.index,
      type: typed(result.type.value, unionAxes(rest, pick.index.type.axes)),
      at,
    };
  }
  return result;
}

interface Pick {
  readonly axis: AxisId;
  readonly index: Expr;
}

function readKey(key: ast.Entry, left: readonly AxisId[], env: Env): Pick | null {
  if (key.item) {
    const name = nameOnly(key.value);
    const axis = name === null ? null : axisAmong(name, left, env);
    if (typeof axis !== 'number') {
      reportNoAxis(key, left, env);
      return null;
    }
    noteAxis(key.value, axis, env);
    return onAxis(key.item, axis, env);
  }
  const name = nameOnly(key.value);
  const labelled = name === null ? [] : left.filter((axis) => labelsOf(axis, env)?.includes(name));
  if (labelled.length > 0) return onAxis(key.value, labelled[0]!, env);
  if (key.value.$type === 'Quantity') {
    const counted = left.find((axis) => !labelsOf(axis, env));
    if (counted === undefined) return refuseNumber(key, left, env);
    return onAxis(key.value, counted, env);
  }
  const labels = left.filter((axis) => labelsOf(axis, env));
  if (name !== null && labels.length > 0 && !isKnown(name, env)) {
    reportNoLabel(name, labels, target(env, key), env);
    return null;
  }
  return byIndexFigure(key, left, env);
}

/** The axis that a key names is none of those left. */
export function reportNoAxis(key: ast.Entry, left: readonly AxisId[], env: Env): void {
  const name = textOf(key.value);
  const near = env.report.nearest(
    name,
    left.map((axis) => env.draft.axes[axis]?.name ?? ''),
  );
  const at = target(env, key, 'value');
  env.report.add('name.no-such-axis', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
}

function refuseNumber(key: ast.Entry, left: readonly AxisId[], env: Env): null {
  const axis = left[0];
  if (axis === undefined) env.report.add('axes.key-left', target(env, key), { value: textOf(wholeOf(key.$container)) });
  else
    env.report.add('axes.key-kind', target(env, key), {
      axis: env.draft.axes[axis]?.name ?? '',
      labels: listed(labelsOf(axis, env) ?? [], 'and'),
    });
  return null;
}

/** The whole path that a step with an index belongs to. */
function wholeOf(at: AstNode): AstNode {
  return at.$type === 'RefStep' && at.$container ? at.$container : at;
}

function nameOnly(value: ast.Expr): string | null {
  return value.$type === 'Ref' && value.steps.length === 1 && !value.steps[0]!.call && value.steps[0]!.keys.length === 0
    ? value.steps[0]!.name
    : null;
}

function onAxis(value: ast.Expr, axis: AxisId, env: Env): Pick | null {
  if (value.$type === 'Quantity' && !value.unit) {
    const place = placeOfNumber(Number(value.number), axis, env);
    if (place === null) {
      env.report.add('list.no-such-place', target(env, value), {
        key: textOf(value),
        axis: env.draft.axes[axis]?.name ?? '',
      });
      return null;
    }
    return { axis, index: constant(place, { is: 'index', axis }, value) };
  }
  const index = readExpression(value, { ...env, unit: null }, dueOf({ is: 'index', axis }, [], 'an index'));
  return index.type.value.is === 'unsettled' ? null : { axis, index };
}

function byIndexFigure(key: ast.Entry, left: readonly AxisId[], env: Env): Pick | null {
  const index = readExpression(key.value, { ...env, unit: null }, dueOf(null));
  const type = index.type.value;
  if (type.is === 'unsettled') return null;
  const axis = type.is === 'index' ? left.find((one) => sameAxis(one, type.axis, env)) : undefined;
  if (axis === undefined) {
    const due = left[0] === undefined ? 'an axis' : (env.draft.axes[left[0]]?.name ?? '');
    env.report.add('axes.index', target(env, key), { axis: due, value: textOf(key), type: exprWords(index, env) });
    return null;
  }
  return { axis, index };
}
