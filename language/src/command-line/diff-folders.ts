// Two states of a folder: which files belong together, and what changed in all of them.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { resultFormat } from '@thou/shared/result/contract';
import type { DiffResult } from '@thou/shared/result/diff';
import { sharedOut } from './crew.ts';
import { differing, type FilePair } from './diff-work.ts';
import { Refusal } from './refusal.ts';
import { filesOfState, hostOf, type StateFound } from './states.ts';
import { version } from './version.ts';

export async function folderDiff(old: StateFound, now: StateFound, build: string | undefined): Promise<DiffResult> {
  const pairs = pairsOf(old, now);
  if (pairs.length === 0) throw new Refusal(`There is no .thou file in "${old.named}", and none in "${now.named}".`);
  const done = await sharedOut(differing, { old, now, build }, pairs, (pair) => pair);
  const builds = done.flatMap((pair) => pair.builds);
  const same = done.reduce((sum, pair) => sum + pair.same, 0);
  if (build !== undefined && builds.length + same === 0)
    throw new Refusal(`There is no build "${build}" in "${old.named}" or "${now.named}".`);
  const mistakes = done.flatMap((pair) => pair.mistakes);
  return { format: resultFormat, thou: version(), old: old.named, new: now.named, builds, same, mistakes };
}

/** By their names; of the rest those that hold a build of the same name: the file was called otherwise, or moved. */
function pairsOf(old: StateFound, now: StateFound): FilePair[] {
  const [before, after] = [new Set(filesOfState(old)), new Set(filesOfState(now))];
  const gone = [...before].filter((file) => !after.has(file));
  const come = [...after].filter((file) => !before.has(file));
  const moved = movedFiles(old, gone, now, come);
  const taken = new Set(moved.values());
  const pairs = [
    ...[...after].map((file) => ({ old: before.has(file) ? file : (moved.get(file) ?? null), now: file })),
    ...gone.filter((file) => !taken.has(file)).map((file) => ({ old: file, now: null })),
  ];
  return pairs.map((pair) => {
    return { old: pathIn(old, pair.old), now: pathIn(now, pair.now) };
  });
}

/** What each file is called now, to what it was called. */
function movedFiles(
  old: StateFound,
  gone: readonly string[],
  now: StateFound,
  come: readonly string[],
): Map<string, string> {
  const moved = new Map<string, string>();
  if (gone.length === 0 || come.length === 0) return moved;
  const fileOf = new Map(namesIn(old, gone).flatMap(([file, names]) => names.map((name) => [name, file] as const)));
  const taken = new Set<string>();
  for (const [file, names] of namesIn(now, come)) {
    const was = names.map((name) => fileOf.get(name)).find((one) => one !== undefined && !taken.has(one));
    if (was === undefined) continue;
    taken.add(was);
    moved.set(file, was);
  }
  return moved;
}

/** The builds of files, by a look at their first words only. */
function namesIn(state: StateFound, files: readonly string[]): [file: string, names: string[]][] {
  const host = hostOf(state);
  return files.map((file) => {
    const text = host.read(pathToFileURL(pathIn(state, file)!).href) ?? '';
    return [file, [...text.matchAll(/^(?:build|variant)[ \t]+([\w-]+)/gm)].map(([, name]) => name!)];
  });
}

function pathIn({ path }: StateFound, file: string | null): string | null {
  return file === null ? null : join(path, ...file.split('/'));
}
