/** Figures that every build of a scope starts from: what mounts start with, and what practice holds to. */
import type * as ast from '../../grammar/generated/ast.ts';
import { sourceText } from '../../grammar/file.ts';
import { textOf } from '../types/words.ts';
import type { Assignment } from './binding.ts';
import { libraryDistance, type Declared } from '../names/library.ts';
import type { Setting } from '../schema/build.ts';
import type { Draft, MountDefault } from '../schema/draft.ts';
import { bindBody, envHere } from './body.ts';
import { Collected, noNotes, type Place } from './collect.ts';
import { bindMountValue } from './parts.ts';

export function collectShared(draft: Draft, setting: Setting, practices: readonly Declared<ast.Practice>[]): Collected {
  const into = new Collected();
  const start: Omit<Place, 'mount' | 'uri' | 'layer' | 'order' | 'whose'> = {
    setting,
    draft,
    into,
    selector: [],
    part: null,
    block: null,
    notes: noNotes,
    given: new Map(),
    partsRound: [],
  };
  for (const one of draft.mountDefaults)
    bindDefault(one, {
      ...start,
      given: new Map(),
      mount: one.parent,
      uri: one.declared.uri,
      layer: 'mount-default',
      order: null,
      whose: 'the trade library',
    });
  for (const practice of [...practices].sort((a, b) => b.distance - a.distance)) bindPractice(practice, start);
  reportClashes(into, setting);
  return into;
}

function bindDefault(one: MountDefault, place: Place): void {
  const { item } = one.declared;
  const env = envHere(place);
  if (item.value)
    bindMountValue(
      item.value,
      one.mount,
      { ...place, mount: one.mount, setting: { ...place.setting, parts: place.setting.partsOf(one.declared.uri) } },
      { ...env, parts: place.setting.partsOf(one.declared.uri) },
    );
  if (item.body) bindBody(item.body, { ...place, mount: one.mount });
}

/** Nearer files speak over farther ones; a path may begin at a component, for all its mounts. */
function bindPractice(
  practice: Declared<ast.Practice>,
  start: Omit<Place, 'mount' | 'uri' | 'layer' | 'order' | 'whose'>,
): void {
  const { item, uri, distance } = practice;
  const base: Place = {
    ...start,
    given: new Map(),
    uri,
    mount: 0,
    layer: 'practice',
    order: -distance,
    whose: item.label || 'practice',
  };
  const members = item.body?.members ?? [];
  const ofComponent = (member: ast.Member): string | null => {
    const first = member.$type === 'Given' ? member.path?.steps[0]?.name : undefined;
    return first !== undefined && start.setting.library.components.has(first) ? first : null;
  };
  bindBody(
    bodyOf(
      item,
      members.filter((member) => ofComponent(member) === null),
    ),
    base,
  );
  for (const member of members) {
    const component = ofComponent(member);
    if (component === null || member.$type !== 'Given') continue;
    const inside = bodyOf(item, [withoutFirst(member)]);
    for (const mount of start.draft.mounts) {
      if (mount.component === component) bindBody(inside, { ...base, mount: mount.id });
    }
  }
}

function bodyOf(practice: ast.Practice, members: readonly ast.Member[]): ast.Body {
  return { ...practice.body, members: [...members] };
}

/** `Plate.limits: …` read at a mount of that component. */
function withoutFirst(given: ast.Given): ast.Given {
  const path = { ...given.path, steps: given.path.steps.slice(1) };
  if (path.steps.length > 0) return Object.assign(Object.create(given) as ast.Given, { path });
  return given;
}

/** Two files at one distance that give different figures, and none nearer: told where the later one is used. */
function reportClashes(into: Collected, setting: Setting): void {
  const practice = into.assignments.filter(({ layer }) => layer === 'practice');
  const cellsOf = ({ slot, selector }: Assignment): string =>
    `${slot} ${selector.map(({ axis, key }) => `${axis}:${key.label ?? key.number}`).join(' ')}`;
  const nearestOf = new Map<string, number>();
  for (const one of practice)
    nearestOf.set(cellsOf(one), Math.max(nearestOf.get(cellsOf(one)) ?? Number.NEGATIVE_INFINITY, one.order));
  const first = new Map<string, Assignment>();
  for (const one of practice) {
    const cells = cellsOf(one);
    if (one.order === 0 || one.order === -libraryDistance || one.order !== nearestOf.get(cells)) continue;
    const known = first.get(cells);
    if (!known) first.set(cells, one);
    else if (known.origin.uri !== one.origin.uri && figureOf(known) !== figureOf(one)) {
      const use = setting.useOf(one.origin.uri);
      const { path } = one.origin.at as ast.Given;
      if (use)
        setting.report.add('use.practice-clash', use, { first: known.whose, second: one.whose, path: textOf(path) });
    }
  }
}

/** The figure as it is written, however it is spaced. */
function figureOf(one: Assignment): string {
  const { value } = one.origin.at as ast.Given;
  return value ? sourceText(value).replace(/\s+/g, '') : '';
}
