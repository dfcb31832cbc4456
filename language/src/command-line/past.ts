/** Earlier commits of a file for the language server beside an editor on a disk; read as safely as for the command line. */
import { fileURLToPath } from 'node:url';
import type { Commit } from '@thou/shared/protocol-checks';
import type { Past } from '../services/checks/commits.ts';
import { repositoryOf } from './files.ts';
import { Refusal } from './refusal.ts';
import { commitsOf, RevisionFiles } from './revisions.ts';

const inNone = { problem: 'This file lies in no repository, so it has no earlier commits.' };

export const past: Past = {
  commitsOf: (uri) => inRepository(uri, (top, path): readonly Commit[] => commitsOf(top, path)),
  at: (uri, commit) => inRepository(uri, (top) => new RevisionFiles(top, commit)),
};

function inRepository<T>(uri: string, look: (top: string, path: string) => T): T | { readonly problem: string } {
  if (!uri.startsWith('file:')) return inNone;
  const path = fileURLToPath(uri);
  const top = repositoryOf(path);
  if (top === null) return inNone;
  try {
    return look(top, path);
  } catch (problem) {
    if (problem instanceof Refusal) return { problem: problem.message };
    throw problem;
  }
}
