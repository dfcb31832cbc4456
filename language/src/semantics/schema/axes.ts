/** Axes of a component at its mount: labels, a list, a twin, or a range that a build settles. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import { nearest } from '@thou/shared/number/nearest';
import type { Declared } from '../names/library.ts';
import { didYouMean } from '../problems/messages.ts';
import { due as dueOf, target } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { textOf } from '../types/words.ts';
import { envOf, type Setting } from './build.ts';
import type { Draft } from './draft.ts';
import type { MountId, SchemaAxis } from './schema.ts';

export function declareAxes(draft: Draft, mount: MountId, axes: readonly Declared<ast.Axis>[], setting: Setting): void {
  for (const { item, uri } of axes) {
    if (!item.name) continue;
    if (draft.mounts[mount]?.axisNames.has(item.name)) {
      setting.report.add('declare.twice', { uri, at: item, property: 'name' }, { name: item.name });
      continue;
    }
    const common = { name: item.name, mount, range: null, listed: null, labels: null, twinOf: null, open: false, measure: null, doc: docOf(item), origin: { uri, at: item } };
    draft.addAxis({ ...common, ...shapeOf(item, uri, draft, mount, setting) });
  }
}

function shapeOf(item: ast.Axis, uri: string, draft: Draft, mount: MountId, setting: Setting): Partial<SchemaAxis> {
  const env = envOf(draft, mount, uri, setting);
  if (item.twin) {
    const twinOf = draft.axisNamed(item.twin, mount);
    if (twinOf !== null && item.twinWord === 'is') return { twinOf };
    const near = nearest(item.twin, draft.axisNames(mount));
    setting.report.add('name.no-such-axis', target(env, item, twinOf === null ? 'twin' : 'twinWord'), { name: twinOf === null ? item.twin : (item.twinWord ?? ''), near: didYouMean(near) });
    return {};
  }
  const [first] = item.bounds;
  if (first?.$type === 'List') return { listed: first.entries.map((entry) => (entry.value.$type === 'Quantity' ? Number(entry.value.number) : Number.NaN)) };
  if (item.bounds.length > 1 || first?.$type === 'Ref') {
    return { labels: item.bounds.map((bound) => (bound.$type === 'Ref' && bound.steps.length === 1 ? bound.steps[0]!.name : textOf(bound))) };
  }
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
    const step = item.step ? readExpression(item.step, env, dueOf(null)) : null;
    const measure = read.type.value.is === 'limits' && step ? read.type.value.measure : null;
    draft.setRange(id, { from: read.low, to: read.high, step }, measure);
  }
}
