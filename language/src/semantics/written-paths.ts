// What a path written in a file may say, and the words for what is not read. Knows no disk: who reads is for the host.
import { caps } from '@thou/shared/limits';

export const refusals = {
  leadsOut: 'it leads out of the folder of this job',
  noText: 'it is not UTF-8 text; save it as UTF-8',
  otherSort: 'only .thou and .csv files are read',
  noFile: 'it is not a file',
  notAllowed: 'reading it is not allowed',
  notThere: 'there is no such file',
  notOnThisDisk: 'the file that names it is not on this disk',
} as const;

export function tooLarge(mostBytes: number): string {
  return `it is larger than ${mostBytes / 1024 / 1024} MB`;
}

/** How large a file may be by the end of its name; undefined for one that is not read at all. */
export function mostBytesOf(path: string): number | undefined {
  const [ending] = /\.\w+$/.exec(path.toLowerCase()) ?? [];
  return ending === '.thou' ? caps.fileBytes : ending === '.csv' ? caps.csvBytes : undefined;
}

/** Why a path is not even looked for; null where it may be. */
export function objectionTo(path: string): string | null {
  if (path === '' || /\p{Cc}/u.test(path)) return 'it is no name of a file';
  if (/^[A-Za-z][A-Za-z0-9+.-]+:/.test(path)) return 'only files of this job are read, no addresses';
  if (/^[\\/]/.test(path) || /^[A-Za-z]:/.test(path)) return 'the path must be relative to this file';
  if (path.includes('\\')) return 'folders are parted by "/"';
  return null;
}

export interface Packaged {
  readonly name: string;
  /** Inside the package; null where the package itself says which. */
  readonly file: string | null;
}

/** `package:NAME/file` or `package:NAME` in its parts, or why it leads nowhere; null for a path that names no package. */
export function packagedPath(path: string): Packaged | { readonly why: string } | null {
  const [, rest] = /^package:(.*)$/s.exec(path) ?? [];
  if (rest === undefined) return null;
  const [, name, file] = /^((?:@[\w-][\w.-]*\/)?[\w-][\w.-]*)(?:\/(.+))?$/s.exec(rest) ?? [];
  if (name === undefined) return { why: 'after "package:" stands a name, and behind a stroke a file of it' };
  const why = file === undefined ? null : objectionInside(file);
  return why === null ? { name, file: file ?? null } : { why };
}

/** Of a path inside a package. */
export function objectionInside(file: string): string | null {
  return objectionTo(file) ?? (file.split('/').includes('..') ? 'it leads out of its package' : null);
}

/** Where packages lie: a folder of the job's own, and the one that npm fills. */
export const packagesFolders = ['thou_modules', 'node_modules'] as const;
/** The file of a package that stands for all of it, where its package.json names no other under "thou". */
export const packageEntry = 'index.thou';
export const noPackage = `no ${packagesFolders.join(' or ')} folder above this file holds it`;
