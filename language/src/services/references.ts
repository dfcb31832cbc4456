/** Every place that names the thing under the cursor, in all files of the workspace. */
import type { Location } from 'vscode-languageserver-types';
import { locationOf } from './definition.ts';
import { meaningAt } from './meaning.ts';
import { occurrences } from './occurrences.ts';
import type { Workspace } from './workspace.ts';

export async function referencesAt(
  workspace: Workspace,
  uri: string,
  offset: number,
  withDeclaration: boolean,
  breathe: () => Promise<void>,
): Promise<Location[] | null> {
  const meaning = meaningAt(workspace, uri, offset);
  if (!meaning) return null;
  const found = await occurrences(workspace, meaning, breathe);
  return found.filter(({ declares }) => withDeclaration || !declares).map(({ at }) => locationOf(workspace, at));
}
