/** A path on the left of a figure: from a body's mount down to a figure or a mount, with the cells it picks. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Selector } from '../bind/binding.ts';
import type { AxisKey, SlotId } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import type { Found } from '../schema/draft.ts';
import type { AdjustTarget } from '../schema/schema.ts';
import { axisAmong, labelsOf, noteAxis, reportNoLabel } from '../types/axes.ts';
import { target, type Env } from '../types/env.ts';
import { reportNoAxis } from '../types/indices.ts';
import { axisKey } from '../types/lists.ts';
import type { AxisId } from '../types/type.ts';
import { listed, textOf } from '../types/words.ts';

export interface PathFound {
  readonly found: Found;
  readonly selector: Selector;
  readonly text: string;
}

/** Within the body of a mount: only what is inside it. */
export function resolveGiven(path: ast.Path, env: Env): PathFound | null {
  return resolve(path, (name) => env.draft.inside(env.mount, name), unknownInside, env);
}

/** In formulas and rules: also what stands round the mount. */
function resolveAround(path: ast.Path, env: Env): PathFound | null {
  return resolve(
    path,
    (name) => env.draft.lookUp(name, env.mount) ?? (name === env.draft.rootAlias ? { is: 'mount', mount: 0 } : null),
    unknownAround,
    env,
  );
}

export function resolveFigure(path: ast.Path, env: Env): SlotId | null {
  const found = resolveAround(path, env);
  return found?.found.is === 'slot' ? found.found.slot : null;
}

/** What a rule may turn. */
export function resolveTarget(path: ast.Path, env: Env): Pick<AdjustTarget, 'slot' | 'keys'> | null {
  const found = resolveAround(path, env);
  if (found?.found.is !== 'slot') return null;
  const keys = found.selector.map(({ axis, key }) => ({ axis, number: key.number, label: key.label }));
  return { slot: found.found.slot, keys };
}

type Unknown = (step: ast.PathStep, env: Env) => void;

function resolve(path: ast.Path, first: (name: string) => Found | null, unknown: Unknown, env: Env): PathFound | null {
  let found: Found | null = null as Found | null;
  const selector: { axis: AxisId; key: AxisKey }[] = [];
  for (const [i, step] of path.steps.entries()) {
    if (!step.name) return null;
    const next: Found | null =
      found === null ? first(step.name) : found.is === 'mount' ? env.draft.inside(found.mount, step.name) : null;
    if (!next) {
      if (i === 0) unknown(step, env);
      else unknownStep(path, i, found!, env);
      return null;
    }
    found = next;
    env.report.means(target(env, step, 'name'), { ...found, draft: env.draft });
    const open = openAxes(found, selector, env);
    for (const entry of step.keys) {
      const key = readKey(entry, open, env);
      if (!key) return null;
      selector.push(key);
      open.splice(open.indexOf(key.axis), 1);
    }
  }
  return found && { found, selector, text: textOf(path) };
}

function openAxes(found: Found, taken: Selector, env: Env): AxisId[] {
  const axes = found.is === 'slot' ? env.draft.slots[found.slot]!.axes : env.draft.mounts[found.mount]!.axes;
  return axes.filter((axis) => !taken.some((one) => one.axis === axis));
}

function readKey(entry: ast.Entry, open: readonly AxisId[], env: Env): { axis: AxisId; key: AxisKey } | null {
  const name = entry.value.$type === 'Ref' && entry.value.steps.length === 1 ? entry.value.steps[0]!.name : null;
  if (entry.item) {
    const axis = name === null ? null : axisAmong(name, open, env);
    if (typeof axis === 'number') {
      noteAxis(entry.value, axis, env);
      return keyed(entry.item, axis, env);
    }
    reportNoAxis(entry, open, env);
    return null;
  }
  const axis =
    name === null ? open.find((one) => !labelsOf(one, env)) : open.find((one) => labelsOf(one, env)?.includes(name));
  if (axis !== undefined) return keyed(entry.value, axis, env);
  const labels = open.flatMap((one) => labelsOf(one, env) ?? []);
  if (open.length === 0)
    env.report.add('axes.key-left', target(env, entry), { value: textOf(entry.$container?.$container ?? null) });
  else if (name === null)
    env.report.add('axes.key-kind', target(env, entry), {
      axis: env.draft.axes[open[0]!]?.name ?? '',
      labels: listed(labels, 'and'),
    });
  else {
    const labelled = open.filter((one) => labelsOf(one, env));
    reportNoLabel(name, labelled.length > 0 ? labelled : open, target(env, entry), env);
  }
  return null;
}

function keyed(value: ast.Expr, axis: AxisId, env: Env): { axis: AxisId; key: AxisKey } | null {
  const key = axisKey(value, axis, env);
  return key && { axis, key };
}

function unknownStep(path: ast.Path, i: number, within: Found, env: Env): void {
  const owner = within.is === 'mount' ? env.draft.mountWords(within.mount) : `"${path.steps[i - 1]!.name}"`;
  reportNotInside(path.steps[i]!, owner, within.is === 'mount' ? env.draft.namesInside(within.mount) : [], env);
}

const mostWays = 3;

/** A practice may begin at a component. A figure may stand further in than where it was looked for. */
function unknownInside(step: ast.PathStep, env: Env): void {
  const components = /^[A-Z]/.test(step.name) ? env.library.components.keys() : [];
  const names = [...env.draft.namesInside(env.mount), ...components];
  const below = env.draft.waysDown(step.name, env.mount).slice(0, mostWays);
  reportNotInside(step, env.draft.mountWords(env.mount), names, env, below);
}

function unknownAround(step: ast.PathStep, env: Env): void {
  const near = env.report.nearest(step.name, env.draft.namesSeen(env.mount));
  const at = target(env, step, 'name');
  env.report.add('name.unknown', at, { name: step.name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
}

/** `known`: what is surely meant, where that is known. */
function reportNotInside(
  step: ast.PathStep,
  owner: string,
  names: readonly string[],
  env: Env,
  known: readonly string[] = [],
): void {
  const near = known.length > 0 ? known : env.report.nearest(step.name, names);
  const at = target(env, step, 'name');
  env.report.add(
    'name.not-inside',
    at,
    { owner, name: step.name, near: didYouMean(near) },
    { fixes: insteadOf(at, near) },
  );
}
