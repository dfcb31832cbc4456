/** `[…]`: figures along an axis, a figure for each choice, a curve, or cells from a file. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { AxisKey, Expr } from '../ir.ts';
import { isNoPlace, labelKey, labelsOf, noteLabel, numberKey, reportNoLabel } from './axes.ts';
import { readByChoice } from './by-choice.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { reportListUnit } from './list-units.ts';
import { readUnit, withTrailingUnit } from './literals.ts';
import { nothing, typed, unionAxes } from './make.ts';
import type { AxisId } from './type.ts';
import { axesWords, listed, textOf } from './words.ts';
import { readCurve } from './written-curves.ts';

export function readList(list: ast.List, env: Env, due: Due): Expr {
  if (list.subject) return readByChoice(list, env, due);
  if (due.type?.is === 'curve') return readCurve(list, due.type, env, due);
  return readAlongAxis(list, env, due);
}

/** Bare figures of a list take its unit, or that of its last figure, or that of the list round it. */
export function unitInside(list: ast.List, env: Env): Env {
  if (list.unit) return { ...env, unit: readUnit(list.unit, list, 'unit', env) };
  return withTrailingUnit(list, env);
}

export function keyName(entry: ast.Entry): string | null {
  const { value } = entry;
  return value.$type === 'Ref' && value.steps.length === 1 && !value.steps[0]!.call && value.steps[0]!.keys.length === 0
    ? value.steps[0]!.name
    : null;
}

function readAlongAxis(list: ast.List, env: Env, due: Due): Expr {
  const axis = axisOf(list, due.axes, env);
  if (axis === null) {
    const deeper = due.axes.length === 0;
    if (deeper) env.report.add('axes.list-deep', target(env, list), { what: due.what });
    else env.report.add('axes.list-unplaced', target(env, list), { axes: axesWords(due.axes, env) });
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
    if (labels?.includes(name)) {
      noteLabel(value, name, axis, env);
      return labelKey(name, value);
    }
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
