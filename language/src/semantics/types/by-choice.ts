/** `[plain: a, others: b] by grade`: a figure for each case of a choice, a yes or no, or a place. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { labelsOf, noteLabel, placeOfNumber } from './axes.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { keyName, unitInside } from './lists.ts';
import { nothing, typed, unionAxes } from './make.ts';
import { common } from './operators.ts';
import { noteChoice } from './references.ts';
import { exprWords, listed, textOf } from './words.ts';

export function readByChoice(list: ast.List, env: Env, due: Due): Expr {
  const subject = readExpression(list.subject!, { ...env, unit: null }, dueOf(null));
  if (!['choice', 'index', 'flag', 'unsettled'].includes(subject.type.value.is)) {
    env.report.add('axes.choice-due', target(env, list, 'subject'), {
      value: textOf(subject.at),
      type: exprWords(subject, env),
    });
    return nothing(list);
  }
  const inner = unitInside(list, env);
  const cases: { key: number; value: Expr }[] = [];
  let others: Expr | null = null;
  for (const entry of list.entries) {
    const value = readExpression(entry.item ?? entry.value, inner, due);
    if (keyName(entry) === 'others') others = value;
    else {
      const key = choiceKey(entry, subject, env);
      if (key !== null && cases.some((known) => known.key === key)) {
        env.report.add('axes.duplicate-key', target(env, entry), { key: textOf(entry.value) });
      } else if (key !== null) cases.push({ key, value });
    }
  }
  const values = [...cases.map(({ value }) => value), ...(others ? [others] : [])];
  const first = values.find((value) => value.type.value.is !== 'unsettled');
  if (!first || subject.type.value.is === 'unsettled') return nothing(list);
  const names =
    subject.type.value.is === 'choice'
      ? subject.type.value.names
      : subject.type.value.is === 'index'
        ? labelsOf(subject.type.value.axis, env)
        : null;
  if (others && names && cases.length === names.length) {
    const at = list.entries.find((entry) => keyName(entry) === 'others')!;
    env.report.add('axes.others-idle', target(env, at), { axis: textOf(list.subject!) });
  }
  const odd = values.find((value) => !common(first.type.value, value.type.value, env));
  if (odd?.at) {
    env.report.add('dimension.sum', target(env, odd.at), {
      left: textOf(first.at),
      right: textOf(odd.at),
      leftType: exprWords(first, env),
      rightType: exprWords(odd, env),
      verb: 'stand for each other',
    });
    return nothing(list);
  }
  const type = typed(first.type.value, unionAxes(subject.type.axes, ...values.map((value) => value.type.axes)));
  return { op: 'by-choice', subject, cases, others, type, at: list };
}

function choiceKey(entry: ast.Entry, subject: Expr, env: Env): number | null {
  const type = subject.type.value;
  const names = type.is === 'choice' ? type.names : type.is === 'index' ? labelsOf(type.axis, env) : null;
  const name = keyName(entry);
  if (type.is === 'flag' && (name === 'yes' || name === 'no')) return name === 'yes' ? 1 : 0;
  if (names && name !== null) {
    const key = names.indexOf(name);
    if (key >= 0) {
      const { value } = entry;
      if (type.is === 'index') noteLabel(value, name, type.axis, env);
      else if (value.$type === 'Ref') noteChoice(value.steps[0]!, name, names, env);
      return key;
    }
    const near = env.report.nearest(name, names);
    const at = target(env, entry, 'value');
    env.report.add(
      'name.no-such-choice',
      at,
      { name, choices: listed(names), near: didYouMean(near) },
      { fixes: insteadOf(at, near) },
    );
    return null;
  }
  if (type.is === 'index' && entry.value.$type === 'Quantity')
    return placeOfNumber(Number(entry.value.number), type.axis, env);
  if (type.is !== 'unsettled') {
    env.report.add('name.no-such-choice', target(env, entry, 'value'), {
      name: textOf(entry.value),
      choices: names ? listed(names) : type.is === 'flag' ? 'yes or no' : 'its places',
      near: '',
    });
  }
  return null;
}
