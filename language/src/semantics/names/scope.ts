/**
 * A file with all that it reaches by `use`: the trade library, the files in order of distance, the parts each of them sees.
 * Circles are allowed; a file is checked in its own scope alone.
 */
import type * as ast from '../../grammar/generated/ast.ts';
import type { SourceFile } from '../../grammar/file.ts';
import { caps } from '@thou/shared/limits';
import type { Report, Target } from '../problems/report.ts';
import type { PartSeen, PartsSeen } from '../types/env.ts';
import { fileName, libraryDistance, type ClashAt, type FileItems } from './library.ts';

export interface ScopeFiles {
  /** Undefined where it cannot be read. */
  file(uri: string): SourceFile | undefined;
  resolve(
    from: string,
    path: string,
  ): { readonly uri: string } | { readonly problem: 'not-found' | 'refused'; readonly why: string };
}

export interface Scope {
  readonly uri: string;
  /** The library first, then the farthest, the file itself last. */
  readonly files: readonly FileItems[];
  readonly editionAsked: { readonly edition: number; readonly at: ast.Use } | null;
  partsOf(uri: string): PartsSeen;
  useOf(uri: string): Target | null;
  readonly clashAt: ClashAt;
}

interface Reached {
  readonly file: SourceFile;
  readonly distance: number;
  readonly by: Target | null;
  readonly uses: string[];
  /** A file it uses is not there, or cannot be told. */
  lacksUse: boolean;
}

export function itemsOf(file: SourceFile): ast.Item[] {
  return file.blocks.map(({ parsed }) => parsed.item).filter((item): item is ast.Item => item !== undefined);
}

export function scopeOf(start: SourceFile, library: readonly SourceFile[], files: ScopeFiles, report: Report): Scope {
  const libraryUris = new Set(library.map(({ uri }) => uri));
  const reached = reach(start, libraryUris, files, report);
  const ordered = [...reached.values()].sort((a, b) => b.distance - a.distance);
  const ofLibrary = library
    .filter(({ uri }) => uri !== start.uri)
    .map((file): FileItems => ({ uri: file.uri, distance: libraryDistance, items: itemsOf(file) }));
  const own = ordered.map(({ file, distance }): FileItems => ({
    uri: file.uri,
    distance: libraryUris.has(file.uri) ? libraryDistance : distance,
    items: itemsOf(file),
  }));
  const seen = new Map<string, PartsSeen>();
  const clashAt: ClashAt = (later, first) =>
    later === first || later === start.uri || libraryUris.has(first) || reaches(later, first, reached)
      ? null
      : (reached.get(later)?.by ?? null);
  const libraryParts = [...ofLibrary, ...own.filter(({ uri }) => libraryUris.has(uri))];
  const partsOf = (uri: string): PartsSeen => {
    const known = seen.get(uri);
    if (known) return known;
    const direct = reached.get(uri)?.uses ?? [];
    const places = [
      ...libraryParts,
      ...direct.map((used) => own.find((file) => file.uri === used)),
      own.find((file) => file.uri === uri),
    ];
    const made = partsSeen(
      places.filter((file): file is FileItems => file !== undefined),
      uri === start.uri ? { report, clashAt } : null,
      [uri, ...direct].every((one) => isWhole(reached.get(one))),
    );
    seen.set(uri, made);
    return made;
  };
  return {
    uri: start.uri,
    files: [...ofLibrary, ...own],
    editionAsked: editionAsked(start),
    partsOf,
    useOf: (uri) => reached.get(uri)?.by ?? null,
    clashAt,
  };
}

/** Breadth first, so that each file has its least distance and the `use` of the first file that leads to it. */
function reach(
  start: SourceFile,
  library: ReadonlySet<string>,
  files: ScopeFiles,
  report: Report,
): Map<string, Reached> {
  const reached = new Map<string, Reached>([
    [start.uri, { file: start, distance: 0, by: null, uses: [], lacksUse: false }],
  ]);
  for (const at of reached.values()) {
    if (at.distance >= caps.useDepth) continue;
    for (const item of itemsOf(at.file)) {
      if (item.$type !== 'Use' || item.path === undefined) continue;
      const target: Target = { uri: at.file.uri, at: item, property: 'path' };
      const found = files.resolve(at.file.uri, item.path);
      const file = 'uri' in found ? (found.uri === start.uri ? start : files.file(found.uri)) : undefined;
      if (!file) {
        at.lacksUse = true;
        const refused = 'problem' in found && found.problem === 'refused' ? found.why : null;
        report.add(refused === null ? 'use.not-found' : 'use.refused', target, { path: item.path, why: refused ?? '' });
        continue;
      }
      at.uses.push(file.uri);
      if (!reached.has(file.uri) && !library.has(file.uri))
        reached.set(file.uri, { file, distance: at.distance + 1, by: at.by ?? target, uses: [], lacksUse: false });
    }
  }
  return reached;
}

function reaches(from: string, to: string, reached: ReadonlyMap<string, Reached>): boolean {
  const seen = new Set([from]);
  for (const at of seen) for (const used of reached.get(at)?.uses ?? []) seen.add(used);
  return seen.has(to);
}

/** False where an entry cannot be read or a file is missing: a part that is not found may stand there. */
function isWhole(reached: Reached | undefined): boolean {
  if (!reached) return true;
  const unread = reached.file.blocks.some(({ parsed }) => parsed.item === undefined && parsed.problems.length > 0);
  return !unread && !reached.lacksUse;
}

/** Nearest last: a part of the file itself is found before one of a file it uses. Two of one name are a mistake. */
function partsSeen(
  files: readonly FileItems[],
  told: { readonly report: Report; readonly clashAt: ClashAt } | null,
  complete: boolean,
): PartsSeen {
  const parts = new Map<string, PartSeen>();
  for (const { uri, items } of files) {
    for (const item of items) {
      if (item.$type !== 'Part' || !item.name) continue;
      const first = parts.get(item.name);
      if (first && first.item !== item) {
        const related = [{ target: { uri: first.uri, at: first.item, property: 'name' }, words: 'first here' }];
        const here: Target = { uri, at: item, property: 'name' };
        const use = told?.clashAt(uri, first.uri) ?? null;
        if (use)
          told?.report.add(
            'use.name-clash',
            use,
            { name: item.name, first: fileName(first.uri), second: fileName(uri) },
            { related: [...related, { target: here, words: 'and here' }] },
          );
        else told?.report.add('name.taken', here, { name: item.name, what: 'a part' }, { related });
      }
      parts.set(item.name, { item, uri });
    }
  }
  const byComponent = new Map<string, PartSeen[]>();
  for (const seen of parts.values())
    byComponent.set(seen.item.kind, [...(byComponent.get(seen.item.kind) ?? []), seen]);
  return {
    find: (name) => parts.get(name),
    names: (component) =>
      component === undefined ? [...parts.keys()] : (byComponent.get(component) ?? []).map(({ item }) => item.name),
    all: (component) => byComponent.get(component) ?? [],
    complete,
  };
}

function editionAsked(file: SourceFile): Scope['editionAsked'] {
  for (const item of itemsOf(file)) {
    if (item.$type === 'Use' && item.what === 'prelude' && item.edition !== undefined)
      return { edition: Number(item.edition), at: item };
  }
  return null;
}
