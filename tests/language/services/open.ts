/** A workspace over texts in memory, with the trade library; `|` in a text marks a place. */
import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { Workspace, type Disk } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';

const folder = new URL('../../../samples/', import.meta.url);

/** Every sample, by its path under samples/. */
export const samples: ReadonlyMap<string, string> = new Map(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(thou|csv)$/.test(name))
    .sort()
    .map((name) => [name, readFileSync(new URL(name, folder), 'utf8')]),
);

export function diskOf(files: ReadonlyMap<string, string>): Disk {
  return {
    read: (uri) => files.get(uri),
    resolve: (from, path) => {
      const uri = `file:///${posix.normalize(posix.join(posix.dirname(from.slice('file:///'.length)), path))}`;
      return files.has(uri) ? { uri } : { problem: 'not-found', why: '' };
    },
    list: () => [...files.keys()].filter((uri) => uri.endsWith('.thou')),
    tables: () => [...files.keys()].filter((uri) => uri.endsWith('.csv')),
  };
}

/** Texts by path; their addresses are `file:///PATH`. */
export function workspaceOf(files: ReadonlyMap<string, string> | Readonly<Record<string, string>>): Workspace {
  const entries = files instanceof Map ? [...files] : Object.entries(files as Readonly<Record<string, string>>);
  return new Workspace(diskOf(new Map(entries.map(([path, text]) => [`file:///${path}`, text]))), library);
}

/** A text without its mark, and where the mark stood. */
export function marked(text: string): { readonly text: string; readonly offset: number } {
  const offset = text.indexOf('|');
  if (offset < 0) throw new Error(`no mark in: ${text}`);
  return { text: text.slice(0, offset) + text.slice(offset + 1), offset };
}

/** Every sample, and each cut off in the middle of a word. */
export function* hostileTexts(): Generator<readonly [path: string, text: string]> {
  for (const [path, text] of samples) {
    if (!path.endsWith('.thou')) continue;
    yield [path, text];
    yield [path, text.slice(0, Math.floor(text.length / 2))];
  }
}

/** For what is asked in a test nobody else waits. */
export const breathe = (): Promise<void> => Promise.resolve();
