/** Names of all files by a few of their letters, in order: builds, parts and declarations. Where each stands is told when it is chosen. */
import type { WorkspaceSymbol } from 'vscode-languageserver-types';
import type * as ast from '../grammar/generated/ast.ts';
import { itemsOf } from '../semantics/names/scope.ts';
import { placeOf } from './meaning.ts';
import { toRange } from './positions.ts';
import { kinds } from './symbols.ts';
import type { Workspace } from './workspace.ts';

const most = 256;

const kindOf: Readonly<Partial<Record<ast.Item['$type'] | ast.Declaration['$type'], WorkspaceSymbol['kind']>>> = {
  Component: kinds.class,
  Derive: kinds.variable,
  Rule: kinds.event,
  Axis: kinds.enum,
  FunctionDeclaration: kinds.function,
  UnitDeclaration: kinds.constant,
  DimensionDeclaration: kinds.class,
  Part: kinds.object,
  Build: kinds.module,
  Variant: kinds.module,
  Property: kinds.property,
};

type Named = ast.Item | ast.Declaration;

/** Files are parsed for this, and nothing more: no name is settled, no figure computed. */
export function workspaceSymbols(workspace: Workspace, query: string): WorkspaceSymbol[] {
  const found: { readonly rank: number; readonly symbol: WorkspaceSymbol }[] = [];
  for (const uri of workspace.known()) {
    for (const [item, within] of namedIn(workspace, uri)) {
      const name = 'name' in item ? item.name : undefined;
      const kind = kindOf[item.$type];
      const rank = name && kind ? rankOf(name, query) : null;
      if (rank === null || !name || !kind) continue;
      const symbol = { name, kind, location: { uri }, containerName: within, data: { type: item.$type, within } };
      found.push({ rank, symbol });
    }
  }
  return found
    .sort((a, b) => a.rank - b.rank || a.symbol.name.localeCompare(b.symbol.name, 'en'))
    .slice(0, most)
    .map(({ symbol }) => symbol);
}

/** Adds where it stands. */
export function resolvedSymbol(workspace: Workspace, symbol: WorkspaceSymbol): WorkspaceSymbol {
  const { uri } = symbol.location;
  const data = symbol.data as { readonly type: string; readonly within: string } | undefined;
  for (const [item, within] of namedIn(workspace, uri)) {
    if (!('name' in item) || item.name !== symbol.name || item.$type !== data?.type || within !== data.within) continue;
    const place = placeOf(workspace, { uri, at: item, property: 'name' });
    return { ...symbol, location: { uri, range: toRange(workspace.positionsOf(uri), place) } };
  }
  return { ...symbol, location: { uri, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } } } };
}

function* namedIn(workspace: Workspace, uri: string): Generator<[Named, within: string]> {
  const source = workspace.source(uri);
  const file = workspace.files.nameOf(uri);
  for (const item of source ? itemsOf(source) : []) {
    yield [item, file];
    const owner = item.$type === 'Component' ? item.name : item.$type === 'Extend' ? item.target : null;
    if (owner === null || (item.$type !== 'Component' && item.$type !== 'Extend')) continue;
    for (const declaration of item.body?.declarations ?? []) yield [declaration, owner ?? file];
  }
}

/** Smaller is better: the same, the beginning, a word in it, letters in order; null where they are not in it. */
function rankOf(name: string, query: string): number | null {
  const [here, asked] = [name.toLowerCase(), query.trim().toLowerCase()];
  if (asked === '') return 3;
  if (here === asked) return 0;
  if (here.startsWith(asked)) return 1;
  if (here.includes(asked)) return 2;
  let at = 0;
  for (const letter of asked) {
    at = here.indexOf(letter, at) + 1;
    if (at === 0) return null;
  }
  return 4;
}
