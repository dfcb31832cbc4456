/** A project over files in memory. */
import { posix } from 'node:path';
import { Project } from '../../language/src/semantics/project.ts';
import { library } from './library.ts';

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
