// The files that a job may read: what lies inside its folder, texts and tables only, whatever a path in a file says.
// Nothing of a refused file is ever shown.
import { existsSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { dirname, extname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { caps } from '@thou/shared/limits';
import type { Host } from '../semantics/project.ts';
import {
  mostBytesOf,
  noPackage,
  objectionTo,
  packagedPath,
  packagesFolders,
  refusals,
  tooLarge,
  type Packaged,
} from '../semantics/written-paths.ts';
import { isLibraryFile, libraryFileName } from './library.ts';
import { entryOf } from './packages.ts';
import { Refusal } from './refusal.ts';

type Resolved = ReturnType<Host['resolve']>;

export class JobFiles implements Host {
  readonly root: string;
  private readonly roots: readonly string[];
  private readonly texts = new Map<string, string | undefined>();

  /** Folders that exist; links in their own paths are followed. Files of each may use those of the others. */
  constructor(root: string, others: readonly string[] = []) {
    this.root = realpathSync(root);
    this.roots = [this.root, ...others.map((other) => realpathSync(other))];
  }

  /** Texts are kept until told that files changed, so that one look sees one state. */
  forget(): void {
    this.texts.clear();
  }

  read(uri: string): string | undefined {
    if (!this.texts.has(uri)) this.texts.set(uri, this.readFromDisk(uri));
    return this.texts.get(uri);
  }

  private readFromDisk(uri: string): string | undefined {
    if (!uri.startsWith('file:')) return undefined;
    const path = fileURLToPath(uri);
    const found = this.admitted(path);
    const bytes = 'uri' in found ? bytesOf(path) : null;
    return bytes === null ? undefined : decoded(bytes);
  }

  resolve(from: string, path: string): Resolved {
    const packaged = packagedPath(path);
    if (packaged) return 'why' in packaged ? refused(packaged.why) : this.resolvePackage(from, packaged);
    const objection = objectionTo(path);
    if (objection !== null) return refused(objection);
    if (!from.startsWith('file:')) return refused(refusals.notOnThisDisk);
    return this.admitted(resolve(dirname(fileURLToPath(from)), path));
  }

  /** From the nearest folder of packages, upward but not out of the root. */
  private resolvePackage(from: string, { name, file }: Packaged): Resolved {
    for (let folder = dirname(fileURLToPath(from)); this.holds(folder); folder = dirname(folder)) {
      for (const modules of packagesFolders) {
        const home = join(folder, modules, name);
        if (existsSync(home)) return this.admitted(join(home, file ?? entryOf(home, (at) => this.holds(at))));
      }
      if (this.roots.includes(folder)) break;
    }
    return { problem: 'not-found', why: noPackage };
  }

  /** The file's one name where it may be read: where it really lies decides, not how it is written. */
  private admitted(path: string): Resolved {
    const most = mostBytesOf(path);
    if (most === undefined) return refused(refusals.otherSort);
    if (!this.holds(path)) return refused(refusals.leadsOut);
    const real = realPathOf(path);
    if (real === null) return { problem: 'not-found', why: refusals.notThere };
    if (!this.holds(real) || mostBytesOf(real) === undefined) return refused(refusals.leadsOut);
    const about = statSync(real);
    if (!about.isFile()) return refused(refusals.noFile);
    if (about.size > most) return refused(tooLarge(most));
    const bytes = bytesOf(real);
    if (bytes === null) return refused(refusals.notAllowed);
    if (decoded(bytes) === undefined) return refused(refusals.noText);
    return { uri: pathToFileURL(real).href };
  }

  private holds(path: string): boolean {
    return this.roots.some((root) => isInside(path, root));
  }
}

function refused(why: string): Resolved {
  return { problem: 'refused', why };
}

export function isInside(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way));
}

export function realPathOf(path: string): string | null {
  try {
    return realpathSync(path);
  } catch {
    return null;
  }
}

/** UTF-8 with or without its mark; undefined for anything else. */
export function decoded(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** A file that the command line was given, read whole; a line of reason where it cannot be. */
export function startFile(path: string): string {
  const about = statOf(path);
  if (!about) throw new Refusal(`There is no file "${path}".`);
  if (!about.isFile()) throw new Refusal(`"${path}" is not a file.`);
  if (extname(path).toLowerCase() !== '.thou') throw new Refusal(`"${path}" is not a .thou file.`);
  if (about.size > caps.fileBytes)
    throw new Refusal(`"${path}" is larger than ${caps.fileBytes / 1024 / 1024} MB and is not read.`);
  const real = realpathSync(path);
  const bytes = bytesOf(real);
  if (bytes === null) throw new Refusal(`"${path}" cannot be opened: reading it is not allowed.`);
  if (decoded(bytes) === undefined) throw new Refusal(`"${path}" cannot be read: ${refusals.noText}.`);
  return real;
}

function bytesOf(path: string): Uint8Array | null {
  try {
    return readFileSync(path);
  } catch {
    return null;
  }
}

export function statOf(path: string): ReturnType<typeof statSync> | null {
  return statSync(path, { throwIfNoEntry: false }) ?? null;
}

/** What a job may read: the folder asked for, else the repository of the file, else the folder one stands in, else the file's own. */
export function rootFor(path: string, asked: string | undefined): string {
  if (asked !== undefined) {
    if (!statOf(asked)?.isDirectory()) throw new Refusal(`There is no folder "${asked}" to take as root.`);
    if (!isInside(path, realpathSync(asked))) throw new Refusal(`"${path}" does not lie inside the root "${asked}".`);
    return asked;
  }
  const repository = repositoryOf(path);
  if (repository !== null) return repository;
  const here = realpathSync(process.cwd());
  return isInside(path, here) ? here : dirname(path);
}

/** The folder above a file, or above a folder, that holds a repository; null where none does. */
export function repositoryOf(path: string): string | null {
  for (let folder = dirname(path); folder !== dirname(folder); folder = dirname(folder)) {
    if (existsSync(join(folder, '.git'))) return folder;
  }
  return null;
}

/** A file as it is called from where one stands. */
export function nameFromHere(uri: string): string {
  if (isLibraryFile(uri)) return libraryFileName(uri);
  if (!uri.startsWith('file:')) return uri;
  const path = fileURLToPath(uri);
  const way = relative(realpathSync(process.cwd()), path);
  return isAbsolute(way) || way.startsWith(`..${sep}..`) ? path : way;
}
