/** Files in memory through the whole language: the problems of one file, with the texts that they stand at. */
import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { Project, type LibraryText } from '../../../language/src/semantics/project.ts';
import { library as tradeLibrary } from '../../reference/library.ts';
import { readCases, type Case } from './fixture.ts';

const here = new URL('./cases/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, here), 'utf8');

/** A small library with no trade in it: a whole made of plates, two sides and cells. */
const abstractLibrary: LibraryText = {
  edition: 1,
  root: 'Root',
  files: [{ uri: 'prelude:/library.thou', text: read('library.thou') }],
};

/** Cases of a file called `prelude-….md` are read with the trade library, all others with the abstract one. */
export function libraryOf(topic: string): LibraryText {
  return topic.startsWith('prelude') ? tradeLibrary : abstractLibrary;
}

export const cases: readonly Case[] = readdirSync(here)
  .filter((name) => name.endsWith('.md'))
  .sort()
  .flatMap((name) => readCases(name.replace(/\.md$/, ''), read(name)));

export function projectOf(texts: ReadonlyMap<string, string>, library: LibraryText = abstractLibrary): Project {
  return new Project(
    {
      read: (uri) => texts.get(uri),
      resolve: (from, path) => {
        if (path.startsWith('/')) return { problem: 'refused', why: 'only files beside this one are read' };
        const uri = posix.normalize(posix.join(posix.dirname(from), path));
        return texts.has(uri) ? { uri } : { problem: 'not-found', why: '' };
      },
    },
    library,
  );
}
