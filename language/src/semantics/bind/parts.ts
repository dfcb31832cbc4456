/** A part put on a mount: its own figures, those of the part it starts from, and the parts inside it. */
import type * as ast from '../../grammar/generated/ast.ts';
import { nearest } from '@thou/shared/number/nearest';
import type { SlotId } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import type { MountId } from '../schema/schema.ts';
import { labelsOf } from '../types/axes.ts';
import { target, type Env, type PartSeen } from '../types/env.ts';
import { axisKey } from '../types/lists.ts';
import { textOf } from '../types/words.ts';
import type { AxisId } from '../types/type.ts';
import { bindBody } from './body.ts';
import { noNotes, type Place } from './collect.ts';

/** The value of a mount: a part by name, or a list of parts along the mount's axes. */
export function bindMountValue(value: ast.Expr, mount: MountId, place: Place, env: Env): void {
  const { component, path, axes } = place.draft.mounts[mount]!;
  if (value.$type === 'List') {
    const left = axes.filter((axis) => !place.selector.some((one) => one.axis === axis));
    bindPartList(value, mount, left, place, env);
    return;
  }
  const name = partName(value);
  if (name === null) {
    env.report.add('given.part-due', target(env, value), { path, component });
    return;
  }
  const seen = env.parts.find(name);
  if (!seen) {
    const near = nearest(name, env.parts.names(component));
    const at = target(env, value);
    env.report.add('name.no-such-part', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near.map(written)) });
  } else if (seen.item.kind !== component) {
    env.report.add('given.wrong-part', target(env, value), { name, component: seen.item.kind, path: path || 'this', due: component });
  } else fitPart(seen, mount, value, place, env);
}

/** A part's name as it is written: in quotes where it is no plain name. */
function written(name: string): string {
  return /^[A-Za-z_]\w*(-\w+)*$/.test(name) ? name : `"${name}"`;
}

function partName(value: ast.Expr): string | null {
  if (value.$type === 'Text') return value.text;
  return value.$type === 'Ref' && value.steps.length === 1 && !value.steps[0]!.call && value.steps[0]!.keys.length === 0 ? value.steps[0]!.name : null;
}

function bindPartList(list: ast.List, mount: MountId, axes: readonly AxisId[], place: Place, env: Env): void {
  const labels = list.entries.map((entry) => (entry.item ? textOf(entry.value) : null));
  const axis = axes.find((one) => labels.some((label) => label !== null && labelsOf(one, env)?.includes(label))) ?? axes.find((one) => !labelsOf(one, env));
  if (axis === undefined) {
    env.report.add('axes.list-unplaced', target(env, list), { what: place.draft.mounts[mount]!.path });
    return;
  }
  const others = list.entries.find((entry) => entry.item && textOf(entry.value) === 'others');
  if (others?.item) bindMountValue(others.item, mount, place, env);
  list.entries.forEach((entry, i) => {
    if (entry === others) return;
    const key = entry.item ? axisKey(entry.value, axis, env) : placeKey(axis, i, list, env);
    if (key) bindMountValue(entry.item ?? entry.value, mount, { ...place, selector: [...place.selector, { axis, key }] }, env);
  });
}

/** Entries without names stand in order. */
function placeKey(axis: AxisId, place: number, list: ast.List, env: Env): ReturnType<typeof axisKey> {
  const label = labelsOf(axis, env)?.[place];
  return label === undefined ? { label: null, number: place + 1, at: list } : { label, number: null, at: list };
}

function fitPart(seen: PartSeen, mount: MountId, at: ast.Expr, place: Place, env: Env): void {
  const { into, selector } = place;
  const id = into.nextPart();
  if (selector.length === 0) dropEarlier(mount, place);
  into.parts.push({ id, mount, selector, part: seen.item.name, layer: place.layer, order: into.nextOrder(), origin: { uri: place.uri, at } });
  into.setMounts.add(mount);
  layOut(seen, mount, { ...place, part: id, partsRound: place.partsRound }, env);
}

/** A part put over the whole of a mount takes away the one before it, and what was inside that. */
function dropEarlier(mount: MountId, place: Place): void {
  const { into, draft } = place;
  const gone = new Set(into.parts.filter((one) => draft.isBelow(one.mount, mount)).map(({ id }) => id));
  if (gone.size === 0) return;
  into.parts.splice(0, into.parts.length, ...into.parts.filter(({ id }) => !gone.has(id)));
  into.assignments.splice(0, into.assignments.length, ...into.assignments.filter(({ part }) => part === null || !gone.has(part)));
}

/** The figures of the part it starts from come first, so that its own speak. A part is read as its own file means it. */
export function layOut(seen: PartSeen, mount: MountId, place: Place, env: Env): void {
  const { item, uri } = seen;
  if (place.partsRound.includes(item.name)) {
    env.report.add('given.part-circle', { uri, at: item, property: 'name' }, { name: item.name });
    return;
  }
  const inside: Place = { ...place, uri, setting: { ...place.setting, parts: place.setting.partsOf(uri) }, mount, layer: 'part', order: null, notes: noNotes, whose: item.name, partsRound: [...place.partsRound, item.name] };
  if (item.base) {
    const base = inside.setting.parts.find(item.base);
    const at = { uri, at: item, property: 'base' };
    const near = base ? [] : nearest(item.base, inside.setting.parts.names(item.kind));
    if (!base) env.report.add('name.no-such-part', at, { name: item.base, near: didYouMean(near) }, { fixes: insteadOf(at, near.map(written)) });
    else if (base.item.kind !== item.kind) env.report.add('given.wrong-part', at, { name: item.base, component: base.item.kind, path: item.name, due: item.kind });
    else layOut(base, mount, inside, env);
  }
  bindBody(item.body, inside);
}

/** The family that the part fitted at this figure's mount belongs to, where it comes in sizes. */
export function familyOf(slotId: SlotId, place: Place): { readonly given: ast.Given; readonly uri: string } | null {
  const slot = place.draft.slots[slotId]!;
  const fitted = place.into.parts.filter((one) => one.mount === slot.mount).at(-1);
  let seen = fitted ? place.setting.parts.find(fitted.part) : undefined;
  for (let steps = 0; seen && steps < 64; steps++) {
    const given = seen.item.body?.members.find((member): member is ast.Given => member.$type === 'Given' && member.path?.steps.length === 1 && member.path.steps[0]!.name === slot.name);
    if (given) return given.step ? { given, uri: seen.uri } : null;
    seen = seen.item.base ? place.setting.parts.find(seen.item.base) : undefined;
  }
  return null;
}
