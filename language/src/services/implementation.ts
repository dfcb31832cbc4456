/** From a property to every place of a build, a part or a practice that sets it; from a mount to what is put there. */
import type { Location } from 'vscode-languageserver-types';
import { locationOf } from './definition.ts';
import { meaningAt } from './meaning.ts';
import { occurrences } from './occurrences.ts';
import type { Workspace } from './workspace.ts';

export async function implementationsAt(
  workspace: Workspace,
  uri: string,
  offset: number,
  breathe: () => Promise<void>,
): Promise<Location[] | null> {
  const meaning = meaningAt(workspace, uri, offset);
  if (meaning?.is !== 'slot' && meaning?.is !== 'mount') return null;
  const found = await occurrences(workspace, meaning, breathe);
  return found.filter(({ sets }) => sets).map(({ at }) => locationOf(workspace, at));
}
