/** Where the name under the cursor is declared, in the trade library too; a path leads to the file that it names. */
import type { Location } from 'vscode-languageserver-types';
import { meaningAt, placeOf, type Meaning } from './meaning.ts';
import { toRange } from './positions.ts';
import type { TextPlace } from '../semantics/problems/places.ts';
import type { Workspace } from './workspace.ts';

export function definitionAt(workspace: Workspace, uri: string, offset: number): Location | null {
  const meaning = meaningAt(workspace, uri, offset);
  return meaning && definitionOf(workspace, meaning);
}

function definitionOf(workspace: Workspace, meaning: Meaning): Location | null {
  if (meaning.uri !== undefined)
    return { uri: meaning.uri, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } } };
  return meaning.declared && locationOf(workspace, placeOf(workspace, meaning.declared));
}

export function locationOf(workspace: Workspace, place: TextPlace): Location {
  return { uri: place.uri, range: toRange(workspace.positionsOf(place.uri), place) };
}
