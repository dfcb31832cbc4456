// Which check of which build an underlined finding stands for.
import { findingProblems, type FindingProblem } from '../../report/problems.ts';
import { Places } from '../../semantics/problems/places.ts';
import type { Workspace } from '../workspace.ts';

/** What does not hold, where it is underlined in this file or stands in the statement; from `start` to `end`. The underlined come first. */
export function underlinedAt(workspace: Workspace, uri: string, start: number, end: number): FindingProblem[] {
  const { outcomes } = workspace.result(uri);
  const places = new Places((at) => workspace.source(at));
  const all = findingProblems(uri, outcomes, places, workspace.files);
  const touched = all.filter((problem) => problem.start <= end && start <= problem.end);
  const near = all.filter(({ whole }) => whole.start <= end && start <= whole.end);
  return [...touched, ...near.filter((one) => !touched.includes(one))];
}
