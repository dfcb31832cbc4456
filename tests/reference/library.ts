/** The trade library as it stands in its folder. */
import { readFileSync } from 'node:fs';
import type { LibraryText } from '../../language/src/semantics/project.ts';

const folder = new URL('../../language/prelude/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

interface Edition {
  readonly edition: number;
  readonly root: string;
  readonly files: readonly string[];
}

const { edition, root, files } = JSON.parse(read('edition.json')) as Edition;
export const library: LibraryText = {
  edition,
  root,
  files: files.map((name) => ({ uri: `prelude:/${name}`, text: read(name) })),
};
