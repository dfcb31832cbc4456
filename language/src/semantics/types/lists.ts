/** `[…]`: figures along an axis, a figure for each choice, a curve, or cells from a file. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare, plainNumber, type Measure } from '@thou/shared/dimension/types';
import type { Unit } from '@thou/shared/unit/unit';
import type { AxisKey, Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf, type Target } from '../problems/report.ts';
import { isNoPlace, labelKey, labelsOf, numberKey, placeOfNumber, reportNoLabel } from './axes.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { complainOfPound, reportBare, writtenBare } from './fit.ts';
import { readUnit, withTrailingUnit } from './literals.ts';
import { measureOf, nothing, typed, unionAxes } from './make.ts';
import type { AxisId, ValueType } from './type.ts';
import { common } from './operators.ts';
import { exprWords, listed, textOf, typeWords } from './words.ts';

export function readList(list: ast.List, env: Env, due: Due): Expr {
  if (list.subject) return readByChoice(list, env, due);
  if (due.type?.is === 'curve') return readCurve(list, due.type, env, due);
  return readAlongAxis(list, env, due);
}

/** Bare figures of a list take its unit, or that of its last figure, or that of the list round it. */
function unitInside(list: ast.List, env: Env): Env {
  if (list.unit) return { ...env, unit: readUnit(list.unit, list, 'unit', env) };
  return withTrailingUnit(list, env);
}

/** One message for a list whose unit is missing or wrong, not one for each of its figures. */
export function reportListUnit(list: ast.List, inner: Env, outer: Env, due: Due): boolean {
  const measure = due.type?.is === 'measure' || due.type?.is === 'limits' ? due.type.measure : null;
  const figures = figuresOf(list);
  const last = list.unit ? undefined : figures.at(-1);
  if (!measure || outer.unit || figures.length === 0) return false;
  if (!figures.every((figure) => writtenBare(figure) || (figure === last && inner.unit))) return false;
  if (inner.unit)
    return (
      !canCompare(inner.unit.measure, measure) &&
      reportWrongUnit(list.unit ? target(outer, list, 'unit') : target(outer, last!), inner.unit, measure, outer, due)
    );
  if (list.unit || isNone(measure.dimension)) return false;
  reportBare(list, measure.dimension, due, outer);
  return true;
}

function reportWrongUnit(place: Target, unit: Unit, measure: Measure, env: Env, due: Due): true {
  if (complainOfPound(unit.symbol, place, measure.dimension, env)) return true;
  const words = {
    what: due.what,
    due: typeWords(due.type!, env),
    value: unit.symbol,
    type: typeWords(measureOf(unit.measure), env),
  };
  if (isNone(measure.dimension)) env.report.add('unit.not-here', place, { what: due.what, unit: unit.symbol });
  else env.report.add('dimension.due', place, words);
  return true;
}

/** The figures of a list and of the lists in it; `_` is none. */
function figuresOf(list: ast.List): ast.Expr[] {
  return list.entries.flatMap((entry) => {
    const value = entry.item ?? entry.value;
    if (value.$type === 'List' && !value.subject) return figuresOf(value);
    return value.$type === 'Ref' && value.steps[0]?.name === '_' ? [] : [value];
  });
}

function keyName(entry: ast.Entry): string | null {
  const { value } = entry;
  return value.$type === 'Ref' && value.steps.length === 1 && !value.steps[0]!.call && value.steps[0]!.keys.length === 0
    ? value.steps[0]!.name
    : null;
}

// ---- a figure for each choice

function readByChoice(list: ast.List, env: Env, due: Due): Expr {
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
    if (key >= 0) return key;
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

// ---- along an axis

function readAlongAxis(list: ast.List, env: Env, due: Due): Expr {
  const axis = axisOf(list, due.axes, env);
  if (axis === null) {
    const deeper = due.axes.length === 0;
    env.report.add(deeper ? 'axes.list-deep' : 'axes.list-unplaced', target(env, list), { what: due.what });
    return nothing(list);
  }
  const inner = unitInside(list, env);
  if (reportListUnit(list, inner, env, due)) return nothing(list);
  const rest = { ...due, axes: due.axes.filter((other) => other !== axis) };
  const entries: { key: AxisKey | null; value: Expr }[] = [];
  let others: Expr | null = null;
  const clean = checkKeys(list, env);
  if (!clean) return nothing(list);
  for (const entry of list.entries) {
    const value = readExpression(entry.item ?? entry.value, inner, rest);
    if (!entry.item) entries.push({ key: null, value });
    else if (keyName(entry) === 'others') others = value;
    else {
      const key = axisKey(entry.value, axis, env);
      if (key) entries.push({ key, value });
    }
  }
  const values = [...entries.map(({ value }) => value), ...(others ? [others] : [])];
  const first = values.find((value) => value.type.value.is !== 'unsettled');
  if (!first) return { ...nothing(list), type: typed(due.type ?? { is: 'unsettled' }, [axis]) };
  const axes = unionAxes([axis], ...values.map((value) => value.type.axes));
  return { op: 'list', axis, entries, others, type: typed(first.type.value, axes), at: list };
}

/** Every figure is named, or none; no name stands twice. */
export function checkKeys(list: ast.List, env: Env): boolean {
  const keyed = list.entries.filter((entry) => entry.item);
  if (keyed.length > 0 && keyed.length < list.entries.length) {
    const odd = list.entries.find((entry) => !entry.item)!;
    env.report.add('axes.mixed-keys', target(env, odd));
    return false;
  }
  const seen = new Set<string>();
  for (const entry of keyed) {
    const key =
      entry.value.$type === 'Quantity'
        ? `${Number(entry.value.number)} ${entry.value.unit ?? ''}`
        : textOf(entry.value);
    if (seen.has(key)) {
      env.report.add('axes.duplicate-key', target(env, entry), { key: textOf(entry.value) });
      return false;
    }
    seen.add(key);
  }
  return true;
}

/** The axis that a list runs along: the one with its labels, else the only one that its shape allows. */
function axisOf(list: ast.List, axes: readonly AxisId[], env: Env): AxisId | null {
  const names = list.entries.filter((entry) => entry.item).map(keyName);
  const labels = names.filter((name): name is string => name !== null && name !== 'others');
  if (labels.length > 0) return bestLabelled(labels, axes, env);
  const open = axes.filter((axis) => !labelsOf(axis, env));
  if (names.length > 0) return open[0] ?? axes[0] ?? null;
  const depth = depthOf(list);
  if (depth >= axes.length) return axes[0] ?? null;
  const inside = labelsInside(list);
  if (inside.length > 0) {
    const taken = bestLabelled(inside, axes, env);
    const left = axes.filter((axis) => axis !== taken);
    return left.length === 1 ? left[0]! : (left.find((axis) => !labelsOf(axis, env)) ?? null);
  }
  return open.length === depth ? open[0]! : null;
}

function bestLabelled(labels: readonly string[], axes: readonly AxisId[], env: Env): AxisId | null {
  const hits = axes.map((axis) => ({
    axis,
    hit: labels.filter((label) => labelsOf(axis, env)?.includes(label)).length,
  }));
  const best = hits.reduce((a, b) => (b.hit > a.hit ? b : a), { axis: -1, hit: 0 });
  if (best.hit > 0) return best.axis;
  return axes.find((axis) => labelsOf(axis, env)) ?? null;
}

function depthOf(list: ast.List): number {
  const value = list.entries[0]?.item ?? list.entries[0]?.value;
  return 1 + (value?.$type === 'List' && !value.subject ? depthOf(value) : 0);
}

function labelsInside(list: ast.List): string[] {
  const value = list.entries[0]?.item ?? list.entries[0]?.value;
  if (value?.$type !== 'List' || value.subject) return [];
  return value.entries
    .filter((entry) => entry.item)
    .map(keyName)
    .filter((name): name is string => name !== null && name !== 'others');
}

/** A label or a number as the key of a place; reported where the axis has no such label. */
export function axisKey(value: ast.Expr, axis: AxisId, env: Env): AxisKey | null {
  const labels = labelsOf(axis, env);
  const name = value.$type === 'Ref' && value.steps.length === 1 ? value.steps[0]!.name : null;
  if (name !== null) {
    if (labels?.includes(name)) return labelKey(name, value);
    reportNoLabel(name, [axis], target(env, value), env);
    return null;
  }
  if (labels) {
    env.report.add('axes.key-kind', target(env, value), {
      axis: env.draft.axes[axis]?.name ?? '',
      labels: listed(labels, 'and'),
    });
    return null;
  }
  const read = readExpression(value, { ...env, unit: null }, dueOf(null));
  if (read.op !== 'constant') return null;
  if (!isNoPlace(read.value, axis, env)) return numberKey(read.value, value);
  env.report.add('list.no-such-place', target(env, value), {
    key: textOf(value),
    axis: env.draft.axes[axis]?.name ?? '',
  });
  return null;
}

// ---- curves

type Curve = ValueType & { readonly is: 'curve' };

function readCurve(list: ast.List, type: Curve, env: Env, due: Due): Expr {
  const [first = plainNumber, second] = type.against;
  const keyUnit = list.unit ? readUnit(list.unit, list, 'unit', env) : null;
  const valueUnit = list.to ? readUnit(list.to, list, 'to', env) : null;
  const keysOf = dueOf(measureOf(first), [], `what ${due.what} is given for`);
  const valuesOf = dueOf(measureOf(type.result), [], due.what);
  const bare = list.entries.find((entry) => !entry.item);
  if (bare) env.report.add('axes.mixed-keys', target(env, list));
  const wrong = (unit: Unit | null, measure: Measure, property: string, words: Due): boolean =>
    unit !== null &&
    !canCompare(unit.measure, measure) &&
    reportWrongUnit(target(env, list, property), unit, measure, env, words);
  if (bare || wrong(keyUnit, first, 'unit', keysOf) || wrong(valueUnit, type.result, 'to', valuesOf))
    return nothing(list);
  const inKeys = { ...env, unit: keyUnit };
  const inValues = { ...env, unit: valueUnit };
  const keys = list.entries.map((entry) => readExpression(entry.value, inKeys, keysOf));
  const made = (all: readonly (readonly Expr[])[], values: readonly Expr[]): Expr =>
    rising({ op: 'curve', keys: all, values, type: typed(type), at: list }, env);
  if (!second)
    return made(
      [keys],
      list.entries.map((entry) => readExpression(entry.item!, inValues, valuesOf)),
    );
  const rows = curveRows(list, env);
  if (!rows) return nothing(list);
  const across = rows[0]!.entries.map((entry) =>
    readExpression(
      entry.value,
      { ...env, unit: unitOf(rows[0]!, env) },
      dueOf(measureOf(second), [], `what ${due.what} is given for`),
    ),
  );
  return made(
    [keys, across],
    rows.flatMap((row) => row.entries.map((entry) => readExpression(entry.item, inValues, valuesOf))),
  );
}

/** The rows of a curve of two arguments: all are given for the same figures. */
function curveRows(list: ast.List, env: Env): ast.List[] | null {
  const keysIn = (row: ast.Expr | undefined): string | null =>
    row?.$type === 'List' && row.entries.every((entry) => entry.item)
      ? row.entries.map((entry) => textOf(entry.value)).join(', ')
      : null;
  const keys = list.entries.map((entry) => keysIn(entry.item)).find((one) => one !== null) ?? null;
  const odd = list.entries.find((entry) => keysIn(entry.item) !== keys || keys === null);
  if (!odd) return list.entries.map((entry) => entry.item as ast.List);
  env.report.add('axes.curve-rows', target(env, odd, 'item'), { keys: keys ?? 'as in [0.5: …, 1: …]' });
  return null;
}

function unitOf(row: ast.List, env: Env): Env['unit'] {
  return row.unit ? readUnit(row.unit, row, 'unit', env) : null;
}

function rising(curve: Expr & { op: 'curve' }, env: Env): Expr {
  for (const keys of curve.keys) {
    for (let i = 1; i < keys.length; i++) {
      const [a, b] = [keys[i - 1]!, keys[i]!];
      if (a.op === 'constant' && b.op === 'constant' && !(b.value > a.value) && b.at) {
        env.report.add('axes.curve-rises', target(env, b.at), { key: textOf(b.at) });
        return nothing(curve.at);
      }
    }
  }
  return curve;
}
