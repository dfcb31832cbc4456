// The trade library as it lies beside the sources: its texts, the titles of its chapters, its cautions.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { packed, parseFile, type ReadyFile } from '../grammar/file.ts';
import type { DrawingPlan } from '../report/drawings/plan.ts';
import type { SheetPlan } from '../report/sheets/plan.ts';
import { chaptersOf, type Chapter } from '../report/sections.ts';
import { once } from '../semantics/once.ts';
import type { LibraryText } from '../semantics/project.ts';
import type { BundledLibrary, ReadyTrees } from '../services/bundled-library.ts';
import { version } from './version.ts';

export interface Library {
  readonly text: LibraryText;
  /** In the order of the job. */
  readonly chapters: readonly Chapter[];
  readonly cautions: readonly string[];
  readonly drawings: readonly DrawingPlan[];
  readonly sheets: readonly SheetPlan[];
}

interface Edition {
  readonly edition: number;
  readonly root: string;
  readonly files: readonly string[];
}

const folder = new URL('../../prelude/', import.meta.url);
const readyPath = fileURLToPath(new URL('../../dist/prelude.json', import.meta.url));

let known: Library | null = null;

/** Read once: it does not change while the language runs. */
export function readLibrary(): Library {
  known ??= readAnew();
  return known;
}

function readAnew(): Library {
  const edition = JSON.parse(readText('edition.json')) as Edition;
  const files = edition.files.map((name) => ({ name, uri: new URL(name, folder).href, text: readText(name) }));
  const ready = once(() => readReady(files.map(({ text }) => text)));
  return {
    text: {
      edition: edition.edition,
      root: edition.root,
      files: files.map(({ uri, text }, at) => ({
        uri,
        text,
        // a slip in a text is told before the library is looked at
        ready: () => ready()?.[at],
      })),
    },
    chapters: chaptersOf(files),
    cautions: readText('cautions.txt')
      .split(/\r?\n/)
      .filter((line) => line.trim() !== ''),
    drawings: JSON.parse(readText('drawings.json')) as readonly DrawingPlan[],
    sheets: JSON.parse(readText('sheets.json')) as readonly SheetPlan[],
  };
}

/** The trees of the chapters, made when the language was put together; null where that was not done, or of other texts. */
function readReady(texts: readonly string[]): readonly ReadyFile[] | null {
  if (!existsSync(readyPath)) return null;
  const { of, files } = JSON.parse(readFileSync(readyPath, 'utf8')) as ReadyTrees;
  return of === digestOf(texts) ? files : null;
}

/** What `readLibrary` takes up when it lies beside the chapters: their trees. */
export function readyLibrary(): string {
  const { files } = readLibrary().text;
  const ready: ReadyTrees = {
    of: digestOf(files.map(({ text }) => text)),
    files: files.map(({ uri, text }) => packed(parseFile(uri, text))),
  };
  return JSON.stringify(ready);
}

/** The chapters and what goes with them in one text, for where there are no files to be read. */
export function bundledLibrary(): string {
  const { text, cautions, drawings, sheets } = readLibrary();
  const bundled: BundledLibrary = {
    version: version(),
    of: digestOf(text.files.map((file) => file.text)),
    edition: text.edition,
    root: text.root,
    files: text.files.map((file) => ({ name: file.uri.slice(folder.href.length), text: file.text })),
    cautions,
    drawings,
    sheets,
  };
  return JSON.stringify(bundled);
}

function digestOf(texts: readonly string[]): string {
  return createHash('sha256').update(texts.join('\0')).digest('hex');
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
