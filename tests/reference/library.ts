/** The trade library as it stands in its folder; its trees ready-made where `npm test` made them. */
import { readLibrary } from '../../language/src/command-line/library.ts';
import type { LibraryText } from '../../language/src/semantics/project.ts';

const { text } = readLibrary();
export const library: LibraryText = {
  ...text,
  files: text.files.map((file) => ({ ...file, uri: `prelude:/${file.uri.split('/').at(-1)}` })),
};
