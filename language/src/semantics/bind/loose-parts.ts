/** Parts of a file are read once on their own, so that a library without a build is checked as well. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf, type SourceFile } from '../../grammar/file.ts';
import { itemsOf } from '../names/scope.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { Draft } from '../schema/draft.ts';
import { readPending } from '../schema/formulas.ts';
import { declareMembers, type Pending } from '../schema/members.ts';
import { bindBody } from './body.ts';
import type { PartSeen } from '../types/env.ts';
import type { Ground } from './build.ts';
import { Collected, noNotes, type Place } from './collect.ts';
import { baseOf } from './parts.ts';

export function checkParts(file: SourceFile, ground: Ground): void {
  const parts = itemsOf(file).filter((item): item is ast.Part => item.$type === 'Part');
  if (parts.length === 0) return;
  const draft = new Draft(ground.setting.library.rootName, ground.draft);
  const settled = new Set<ast.Part>();
  const mounts = new Map(draft.mounts.map((mount) => [mount.component, mount.id]));
  for (const item of parts) {
    if (!item.name || !item.kind) continue;
    const mount = mounts.get(item.kind) ?? looseMount(item, file.uri, draft, mounts, ground);
    if (mount === null) continue;
    const place: Place = {
      setting: ground.setting,
      draft,
      into: new Collected(),
      uri: file.uri,
      mount,
      selector: [],
      layer: 'part',
      order: null,
      part: 0,
      block: null,
      notes: noNotes,
      given: new Map(),
      whose: item.name,
      partsRound: [],
    };
    checkPart({ item, uri: file.uri }, place, settled);
  }
}

/** Its own figures only: what it starts from is read in its own turn. `settled`: parts that start from no circle. */
function checkPart(seen: PartSeen, place: Place, settled: Set<ast.Part>): void {
  const passed = new Set<ast.Part>();
  let at: PartSeen | null = seen;
  for (; at && !settled.has(at.item) && !passed.has(at.item); at = baseOf(at, place)) passed.add(at.item);
  if (at?.item === seen.item && passed.has(seen.item))
    place.setting.report.add(
      'given.part-circle',
      { uri: seen.uri, at: seen.item, property: 'name' },
      { name: seen.item.name },
    );
  else if (!at || settled.has(at.item)) for (const one of passed) settled.add(one);
  bindBody(seen.item.body, { ...place, partsRound: [seen.item.name] });
}

/** A component that nothing mounts gets a place of its own, for reading only. */
function looseMount(
  item: ast.Part,
  uri: string,
  draft: Draft,
  mounts: Map<string, number>,
  ground: Ground,
): number | null {
  const { library, report } = ground.setting;
  const component = library.components.get(item.kind);
  if (!component) {
    const near = report.nearest(item.kind, library.components.keys());
    const at = { uri, at: item, property: 'kind' };
    report.add(
      'name.no-such-component',
      at,
      { name: item.kind, near: didYouMean(near) },
      { fixes: insteadOf(at, near) },
    );
    return null;
  }
  const mount = draft.addMount(item.kind, null, item.kind, [], false, docOf(component.item), {
    uri: component.uri,
    at: component.item,
  });
  const pending: Pending[] = [];
  declareMembers(draft, mount, component, ground.setting, pending, [item.kind]);
  readPending(draft, pending, { ...ground.setting });
  mounts.set(item.kind, mount);
  return mount;
}
