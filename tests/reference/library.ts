/** The trade library as it stands in its folder, and a project over files in memory. */
import { readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { Project, type LibraryText } from '../../language/src/semantics/project.ts';

const folder = new URL('../../language/prelude/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

interface Edition {
  readonly edition: number;
  readonly root: string;
  readonly files: readonly string[];
}

const { edition, root, files } = JSON.parse(read('edition.json')) as Edition;
export const library: LibraryText = { edition, root, files: files.map((name) => ({ uri: `prelude:/${name}`, text: read(name) })) };

export function projectOf(texts: ReadonlyMap<string, string>): Project {
  return new Project(
    {
      read: (uri) => texts.get(uri),
      resolve: (from, path) => {
        const uri = posix.normalize(posix.join(posix.dirname(from), path));
        return texts.has(uri) ? { uri } : { problem: 'not-found', why: '' };
      },
    },
    library,
  );
}
