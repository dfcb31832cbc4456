// Goals and ranges that were typed on the command line, read by the language itself in a copy of the build.
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Asked, Goals } from '../semantics/solve/goals.ts';
import type { Target } from '../semantics/solve/targets.ts';
import type { Plan } from '../semantics/plan/run.ts';
import { goalsRead, turnedByName, type Bench } from '../report/solving.ts';
import type { Job } from './job.ts';
import { Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';

export function benchOf(job: Job, path: string): Bench {
  return {
    ...job.texts,
    uri: job.uriOf(path),
    lookAt: (text) => job.lookAtText(path, text),
  };
}

export function readGoals(job: Job, path: string, outcome: Outcome, wanted: readonly Asked[]): Goals {
  return unlessRefused(goalsRead(benchOf(job, path), outcome, wanted));
}

/** A figure named on the command line that may be changed. */
export function turned(outcome: Outcome, plan: Plan, name: string): Target {
  return unlessRefused(turnedByName(outcome, plan, name));
}

export function unlessRefused<T extends object>(answer: T | { readonly problem: string }): T {
  if ('problem' in answer && typeof answer.problem === 'string') throw new Refusal(harmless(answer.problem));
  return answer as T;
}
