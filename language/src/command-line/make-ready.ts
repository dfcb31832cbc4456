// Run by itself when the language is put together: writes the trees of the trade library where `readLibrary` finds them.
import { writeFileSync } from 'node:fs';
import { readyLibrary } from './library.ts';

const [, , path] = process.argv;
if (path === undefined) throw new Error('Say where the trees are to be written.');
writeFileSync(path, readyLibrary());
