/** Every place that names the thing under the cursor, in all files of the workspace. */
import type { Location } from 'vscode-languageserver-types';
import { locationOf } from './definition.ts';
import { meaningAt } from './meaning.ts';
import { occurrences } from './occurrences.ts';
import type { Workspace } from './workspace.ts';

export function referencesAt(
  workspace: Workspace,
  uri: string,
  offset: number,
  withDeclaration: boolean,
): Location[] | null {
  const meaning = meaningAt(workspace, uri, offset);
  if (!meaning) return null;
  return occurrences(workspace, meaning)
    .filter(({ declares }) => withDeclaration || !declares)
    .map(({ at }) => locationOf(workspace, at));
}
