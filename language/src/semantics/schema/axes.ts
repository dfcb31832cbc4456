/** Axes of a component at its mount: labels, a list, a twin, or a range that a build settles. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import type { Declared } from '../names/library.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { due as dueOf, target, type Env } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { measureOf } from '../types/make.ts';
import type { AxisId } from '../types/type.ts';
import { textOf } from '../types/words.ts';
import { envOf, type Setting } from './build.ts';
import type { Draft } from './draft.ts';
import type { MountId, SchemaAxis } from './schema.ts';

/** Names first, so that a twin may stand before the axis that it is a twin of. */
export function declareAxes(draft: Draft, mount: MountId, axes: readonly Declared<ast.Axis>[], setting: Setting): void {
  const twins: { readonly item: ast.Axis; readonly env: Env; readonly axis: AxisId }[] = [];
  for (const { item, uri } of axes) {
    if (!item.name) continue;
    if (draft.mounts[mount]?.axisNames.has(item.name)) {
      setting.report.add('declare.twice', { uri, at: item, property: 'name' }, { name: item.name });
      continue;
    }
    const env = envOf(draft, mount, uri, setting);
    const common = {
      name: item.name,
      mount,
      range: null,
      listed: null,
      labels: null,
      twinOf: null,
      open: false,
      measure: null,
      doc: docOf(item),
      origin: { uri, at: item },
    };
    const axis = draft.addAxis({ ...common, ...shapeOf(item, env) });
    if (item.twin) twins.push({ item, env, axis });
  }
  for (const { item, env, axis } of twins) {
    const twinOf = axisOfTwin(item, env);
    if (twinOf !== null) draft.setTwin(axis, twinOf);
  }
  for (const { item, env, axis } of twins) settleTwin(item, axis, env);
}

function axisOfTwin(item: ast.Axis, env: Env): AxisId | null {
  if (item.twinWord !== 'is') {
    env.report.add('axes.twin', target(env, item, 'twinWord'), { name: item.name, twin: item.twin ?? '' });
    return null;
  }
  const twinOf = env.draft.axisNamed(item.twin ?? '', env.mount);
  if (twinOf === null) {
    const near = env.report.nearest(item.twin ?? '', env.draft.axisNames(env.mount));
    const at = target(env, item, 'twin');
    env.report.add(
      'name.no-such-axis',
      at,
      { name: item.twin ?? '', near: didYouMean(near) },
      { fixes: insteadOf(at, near) },
    );
  } else env.report.means(target(env, item, 'twin'), { is: 'axis', axis: twinOf, draft: env.draft });
  return twinOf;
}

/** The twin of a twin is a twin of the first; twins in a circle have no places. */
function settleTwin(item: ast.Axis, axis: AxisId, env: Env): void {
  const passed = new Set<AxisId>([axis]);
  let root = env.draft.axes[axis]!.twinOf;
  while (root !== null && !passed.has(root)) {
    const next = env.draft.axes[root]!.twinOf;
    if (next === null) break;
    passed.add(root);
    root = next;
  }
  if (root !== null && passed.has(root)) {
    env.report.add('axes.twin-circle', target(env, item, 'name'), { name: item.name });
    root = null;
  }
  env.draft.setTwin(axis, root);
}

function shapeOf(item: ast.Axis, env: Env): Partial<SchemaAxis> {
  const [first] = item.bounds;
  if (item.twin || !first || (first.$type === 'Binary' && first.operator === '..' && item.bounds.length === 1))
    return {};
  if (first.$type === 'List' && item.bounds.length === 1) return listedPlaces(first, item, env);
  const labels = item.bounds.map((bound) =>
    bound.$type === 'Ref' && bound.steps.length === 1 && !bound.steps[0]!.call && bound.steps[0]!.keys.length === 0
      ? bound.steps[0]!.name
      : null,
  );
  const odd = labels.indexOf(null);
  if (odd >= 0) return noShape(item, odd, env);
  labels.forEach((label, i) => {
    if (label === 'others') env.report.add('name.reserved', target(env, item.bounds[i]!), { name: label });
    if (labels.indexOf(label) < i) env.report.add('axes.duplicate-key', target(env, item.bounds[i]!), { key: label! });
  });
  return { labels: [...new Set(labels.filter((label) => label !== null))] };
}

function listedPlaces(list: ast.List, item: ast.Axis, env: Env): Partial<SchemaAxis> {
  const figures = list.entries.map(({ value, item: named }) =>
    value.$type === 'Quantity' && !value.unit && !named ? Number(value.number) : Number.NaN,
  );
  if (figures.some((figure) => Number.isNaN(figure)) || figures.length === 0) return noShape(item, 0, env);
  figures.forEach((figure, i) => {
    if (figures.indexOf(figure) < i)
      env.report.add('axes.duplicate-key', target(env, list.entries[i]!), { key: String(figure) });
  });
  return { listed: [...new Set(figures)] };
}

function noShape(item: ast.Axis, index: number, env: Env): Partial<SchemaAxis> {
  env.report.add('axes.shape', target(env, item.bounds[index]!), { name: item.name });
  return {};
}

/** Ranges are read once all figures have names; an axis's size may not vary along another axis. */
export function readRanges(draft: Draft, setting: Setting, from = 0): void {
  for (let id = from; id < draft.axes.length; id++) {
    const axis = draft.axes[id]!;
    const item = axis.origin.at as ast.Axis;
    const [bounds] = item.$type === 'Axis' && !axis.labels && !axis.listed && axis.twinOf === null ? item.bounds : [];
    if (bounds?.$type !== 'Binary' || bounds.operator !== '..') continue;
    const env = envOf(draft, axis.mount, axis.origin.uri, setting);
    const read = readExpression(bounds, env, dueOf(null));
    if (read.op !== 'limits' || !read.low || !read.high) continue;
    if (read.type.axes.length > 0) {
      setting.report.add('axes.size-depends', target(env, item, 'bounds', 0));
      continue;
    }
    const measured = read.type.value.is === 'limits' && !isNone(read.type.value.measure.dimension);
    if (measured && !item.step) {
      setting.report.add('axes.step', target(env, bounds), { range: textOf(bounds) });
      continue;
    }
    const step = item.step
      ? readExpression(
          item.step,
          env,
          dueOf(
            read.type.value.is === 'limits' ? measureOf(read.type.value.measure) : null,
            [],
            `the step of ${axis.name}`,
          ),
        )
      : null;
    const measure = read.type.value.is === 'limits' && step ? read.type.value.measure : null;
    draft.setRange(id, { from: read.low, to: read.high, step }, measure);
  }
}
