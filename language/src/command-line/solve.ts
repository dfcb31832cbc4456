// `thou solve FILE GOAL…`: what has to be changed, and how far, so that a figure comes to where it is wanted.
import { resultFormat } from '@thou/shared/result/contract';
import type { SolveResult } from '@thou/shared/result/solve';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { asked } from '../semantics/solve/goals.ts';
import type { Goals } from '../semantics/solve/goals.ts';
import type { Wanted } from '../semantics/solve/remedies.ts';
import { partOfSize, shelfOf } from '../semantics/solve/shelf.ts';
import { linesOf } from '../semantics/solve/targets.ts';
import type { Target } from '../semantics/solve/targets.ts';
import { adjustsOf, workBack } from '../semantics/solve/work-back.ts';
import { noWayResult, wayResult } from '../report/work-back.ts';
import { workBackText } from '../report/work-back-text.ts';
import { gridOf, styleOf } from '../report/writing.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { readGoals, turned } from './goal.ts';
import { buildsNamed, jobFor } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import { version } from './version.ts';

export const solveCommand: Command = {
  name: 'solve',
  takes: 'FILE GOAL…',
  summary:
    'what to change, and how far, so that figures come to where they are wanted; what else moves and what goes out',
  note: 'A goal is written as in the file: "gap = 0.040 in", "gap within 0.038..0.042 in", "ratio >= 10.5". Exit code 1: no way was found.',
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

function linesFor(outcome: Outcome, goals: Goals, names: readonly string[]): readonly (readonly Target[])[] {
  if (names.length > 0) return names.map((name) => [turned(outcome, goals.plan, name)]);
  const lines = linesOf(goals.plan, adjustsOf(goals));
  if (lines.length === 0)
    throw new Refusal('No rule names what may be turned for this; name it: --turn NAME, once for each figure.');
  return lines;
}
