/** What may begin an entry of a file, at the left edge. */
import type { SourceFile } from '../../grammar/file.ts';
import type { Item } from '../../grammar/generated/ast.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import { builtinNames } from '../../semantics/types/builtins.ts';
import { pathFrom } from '../paths.ts';
import type { Workspace } from '../workspace.ts';
import { freeName } from './members.ts';
import type { Offer } from './offer.ts';
import { escaped, oneOf } from './snippets.ts';

export function entriesAt(source: SourceFile, ground: Ground, workspace: Workspace): Offer[] {
  const items = source.blocks.map(({ parsed }) => parsed.item).filter((item): item is Item => item !== undefined);
  return [...usesFor(source, items, ground, workspace), ...itemsFor(items, ground)];
}

function usesFor({ uri }: SourceFile, items: readonly Item[], ground: Ground, workspace: Workspace): Offer[] {
  const offers: Offer[] = [];
  const used = new Set<string>([uri]);
  let hasPrelude = workspace.isOfLibrary(uri);
  for (const item of items) {
    if (item.$type !== 'Use') continue;
    if (item.what === 'prelude') hasPrelude = true;
    const found = item.path === undefined ? null : workspace.resolve(uri, item.path);
    if (found && 'uri' in found) used.add(found.uri);
  }
  if (!hasPrelude) offers.push({ label: `use prelude ${ground.edition}`, kind: 14, rank: 1 });
  for (const other of workspace.known()) {
    if (used.has(other) || workspace.isOfLibrary(other)) continue;
    const path = pathFrom(uri, other);
    if (path !== null && !hasClash(other, items, workspace)) offers.push({ label: `use "${path}"`, kind: 17, rank: 3 });
  }
  return offers;
}

/** A file that names something which this file names too cannot be used here. */
function hasClash(other: string, items: readonly Item[], workspace: Workspace): boolean {
  const nameOf = (item: Item): string =>
    'name' in item ? `${item.$type === 'Part' ? 'part' : 'other'} ${item.name}` : '';
  const own = new Set(items.filter(({ $type }) => $type !== 'Build' && $type !== 'Variant').map(nameOf));
  const theirs = (workspace.source(other)?.blocks ?? []).map(({ parsed }) => parsed.item);
  return theirs.some(
    (item) =>
      item !== undefined &&
      item.$type !== 'Build' &&
      item.$type !== 'Variant' &&
      item.$type !== 'Use' &&
      nameOf(item) !== '' &&
      own.has(nameOf(item)),
  );
}

function itemsFor(items: readonly Item[], { setting, draft }: Ground): Offer[] {
  const { library, parts } = setting;
  const taken = new Set(items.flatMap((item) => ('name' in item ? [item.name] : [])));
  const isTaken = (name: string): boolean =>
    taken.has(name) ||
    library.components.has(name) ||
    library.functions.has(name) ||
    parts.find(name) !== undefined ||
    builtinNames.has(name) ||
    draft.lookUp(name, 0) !== null ||
    draft.axisNamed(name, 0) !== null ||
    library.units.get(name) !== undefined ||
    library.measure(name) !== undefined;
  const name = (wanted: string): string => freeName(wanted, isTaken);
  const entry = (label: string, snippet: string, rank = 2): Offer => ({ label, kind: 14, rank, snippet });
  const builds = items.filter((item) => item.$type === 'Build' || item.$type === 'Variant').map((item) => item.name);
  const components = [...library.components.keys()];
  const root = draft.mounts[0]?.slots.map((slot) => draft.slots[slot]!).find(({ type }) => type.is === 'measure');
  const offers = [
    entry('build', `build \${1:${name('my-build')}} {\n  $0\n}`),
    ...(components.length > 0
      ? [entry('part', `part \${1:${name('NEW-1')}}: ${oneOf(2, components)} {\n  $0\n}`)]
      : []),
    ...(builds.length > 0
      ? [entry('variant', `variant \${1:${name('second')}} of ${oneOf(2, builds.map(written))} {\n  $0\n}`)]
      : []),
    entry('practice', 'practice "${1:Our shop}" {\n  $0\n}', 3),
    entry('derive', `derive \${1:${name('figure')}}: \${2:Ratio} = \${3:1}`, 3),
    entry('function', `function \${1:${name('double')}}(\${2:x}: \${3:Ratio}): \${4:Ratio} = \${5:x * 2}`, 3),
    entry('component', `component \${1:${name('Fixture')}} {\n  $0\n}`, 3),
    ...(components.length > 0 ? [entry('extend', `extend ${oneOf(1, components)} {\n  $0\n}`, 3)] : []),
    entry('axis', `axis \${1:${name('places')}} = \${2:first | second}`, 3),
    entry('unit', `unit \${1:${name('hand')}}: \${2:Length} = \${3:4 in}`, 3),
    entry('dimension', `dimension \${1:${name('Growth')}} = \${2:Length/Temperature}`, 3),
  ];
  if (root?.type.is === 'measure')
    offers.push(
      entry(
        'rule',
        `rule \${1:${name('check')}}: \${3|warning,error,advice|} {\n  expect \${2:${escaped(root.name)}} == \${2:${escaped(root.name)}}\n  because "\${4:why}"\n}`,
        3,
      ),
    );
  return offers;
}

export function written(name: string): string {
  return /^[A-Za-z_]\w*(-\w+)*$/.test(name) ? name : `"${name}"`;
}

/** Names of builds and variants in the file. */
export function buildNames({ blocks }: SourceFile): string[] {
  return blocks.flatMap(({ parsed: { item } }) =>
    item?.$type === 'Build' || item?.$type === 'Variant' ? [item.name] : [],
  );
}
