/** A part put on a mount: its own figures, those of the part it starts from, and the parts inside it. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { SlotId } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf, Silence, type Target } from '../problems/report.ts';
import type { MountId } from '../schema/schema.ts';
import { labelsOf } from '../types/axes.ts';
import { target, type Env, type PartSeen } from '../types/env.ts';
import { axisKey, checkKeys } from '../types/lists.ts';
import { axesWords, textOf } from '../types/words.ts';
import type { AxisId } from '../types/type.ts';
import { bindBody } from './body.ts';
import { fittedAt, noNotes, type Place } from './collect.ts';

/** The value of a mount: a part by name, or a list of parts along the mount's axes. */
export function bindMountValue(value: ast.Expr, mount: MountId, place: Place, env: Env): void {
  const { component, path, axes } = place.draft.mounts[mount]!;
  if (value.$type === 'List') {
    const left = axes.filter((axis) => !place.selector.some((one) => one.axis === axis));
    bindPartList(value, mount, left, place, env);
    return;
  }
  if (isUnfinished(value)) return;
  const name = partName(value);
  if (name === null) {
    env.report.add('given.part-due', target(env, value), { path, component });
    return;
  }
  const seen = env.parts.find(name);
  if (!seen) {
    if (!env.parts.complete) return;
    const near = env.report.nearest(name, env.parts.names(component));
    const at = target(env, value);
    env.report.add(
      'name.no-such-part',
      at,
      { name, near: didYouMean(near) },
      { fixes: insteadOf(at, near.map(written)) },
    );
  } else if (seen.item.kind !== component) {
    env.report.add('given.wrong-part', target(env, value), {
      name,
      component: seen.item.kind,
      path: path || 'this',
      due: component,
    });
  } else {
    const word = value.$type === 'Ref' ? target(env, value.steps[0]!, 'name') : target(env, value, 'text');
    env.report.means(word, { is: 'part', origin: { uri: seen.uri, at: seen.item } });
    fitPart(seen, mount, value, place);
  }
}

/** A part's name as it is written: in quotes where it is no plain name. */
function written(name: string): string {
  return /^[A-Za-z_]\w*(-\w+)*$/.test(name) ? name : `"${name}"`;
}

/** `unknown(…)`: nothing is fitted yet, or the line is not finished, which was told already. */
function isUnfinished(value: ast.Expr): boolean {
  return (
    value.$type === 'Ref' &&
    value.steps.length === 1 &&
    value.steps[0]!.name === 'unknown' &&
    value.steps[0]!.call !== undefined
  );
}

function partName(value: ast.Expr): string | null {
  if (value.$type === 'Text') return value.text;
  return value.$type === 'Ref' && value.steps.length === 1 && !value.steps[0]!.call && value.steps[0]!.keys.length === 0
    ? value.steps[0]!.name
    : null;
}

function bindPartList(list: ast.List, mount: MountId, axes: readonly AxisId[], place: Place, env: Env): void {
  if (axes.length === 0) {
    const { path, component } = place.draft.mounts[mount]!;
    env.report.add('given.part-list', target(env, list), { path, component });
    return;
  }
  if (!checkKeys(list, env)) return;
  const labels = list.entries.map((entry) => (entry.item ? textOf(entry.value) : null));
  const axis =
    axes.find((one) => labels.some((label) => label !== null && labelsOf(one, env)?.includes(label))) ??
    axes.find((one) => !labelsOf(one, env));
  if (axis === undefined) {
    env.report.add('axes.list-unplaced', target(env, list), { axes: axesWords(axes, env) });
    return;
  }
  const others = list.entries.find((entry) => entry.item && textOf(entry.value) === 'others');
  if (others?.item) bindMountValue(others.item, mount, place, env);
  list.entries.forEach((entry, i) => {
    if (entry === others) return;
    const key = entry.item ? axisKey(entry.value, axis, env) : placeKey(axis, i, list, env);
    if (key)
      bindMountValue(entry.item ?? entry.value, mount, { ...place, selector: [...place.selector, { axis, key }] }, env);
  });
}

/** Entries without names stand in order. */
function placeKey(axis: AxisId, place: number, list: ast.List, env: Env): ReturnType<typeof axisKey> {
  const label = labelsOf(axis, env)?.[place];
  return label === undefined ? { label: null, number: place + 1, at: list } : { label, number: null, at: list };
}

function fitPart(seen: PartSeen, mount: MountId, at: ast.Expr, place: Place): void {
  const { into, selector } = place;
  const id = into.nextPart();
  if (selector.length === 0) dropEarlier(mount, place);
  into.parts.push({
    id,
    mount,
    selector,
    part: seen.item.name,
    declared: seen.item,
    layer: place.layer,
    order: into.nextOrder(),
    origin: { uri: place.uri, at },
  });
  into.setMounts.add(mount);
  layOut(seen, mount, { ...place, part: id });
}

/** A part put over the whole of a mount takes away the one before it, and what was inside that. */
function dropEarlier(mount: MountId, place: Place): void {
  const { into, draft } = place;
  const gone = new Set(into.parts.filter((one) => draft.isBelow(one.mount, mount)).map(({ id }) => id));
  if (gone.size === 0) return;
  into.parts.splice(0, into.parts.length, ...into.parts.filter(({ id }) => !gone.has(id)));
  into.assignments.splice(
    0,
    into.assignments.length,
    ...into.assignments.filter(({ part }) => part === null || !gone.has(part)),
  );
}

/** The figures of the part it starts from come first, so that its own speak. A part is read as its own file means it. */
function layOut(seen: PartSeen, mount: MountId, place: Place): void {
  for (const one of lineOf(seen, place)) {
    const { item, uri } = one;
    const inside = inFileOf(one, place);
    bindBody(item.body, {
      ...inside,
      uri,
      mount,
      layer: 'part',
      order: null,
      notes: noNotes,
      given: new Map(),
      whose: item.name,
      partsRound: [...place.partsRound, item.name],
    });
  }
}

function inFileOf({ uri }: PartSeen, place: Place): Place {
  return { ...place, uri, setting: { ...place.setting, parts: place.setting.partsOf(uri) } };
}

/** A part with those that it starts from, the first of them first. What is wrong with the line is told and cut off. */
function lineOf(seen: PartSeen, place: Place): PartSeen[] {
  const line: PartSeen[] = [];
  const names = new Set(place.partsRound);
  for (let at: PartSeen | null = seen; at; at = baseOf(at, place)) {
    if (names.has(at.item.name)) {
      place.setting.report.add(
        'given.part-circle',
        { uri: at.uri, at: at.item, property: 'name' },
        { name: at.item.name },
      );
      break;
    }
    names.add(at.item.name);
    line.unshift(at);
  }
  return line;
}

/** The part that another starts from; null where it starts from none, or from one that was reported. */
export function baseOf(seen: PartSeen, place: Place): PartSeen | null {
  const { item, uri } = seen;
  if (!item.base) return null;
  const { parts, report } = inFileOf(seen, place).setting;
  const base = parts.find(item.base);
  const at: Target = { uri, at: item, property: 'base' };
  if (base) report.means(at, { is: 'part', origin: { uri: base.uri, at: base.item } });
  if (base?.item.kind === item.kind) return base;
  const near = base ? [] : report.nearest(item.base, parts.names(item.kind));
  if (base)
    report.add('given.wrong-part', at, { name: item.base, component: base.item.kind, path: item.name, due: item.kind });
  else if (parts.complete)
    report.add(
      'name.no-such-part',
      at,
      { name: item.base, near: didYouMean(near) },
      { fixes: insteadOf(at, near.map(written)) },
    );
  return null;
}

/** The sizes that the part at this figure's mount comes in, if it does: of the part fitted, or of what the part being read starts from. */
export function familyOf(slotId: SlotId, place: Place): { readonly given: ast.Given; readonly uri: string } | null {
  const slot = place.draft.slots[slotId]!;
  const isPart = place.layer === 'part' && slot.mount === place.mount;
  const name = isPart ? place.whose : fittedAt(slot.mount, place.into.parts);
  const first = name === null ? undefined : place.setting.parts.find(name);
  const passed = new Set<string>();
  const silent: Place = { ...place, setting: { ...place.setting, report: new Silence() } };
  for (
    let seen = first && isPart ? baseOf(first, silent) : first;
    seen && !passed.has(seen.item.name);
    seen = baseOf(seen, silent)
  ) {
    passed.add(seen.item.name);
    const given = seen.item.body?.members.find(
      (member): member is ast.Given =>
        member.$type === 'Given' && member.path?.steps.length === 1 && member.path.steps[0]!.name === slot.name,
    );
    if (given) return given.step ? { given, uri: seen.uri } : null;
  }
  return null;
}
