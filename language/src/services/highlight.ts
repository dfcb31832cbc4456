/** The same name elsewhere in the file: where it is set, and where it is read. */
import type { DocumentHighlight } from 'vscode-languageserver-types';
import { meaningAt } from './meaning.ts';
import { occurrencesIn } from './occurrences.ts';
import { toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

const [read, write] = [2, 3] as const;

export function highlightsAt(workspace: Workspace, uri: string, offset: number): DocumentHighlight[] | null {
  const meaning = meaningAt(workspace, uri, offset);
  if (!meaning) return null;
  return occurrencesIn(workspace, uri, meaning).map(({ at, declares, sets }) => ({
    range: toRange(workspace.positionsOf(uri), at),
    kind: declares || sets ? write : read,
  }));
}
