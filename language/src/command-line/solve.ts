// `thou solve FILE GOAL…`: what has to be changed, and how far, so that a figure comes to where it is wanted.
import { resultFormat } from '@thou/shared/result/contract';
import type { SolveResult } from '@thou/shared/result/solve';
import { Places } from '../semantics/problems/places.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { asked, bodyOf, goalsOf, withGoals } from '../semantics/solve/goals.ts';
import type { Asked, Goals } from '../semantics/solve/goals.ts';
import type { Wanted } from '../semantics/solve/remedies.ts';
import { partOfSize, shelfOf } from '../semantics/solve/shelf.ts';
import { linesOf, targetAt } from '../semantics/solve/targets.ts';
import type { Target } from '../semantics/solve/targets.ts';
import { adjustsOf, workBack } from '../semantics/solve/work-back.ts';
import { placesOf } from '../report/cells.ts';
import { locate } from '../report/locate.ts';
import { listed } from '../report/place.ts';
import { noWayResult, wayResult } from '../report/work-back.ts';
import { workBackText } from '../report/work-back-text.ts';
import { gridOf, styleOf } from '../report/writing.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { buildsNamed, jobFor } from './job.ts';
import type { Job } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless, harmlessAll } from './terminal.ts';
import { version } from './version.ts';

export const solveCommand: Command = {
  name: 'solve',
  takes: 'FILE GOAL…',
  summary:
    'what to change, and how far, so that figures come to where they are wanted; what else moves and what goes out',
  note: 'A goal is written as in the file: "gap = 0.040 in", "gap within 0.038..0.042 in", "ratio >= 10.5".',
  options: [
    {
      name: 'turn',
      takes: 'NAME',
      many: true,
      text: 'what may be changed; may be given several times (else: what the rules on the figure name)',
    },
    { name: 'build', takes: 'NAME', text: 'in this build or variant (else the first of the file)' },
    { name: 'format', takes: 'FORMAT', words: ['text', 'json'], text: 'for people, or for programs' },
    rootOption,
  ],
  run(args, { out }) {
    const [file, ...written] = args.given;
    if (file === undefined || written.length === 0)
      throw new Refusal('Name a file, and what is wanted: "gap = 0.040 in".');
    const { job, path } = jobFor(file, args.value('root'));
    const { uri, result } = job.look(path);
    const [outcome] = buildsNamed(result.outcomes, args.value('build'), file);
    if (!outcome) throw new Refusal(`"${file}" has no build.`);
    const goals = readGoals(job, path, outcome, written.map(asked));
    const wanted: Wanted = {
      gridOf: (slot, cell) => gridOf(styleOf(outcome, slot, cell)),
      sizesOf: (slot) => shelfOf(job.texts, uri, outcome, slot).map(({ size }) => size),
    };
    const holdsAlready = goals.all.every(({ sort }) => sort === 'keep') && goals.kept!.state.startsWith('holds');
    const lines = linesFor(outcome, goals, args.values('turn'));
    const { ways, noWays } = holdsAlready ? { ways: [], noWays: [] } : workBack(goals, lines, wanted);
    const partOf = (slot: number, size: number): string | null =>
      partOfSize(shelfOf(job.texts, uri, outcome, slot), size);
    const solved: SolveResult = {
      format: resultFormat,
      thou: version(),
      build: outcome.binding.name,
      goals: written,
      holdsAlready,
      ways: ways.map((way) => wayResult({ outcome, goals, partOf }, way)),
      noWays: noWays.map((one) => noWayResult(outcome, one)),
    };
    if (args.value('format') === 'json') out.write(jsonText(solved));
    else out.write(workBackText(outcome, goals, harmlessAll(solved), out.style));
    return holdsAlready || ways.length > 0 ? exitCode.holds : exitCode.findings;
  },
};

/** Read by the language itself, in a copy of the build; what it objects to is the reader's. */
function readGoals(job: Job, path: string, outcome: Outcome, wanted: readonly Asked[]): Goals {
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

function linesFor(outcome: Outcome, goals: Goals, names: readonly string[]): readonly (readonly Target[])[] {
  if (names.length > 0) return names.map((name) => [turned(outcome, goals, name)]);
  const lines = linesOf(goals.plan, adjustsOf(goals));
  if (lines.length === 0)
    throw new Refusal('No rule names what may be turned for this; name it: --turn NAME, once for each figure.');
  return lines;
}

function turned(outcome: Outcome, goals: Goals, name: string): Target {
  const found = locate(outcome, name);
  if ('problem' in found) throw new Refusal(found.problem);
  const { one, places } = found;
  const target = targetAt(goals.plan, one.slot.id, (axes, cell) =>
    placesOf(axes, cell).every((place, at) => places[at] === null || places[at] === place),
  );
  if (target !== null) return target;
  throw new Refusal(
    one.slot.sort === 'derive'
      ? `${one.slot.path} is worked out from others; name one of those that it is made of ("thou explain" tells them).`
      : `${one.slot.path} cannot be turned: it is no quantity, or has no figure yet.`,
  );
}
