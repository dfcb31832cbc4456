/** Places along axes that are known without a build: labels, and numbers on axes that start at a written number. */
import type { AstNode } from 'langium';
import type { AxisKey, Expr } from '../ir.ts';
import type { Env } from './env.ts';
import type { AxisId } from './type.ts';

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
  return Number.isInteger(place) && place >= 0 ? place : null;
}

export function labelsOf(axis: AxisId, env: Env): readonly string[] | null {
  const found = env.draft.axes[axis];
  if (!found) return null;
  return found.twinOf === null ? found.labels : (env.draft.axes[found.twinOf]?.labels ?? null);
}

/** The axis of this name among those given, or null; ambiguous where two mounts both have one. */
export function axisAmong(name: string, axes: readonly AxisId[], env: Env): AxisId | 'ambiguous' | null {
  const found = axes.filter((axis) => env.draft.axes[axis]?.name === name);
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
