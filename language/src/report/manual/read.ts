// The manual of a trade library, and of what a shop declares on top of it, read off the declarations: nothing in it is written twice.
import type { AstNode } from 'langium';
import { displayUnit } from '@thou/shared/number/format';
import { describe } from '@thou/shared/dimension/dimension';
import { nameOf } from '@thou/shared/dimension/types';
import { standardUnits } from '@thou/shared/unit/unit';
import type { SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Names } from '../../semantics/problems/names.ts';
import { capitalised, textOf } from '../place.ts';
import type { Chapter } from '../sections.ts';
import { declaredIn, everyComponent, idsOf, type DeclaredThing } from './declared.ts';
import { introOf } from './docs.ts';
import { componentOf, entryOf, type GivenBy, type Setting } from './entries.ts';
import type { Manual, ManualChapter, ManualEntry, ManualGroup, Table } from './model.ts';
import { Links } from './names.ts';

export interface ManualOptions {
  readonly edition: number | null;
  readonly chapters: readonly Chapter[];
  readonly cautions: readonly string[];
  /** The component that everything belongs to that stands in none. */
  readonly root: string;
  /** What the words of all chapters were found to stand for. */
  readonly names: readonly Names[];
  source(uri: string): SourceFile | undefined;
}

export function manualOf(options: ManualOptions): Manual {
  const drafts = options.chapters.flatMap(({ uri, title }) => {
    const source = options.source(uri);
    return source ? [{ uri, title, source, things: declaredIn(source, options.root) }] : [];
  });
  const things = drafts.flatMap((draft) => draft.things);
  const ids = idsOf(things);
  const links = new Links(ids, options.names);
  const components = new Set(things.flatMap(({ item }) => (item.$type === 'Component' ? [item.name] : [])));
  const isPlace = idsWhere(
    things,
    ({ item }) => item.$type === 'Axis' || (item.$type === 'Property' && components.has(componentOf(item))),
  );
  const isRule = idsWhere(things, ({ item }) => item.$type === 'Rule');
  const setting: Setting = {
    links,
    practice: practiceOf(things, ids, options.names),
    mounted: mountedIn(things, components),
    isFigure: (id) => !isPlace.has(id),
    isRule: (id) => isRule.has(id),
    isComponent: (name) => components.has(name),
  };
  const files = fileNames(drafts.map(({ uri }) => uri));
  const chapters = drafts
    .map(({ uri, title, source, things: own }): ManualChapter => ({
      file: files.get(uri)!,
      title,
      intro: introOf(source.text),
      groups: groupsOf(own, options.root, setting),
    }))
    .filter(({ groups }) => groups.length > 0);
  return { edition: options.edition, chapters, cautions: options.cautions, units: unitTable() };
}

function idsWhere(things: readonly DeclaredThing[], holds: (thing: DeclaredThing) => boolean): ReadonlySet<string> {
  return new Set(things.filter(holds).map(({ id }) => id));
}

function mountedIn(things: readonly DeclaredThing[], components: ReadonlySet<string>): Map<string, string[]> {
  const mounted = new Map<string, string[]>();
  for (const { item, id } of things) {
    if (item.$type !== 'Property') continue;
    const component = componentOf(item);
    if (components.has(component)) mounted.set(component, [...(mounted.get(component) ?? []), id]);
  }
  return mounted;
}

/** Names of the manual's own pages, and of a chapter before, are not taken twice. */
function fileNames(uris: readonly string[]): ReadonlyMap<string, string> {
  const taken = new Set(['index', 'names', 'readme', 'manual']);
  return new Map(
    uris.map((uri) => {
      const name = decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1))
        .replace(/\.thou$/, '')
        .replace(/[^\w.-]+/g, '-');
      let free = name;
      for (let next = 2; taken.has(free.toLowerCase()); next++) free = `${name}-${next}`;
      taken.add(free.toLowerCase());
      return [uri, free];
    }),
  );
}

/** Neighbours of one component and one section stand under one heading. */
function groupsOf(things: readonly DeclaredThing[], root: string, setting: Setting): ManualGroup[] {
  const groups: { key: string; title: string; entries: ManualEntry[] }[] = [];
  for (const thing of things) {
    const component = thing.item.$type === 'Component' ? thing.item.name : thing.owner;
    const whose = component === root ? '' : component === everyComponent ? 'Every component' : (component ?? '');
    const key = `${thing.section}\n${whose}`;
    const title = [thing.section, whose].filter((part) => part !== '').join(': ');
    if (groups.at(-1)?.key !== key) groups.push({ key, title: capitalised(title === '' ? root : title), entries: [] });
    groups.at(-1)!.entries.push(entryOf(thing, setting));
  }
  return groups;
}

/** Practice names a figure by its path: what the last word of the path stands for is what it gives. */
function practiceOf(
  things: readonly DeclaredThing[],
  ids: ReadonlyMap<AstNode, string>,
  names: readonly Names[],
): GivenBy {
  const given = new Map<string, { by: string; value: string }[]>();
  const read = (body: ast.Body | undefined, by: string): void => {
    for (const member of body?.members ?? []) {
      if (member.$type !== 'Given') continue;
      read(member.body, by);
      const last = member.path.steps.at(-1);
      if (!member.value || !last) continue;
      const behind = new Set(names.flatMap((one) => one.of(last)).flatMap(({ thing }) => slotNode(thing)));
      for (const node of behind) {
        const id = ids.get(node);
        if (id !== undefined) given.set(id, [...(given.get(id) ?? []), { by, value: textOf(member.value) ?? '' }]);
      }
    }
  };
  for (const { item } of things) if (item.$type === 'Practice') read(item.body, item.label);
  return given;
}

function slotNode(thing: ReturnType<Names['of']>[number]['thing']): AstNode[] {
  const slot = thing.is === 'slot' ? thing.draft.slots[thing.slot] : undefined;
  return slot ? [slot.origin.at] : [];
}

/** Every unit, by what it measures. */
function unitTable(): Table {
  const byMeasure = new Map<string, string[]>();
  for (const symbol of standardUnits.symbols()) {
    const unit = standardUnits.get(symbol);
    if (!unit) continue;
    const named = nameOf(unit.measure);
    const name = capitalised(
      unit.measure.kind === null && named.includes(' or ') ? describe(unit.measure.dimension) : named,
    );
    byMeasure.set(name, [...(byMeasure.get(name) ?? []), displayUnit(symbol)]);
  }
  const rows = [...byMeasure].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, symbols]) => [name, symbols.join(', ')]);
  return { heads: ['measures', 'units'], rows };
}
