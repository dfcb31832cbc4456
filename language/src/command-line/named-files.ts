// The files that a command line names: one by one, or by the folder that they lie in.
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { nameFromHere, startFile, statOf } from './files.ts';
import { thouFiles } from './folders.ts';
import { exitCode, Refusal } from './refusal.ts';
import type { Output } from './terminal.ts';
import { harmless } from './terminal.ts';

export interface NamedFiles {
  /** Each once, sorted. */
  readonly paths: readonly string[];
  /** Of files in folders: why they cannot be read. One that is named by itself is refused at once. */
  readonly unread: readonly string[];
}

/** Files as named, and all .thou files in folders; links, dot-folders and packages are not entered. */
export function filesNamed(given: readonly string[]): NamedFiles {
  const paths = new Set<string>();
  const unread = new Set<string>();
  for (const one of given) {
    if (!statOf(one)?.isDirectory()) paths.add(startFile(one));
    else {
      const inside = thouFiles(resolve(one));
      if (inside.length === 0) throw new Refusal(`There is no .thou file in "${one}".`);
      for (const file of inside) {
        const read = readOrWhy(nameFromHere(pathToFileURL(file).href));
        if (typeof read === 'string') paths.add(read);
        else unread.add(read.message);
      }
    }
  }
  const [first] = unread;
  if (paths.size === 0 && first !== undefined) throw new Refusal(first);
  return { paths: [...paths].sort(), unread: [...unread] };
}

function readOrWhy(path: string): string | Refusal {
  try {
    return startFile(path);
  } catch (problem) {
    if (problem instanceof Refusal) return problem;
    throw problem;
  }
}

/** What could not be read is told beside the rest, and the whole was not looked at. */
export function codeWithUnread({ unread }: NamedFiles, code: number, err: Output): number {
  for (const why of unread) err.write(`thou: ${harmless(why)}\n`);
  return unread.length > 0 ? exitCode.couldNotRun : code;
}
