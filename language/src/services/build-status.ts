// How the checks of each build of a file stand, counted: what an editor shows beside the language's name.
import type { BuildStanding } from '@thou/shared/protocol';
import { duesOf } from '../report/due.ts';
import type { CheckState, Outcome } from '../semantics/plan/outcome.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Workspace } from './workspace.ts';

/** In the order of the text. */
export function buildStandings(workspace: Workspace, uri: string): BuildStanding[] {
  const places = new Places((at) => workspace.source(at));
  const positions = workspace.positionsOf(uri);
  return workspace.result(uri).outcomes.map((outcome) => {
    const { start, end } = places.place(outcome.binding.origin);
    return { ...countsOf(outcome), lines: [positions.at(start).line, positions.at(end).line] };
  });
}

function countsOf(outcome: Outcome): Omit<BuildStanding, 'lines'> {
  const count = (...states: readonly CheckState[]): number =>
    outcome.checks.filter(({ state }) => states.includes(state)).length;
  return {
    name: outcome.binding.name,
    hold: count('holds-measured', 'holds-on-paper', 'accepted'),
    out: count('out-of-limits'),
    atRisk: count('at-risk'),
    toMeasure: duesOf(outcome, outcome.toMeasure).length,
  };
}
