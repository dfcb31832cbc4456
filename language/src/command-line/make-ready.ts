// Run by itself when the language is put together: writes the trees of the trade library where `readLibrary` finds them, and beside them
// all of it in one text for where there are no files.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { bundledLibrary, readyLibrary } from './library.ts';

const [, , folder] = process.argv;
if (folder === undefined) throw new Error('Say into which folder the library is to be written.');
writeFileSync(join(folder, 'prelude.json'), readyLibrary());
writeFileSync(join(folder, 'library.json'), bundledLibrary());
