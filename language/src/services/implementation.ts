/** From a property to every place of a build, a part or a practice that sets it; from a mount to what is put there. */
import type { Location } from 'vscode-languageserver-types';
import { locationOf } from './definition.ts';
import { meaningAt } from './meaning.ts';
import { occurrences } from './occurrences.ts';
import type { Workspace } from './workspace.ts';

export function implementationsAt(workspace: Workspace, uri: string, offset: number): Location[] | null {
  const meaning = meaningAt(workspace, uri, offset);
  if (meaning?.is !== 'slot' && meaning?.is !== 'mount') return null;
  return occurrences(workspace, meaning)
    .filter(({ sets }) => sets)
    .map(({ at }) => locationOf(workspace, at));
}
