// Goals and ranges that were typed on the command line, read by the language itself in a copy of the build.
import type { Outcome } from '../semantics/plan/outcome.ts';
import { Places } from '../semantics/problems/places.ts';
import { bodyOf, goalsOf, withGoals } from '../semantics/solve/goals.ts';
import type { Asked, Goals } from '../semantics/solve/goals.ts';
import { targetAt } from '../semantics/solve/targets.ts';
import type { Target } from '../semantics/solve/targets.ts';
import type { Plan } from '../semantics/plan/run.ts';
import { placesOf } from '../report/cells.ts';
import { locate } from '../report/locate.ts';
import { listed } from '../report/place.ts';
import type { Job } from './job.ts';
import { Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';

/** What the language objects to is told with the text that was typed. */
export function readGoals(job: Job, path: string, outcome: Outcome, wanted: readonly Asked[]): Goals {
  const { uri } = outcome.binding.origin;
  const text = job.text(uri);
  const body = bodyOf(outcome);
  const place = body === null ? null : new Places((at) => job.source(at)).place({ uri, at: body });
  if (place === null || text[place.end - 1] !== '}')
    throw new Refusal(`"${outcome.binding.name}" is not written to its end; "thou check" tells where.`);
  const copy = withGoals(text, place, wanted);
  const { problems, outcomes } = job.lookAtText(path, copy.text);
  copy.places.forEach(({ start, end }, at) => {
    const slip = problems.find((one) => one.severity === 'error' && one.start <= end && one.end >= start);
    if (slip) throw new Refusal(`In "${wanted[at]!.text}": ${harmless(slip.message)}`);
  });
  const own = outcomes.find(({ binding }) => binding.name === outcome.binding.name);
  const goals = own === undefined ? null : goalsOf(own, wanted);
  if (goals === null)
    throw new Refusal(
      `${listed(wanted.map((one) => `"${one.text}"`))} cannot be worked back from: a goal compares a figure with another, such as "gap = 0.040 in".`,
    );
  return goals;
}

/** A figure named on the command line that may be changed. */
export function turned(outcome: Outcome, plan: Plan, name: string): Target {
  const found = locate(outcome, name);
  if ('problem' in found) throw new Refusal(found.problem);
  const { one, places } = found;
  const target = targetAt(plan, one.slot.id, (axes, cell) =>
    placesOf(axes, cell).every((place, at) => places[at] === null || places[at] === place),
  );
  if (target !== null) return target;
  throw new Refusal(
    one.slot.sort === 'derive'
      ? `${one.slot.path} is worked out from others; name one of those that it is made of ("thou explain" tells them).`
      : `${one.slot.path} cannot be turned: it is no quantity, or has no figure yet.`,
  );
}
