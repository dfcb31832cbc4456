/** Places along axes that are known without a build: labels, and numbers on axes that start at a written number. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { AxisKey, Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf, type Target } from '../problems/report.ts';
import { target, type Env } from './env.ts';
import type { AxisId } from './type.ts';
import { listed as listedWords } from './words.ts';

/** The place (from 0) of a counted number; null where it is known only when a build settles the axis. */
export function placeOfNumber(value: number, axis: AxisId, env: Env): number | null {
  const found = env.draft.axes[axis];
  if (!found) return null;
  const { listed, range, labels } = found.twinOf === null ? found : (env.draft.axes[found.twinOf] ?? found);
  if (labels) return null;
  if (listed) {
    const place = listed.indexOf(value);
    return place < 0 ? null : place;
  }
  if (range?.from.op !== 'constant' || range.step) return null;
  const place = value - range.from.value;
  const last = range.to.op === 'constant' ? range.to.value : Number.POSITIVE_INFINITY;
  return Number.isInteger(place) && place >= 0 && value <= last ? place : null;
}

/** True where it is known without a build that the axis has no such number. */
export function isNoPlace(value: number, axis: AxisId, env: Env): boolean {
  const found = env.draft.axes[axis];
  const twin = found?.twinOf ?? null;
  const { listed, range } = (twin === null ? found : env.draft.axes[twin]) ?? { listed: null, range: null };
  const counted = listed !== null || (range?.from.op === 'constant' && !range.step);
  return counted && placeOfNumber(value, axis, env) === null;
}

/** A label that the axis does not have: what it has, and the nearest as fixes. */
export function reportNoLabel(name: string, axes: readonly AxisId[], at: Target, env: Env): void {
  const labels = axes.flatMap((axis) => labelsOf(axis, env) ?? []);
  const near = env.report.nearest(name, labels);
  const names = listedWords(
    axes.map((axis) => env.draft.axes[axis]?.name ?? ''),
    'or',
  );
  const words = labels.length > 0 ? `it has ${listedWords(labels, 'and')}` : 'its places are numbered';
  env.report.add(
    'name.no-such-label',
    at,
    { name, axis: names, labels: words, near: didYouMean(near) },
    { fixes: insteadOf(at, near) },
  );
}

export function labelsOf(axis: AxisId, env: Env): readonly string[] | null {
  const found = env.draft.axes[axis];
  if (!found) return null;
  return found.twinOf === null ? found.labels : (env.draft.axes[found.twinOf]?.labels ?? null);
}

/** `row` of `width[row: 2]`, `over row`; of `over left.row` also the way to it. */
export function noteAxis(name: ast.Expr | undefined, axis: AxisId, env: Env): void {
  const [last, ...way] = name?.$type === 'Ref' ? name.steps.toReversed() : [];
  if (!last) return;
  env.report.means(target(env, last, 'name'), { is: 'axis', draft: env.draft, axis });
  let mount = env.draft.axes[axis]?.mount ?? null;
  for (const step of way) {
    if (mount === null) return;
    env.report.means(target(env, step, 'name'), { is: 'mount', draft: env.draft, mount });
    mount = env.draft.mounts[mount]?.parent ?? null;
  }
}

/** A label where it stands as a key or a value. */
export function noteLabel(written: AstNode, label: string, axis: AxisId, env: Env): void {
  const step = written.$type === 'Ref' ? (written as ast.Ref).steps[0] : undefined;
  if (step) env.report.means(target(env, step, 'name'), { is: 'label', draft: env.draft, axis, label });
}

/** The axis of this name among those given, or null; ambiguous where two mounts both have one. `key` is that of "key of flow" too. */
export function axisAmong(name: string, axes: readonly AxisId[], env: Env): AxisId | 'ambiguous' | null {
  const found = axes.filter((axis) => {
    const { name: own, open } = env.draft.axes[axis] ?? { name: '', open: false };
    return own === name || (open && own.startsWith(`${name} of `));
  });
  if (found.length > 1) return 'ambiguous';
  return found[0] ?? null;
}

export function labelKey(label: string, at: AstNode): AxisKey {
  return { label, number: null, at };
}

export function numberKey(value: number, at: AstNode): AxisKey {
  return { label: null, number: value, at };
}

export function constantOf(expr: Expr): number | null {
  return expr.op === 'constant' ? expr.value : null;
}
