// Which build of a file is meant: the one that is named, else the one that a place stands in, else the first.
import type { Position } from 'vscode-languageserver-types';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { Places } from '../../semantics/problems/places.ts';
import { toOffset } from '../positions.ts';
import type { Workspace } from '../workspace.ts';

export function outcomeNamed(outcomes: readonly Outcome[], name: string): Outcome | undefined {
  return outcomes.find(({ binding }) => binding.name === name);
}

export function outcomeAt(workspace: Workspace, uri: string, position: Position | undefined): Outcome | undefined {
  const { outcomes } = workspace.result(uri);
  if (position === undefined) return outcomes[0];
  const offset = toOffset(workspace.positionsOf(uri), position);
  const places = new Places((at) => workspace.source(at));
  const round = outcomes.find(({ binding }) => {
    const { start, end } = places.place(binding.origin);
    return binding.origin.uri === uri && start <= offset && offset <= end;
  });
  return round ?? outcomes[0];
}
