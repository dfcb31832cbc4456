// Which check of which build an underlined finding stands for.
import { message } from '../../report/findings.ts';
import { problemsOfOutcomes } from '../../report/problems.ts';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { Places, type Problem } from '../../semantics/problems/places.ts';
import type { Workspace } from '../workspace.ts';

export interface Underlined {
  readonly problem: Problem;
  readonly outcome: Outcome;
  readonly check: CheckOutcome;
}

/** What does not hold, where it is underlined in this file; from `start` to `end`. */
export function underlinedAt(workspace: Workspace, uri: string, start: number, end: number): Underlined[] {
  const { outcomes } = workspace.result(uri);
  const places = new Places((at) => workspace.source(at));
  const problems = problemsOfOutcomes(uri, outcomes, places, workspace.files).filter(
    (problem) => problem.start <= end && start <= problem.end,
  );
  if (problems.length === 0) return [];
  return outcomes.flatMap((outcome) =>
    outcome.checks
      .filter(({ state }) => state === 'out-of-limits' || state === 'at-risk')
      .flatMap((check) => {
        const text = message(outcome, check, workspace.files, '\n');
        const words = outcome.binding.base === null ? text : `In ${outcome.binding.name}: ${text}`;
        const problem = problems.find((one) => one.message === words);
        return problem ? [{ problem, outcome, check }] : [];
      }),
  );
}
