// One state of a file or of a folder, as it is on the disk or at a revision: what was named, found, and opened to be read.
import { realpathSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { JobFiles, repositoryOf, rootFor, startFile, statOf } from './files.ts';
import { thouFiles } from './folders.ts';
import type { JobHost } from './job.ts';
import { Refusal } from './refusal.ts';
import { RevisionFiles } from './revisions.ts';

/** A plain record: threads open it again. */
export interface StateFound {
  readonly named: string;
  /** Whole path; of a revision where it would lie. */
  readonly path: string;
  readonly isFolder: boolean;
  readonly root: string;
  readonly revision: string | null;
}

/** `other`: what a revision alone is of. */
export function stateFound(named: string, other: string, asked: string | undefined): StateFound {
  const [revision, path] = splitRevision(named, other);
  if (revision !== null) return atRevision(named, path, revision);
  if (!statOf(path)?.isDirectory()) {
    const file = startFile(path);
    return { named, path: file, isFolder: false, root: rootFor(file, asked), revision };
  }
  const folder = realpathSync(path);
  // any name will do: a folder is asked for through what lies in it
  return { named, path: folder, isFolder: true, root: rootFor(join(folder, 'job.thou'), asked), revision };
}

function atRevision(named: string, path: string, revision: string): StateFound {
  const full = resolve(realpathSync(process.cwd()), path);
  const top = existingTop(full);
  if (top === null) throw new Refusal(`"${path}" lies in no repository, so it has no revisions.`);
  const sort = new RevisionFiles(top, revision).sortOf(full);
  if (sort === null) throw new Refusal(`There is no file "${path}" at revision "${revision}".`);
  return { named, path: full, isFolder: sort === 'folder', root: top, revision };
}

/** Of what was there once as well; the top itself is a folder of its repository. */
function existingTop(full: string): string | null {
  return repositoryOf(join(full, 'job.thou'));
}

/** What is there goes before a revision that is called the same; a folder not beside a file of a repository. */
function splitRevision(named: string, other: string): [revision: string | null, path: string] {
  const about = statOf(named);
  if (about?.isFile()) return [null, named];
  if (about?.isDirectory() && !(statOf(other)?.isFile() && repositoryOf(resolve(other)))) return [null, named];
  const colon = named.indexOf(':');
  if (colon > 0) return [named.slice(0, colon), named.slice(colon + 1)];
  if (/\.thou$/i.test(named)) return [null, named]; // refused as a file that is not there
  const path = statOf(other) ? other : other.slice(other.indexOf(':') + 1);
  return [named, path];
}

export function hostOf({ root, revision }: StateFound): JobHost {
  return revision === null ? new JobFiles(root) : new RevisionFiles(root, revision);
}

/** The files of the language in a folder, from there, with strokes forward. */
export function filesOfState({ path, root, revision }: StateFound): string[] {
  const paths = revision === null ? thouFiles(path) : new RevisionFiles(root, revision).thouFiles(path);
  return paths.map((file) => relative(path, file).split(sep).join('/')).sort();
}
