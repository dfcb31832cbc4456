// The disk as the language server sees it: the folders of the editor, and around a file that lies in none its own folder.
import { dirname } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { refusals } from '../semantics/written-paths.ts';
import type { Disk } from '../services/workspace.ts';
import { isInside, JobFiles, realPathOf, repositoryOf } from './files.ts';
import { filesIn } from './folders.ts';

type Resolved = ReturnType<Disk['resolve']>;

export class FolderDisk implements Disk {
  private readonly folders: readonly string[];
  private readonly together: JobFiles | null;
  private readonly apart = new Map<string, JobFiles>();

  /** Folders that are not on this disk, or not there, are passed over. */
  constructor(folders: readonly string[]) {
    this.folders = folders.flatMap((uri) => {
      const path = pathOf(uri);
      const real = path === null ? null : realPathOf(path);
      return real === null ? [] : [real];
    });
    const [first, ...others] = this.folders;
    this.together = first === undefined ? null : new JobFiles(first, others);
  }

  read(uri: string): string | undefined {
    const files = this.filesFor(uri);
    files?.forget();
    return files?.read(uri);
  }

  resolve(from: string, path: string): Resolved {
    const files = this.filesFor(from);
    if (files) return files.resolve(from, path);
    return { problem: 'refused', why: refusals.notOnThisDisk };
  }

  list(): readonly string[] {
    return this.filesEndingIn('.thou');
  }

  tables(): readonly string[] {
    return this.filesEndingIn('.csv');
  }

  private filesEndingIn(ending: string): readonly string[] {
    const paths = new Set(this.folders.flatMap((folder) => filesIn(folder, ending)));
    return [...paths].map((path) => pathToFileURL(path).href);
  }

  private filesFor(uri: string): JobFiles | null {
    const path = pathOf(uri);
    if (path === null) return null;
    if (this.folders.some((folder) => isInside(path, folder))) return this.together;
    const root = realPathOf(repositoryOf(path) ?? dirname(path));
    if (root === null) return null;
    const files = this.apart.get(root) ?? new JobFiles(root);
    this.apart.set(root, files);
    return files;
  }
}

function pathOf(uri: string): string | null {
  try {
    return uri.startsWith('file:') ? fileURLToPath(uri) : null;
  } catch {
    return null;
  }
}

/** One address for one file: as this disk spells it, links followed. */
export function canonicalAddress(uri: string): string {
  const path = pathOf(uri);
  return path === null ? uri : pathToFileURL(realPathOf(path) ?? path).href;
}
