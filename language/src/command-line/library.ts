// The trade library as it lies beside the sources: its texts, the titles of its chapters, its cautions.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Chapter } from '../report/sections.ts';
import { capitalised, words } from '../report/place.ts';
import type { LibraryText } from '../semantics/project.ts';

export interface Library {
  readonly text: LibraryText;
  /** In the order of the job. */
  readonly chapters: readonly Chapter[];
  readonly cautions: readonly string[];
}

interface Edition {
  readonly edition: number;
  readonly root: string;
  readonly files: readonly string[];
}

const folder = new URL('../../prelude/', import.meta.url);

export function readLibrary(): Library {
  const edition = JSON.parse(readText('edition.json')) as Edition;
  const files = edition.files.map((name) => ({ name, uri: new URL(name, folder).href, text: readText(name) }));
  return {
    text: { edition: edition.edition, root: edition.root, files: files.map(({ uri, text }) => ({ uri, text })) },
    chapters: files.map(({ name, uri, text }) => ({ uri, title: chapterTitle(name, text) })),
    cautions: readText('cautions.txt')
      .split(/\r?\n/)
      .filter((line) => line.trim() !== ''),
  };
}

export function isLibraryFile(uri: string): boolean {
  return uri.startsWith(folder.href);
}

/** `stack-up.thou` of the trade library. */
export function libraryFileName(uri: string): string {
  return `trade library, ${decodeURIComponent(uri.slice(folder.href.length))}`;
}

function readText(name: string): string {
  return readFileSync(fileURLToPath(new URL(name, folder)), 'utf8');
}

/** A chapter says its title in its first line, `// Chapter 3, lengths and masses: …`; else its file's name is it. */
function chapterTitle(name: string, text: string): string {
  const said = /^\/\/ (?:Chapters? [\d ,and-]+, )?([^:\n]{3,60}):/.exec(text)?.[1];
  return capitalised(said ?? words(name.replace(/\.thou$/, '')));
}
