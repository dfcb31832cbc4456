// The files of a sort, as those of the language, in a folder and in those below it.
import { readdirSync, type Dirent } from 'node:fs';
import { join } from 'node:path';

export function thouFiles(folder: string): string[] {
  return filesIn(folder, '.thou');
}

/** Links, dot-folders, packages and what may not be opened are not entered. */
export function filesIn(folder: string, ending: string): string[] {
  return entriesOf(folder).flatMap((entry) => {
    if (entry.isDirectory()) {
      return isPassedOver(entry.name) ? [] : filesIn(join(folder, entry.name), ending);
    }
    return entry.isFile() && entry.name.endsWith(ending) ? [join(folder, entry.name)] : [];
  });
}

export function isPassedOver(folder: string): boolean {
  return folder.startsWith('.') || folder === 'node_modules' || folder === 'thou_modules';
}

function entriesOf(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}
