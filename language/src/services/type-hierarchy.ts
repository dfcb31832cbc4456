/** What a part or a variant is made from, and what is made from it: a part of another, a part of its component, a variant of its build. */
import type { AstNode } from 'langium';
import type { TypeHierarchyItem } from 'vscode-languageserver-types';
import { locationOf } from './definition.ts';
import { meaningAt, meaningOf, placeOf, textOf, type Sense } from './meaning.ts';
import { occurrences } from './occurrences.ts';
import { toOffset } from './positions.ts';
import { kinds } from './symbols.ts';
import type { Workspace } from './workspace.ts';

export function typeHierarchyAt(workspace: Workspace, uri: string, offset: number): TypeHierarchyItem[] | null {
  const meaning = meaningAt(workspace, uri, offset);
  const found = meaning && itemOf(workspace, meaning);
  return found ? [found] : null;
}

/** The part that it is made from, else its component; of a variant the build. */
export function supertypesOf(workspace: Workspace, { uri, selectionRange }: TypeHierarchyItem): TypeHierarchyItem[] {
  const node = senseOf(workspace, uri, selectionRange)?.declared?.at;
  const property = node && madeFrom(node);
  if (!node || !property) return [];
  const field = { node, property, index: 0 };
  const above = meaningOf(workspace, workspace.result(uri), field, placeOf(workspace, { uri, at: node, property }));
  const found = above && itemOf(workspace, above);
  return found ? [found] : [];
}

export async function subtypesOf(
  workspace: Workspace,
  { uri, selectionRange }: TypeHierarchyItem,
  breathe: () => Promise<void>,
): Promise<TypeHierarchyItem[]> {
  const sense = senseOf(workspace, uri, selectionRange);
  const named = sense ? await occurrences(workspace, sense, breathe) : [];
  return named.flatMap(({ at, field: { node, property } }) => {
    if (madeFrom(node) !== property) return [];
    const below = meaningAt(workspace, at.uri, placeOf(workspace, { uri: at.uri, at: node, property: 'name' }).start);
    return (below && itemOf(workspace, below)) ?? [];
  });
}

/** The word of an entry that says what it is made from. */
function madeFrom(node: AstNode): 'base' | 'kind' | null {
  if (node.$type !== 'Part' && node.$type !== 'Variant') return null;
  if (textOf(node, 'base') !== '') return 'base';
  return textOf(node, 'kind') === '' ? null : 'kind';
}

function senseOf(workspace: Workspace, uri: string, { start }: TypeHierarchyItem['range']): Sense | null {
  return workspace.source(uri) ? meaningAt(workspace, uri, toOffset(workspace.positionsOf(uri), start)) : null;
}

/** Only what can be made from something, or be made into something. */
function itemOf(workspace: Workspace, { is, name, declared }: Sense): TypeHierarchyItem | null {
  if (!declared || (is !== 'part' && is !== 'component' && is !== 'build')) return null;
  const { uri, at } = declared;
  const { range } = locationOf(workspace, placeOf(workspace, { uri, at }));
  const selectionRange = locationOf(workspace, placeOf(workspace, { ...declared, property: 'name' })).range;
  const kind = is === 'part' ? kinds.object : is === 'build' ? kinds.module : kinds.class;
  return { name, kind, detail: at.$type.toLowerCase(), uri, range, selectionRange };
}
