// Ways back from a target, as a text: what has to be changed, how far, and what else comes of it.
import { solved } from '../../report/solving.ts';
import { workBackText } from '../../report/work-back-text.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { tried } from '../code-actions/trial.ts';
import type { Workspace } from '../workspace.ts';

/** So many goals at a time. */
const mostGoals = 3;

export function waysText(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  goals: readonly string[],
  turn: readonly string[],
): string | { readonly problem: string } {
  if (goals.length === 0 || goals.length > mostGoals)
    return { problem: `Say what is wanted, such as "gap = 0.040 in"; one to ${mostGoals} such goals.` };
  const bench = {
    uri,
    source: (at: string) => workspace.source(at),
    resolve: (from: string, path: string) => workspace.resolve(from, path),
    lookAt: (text: string) => tried(workspace, uri, [{ start: 0, end: workspace.source(uri)?.text.length ?? 0, text }]),
  };
  const found = solved(bench, outcome, goals, turn);
  return 'problem' in found ? found : workBackText(outcome, found.goals, found.result);
}
