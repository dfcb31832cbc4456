// `thou solve FILE GOAL…`: what has to be changed, and how far, so that a figure comes to where it is wanted.
import { resultFormat } from '@thou/shared/result/contract';
import type { SolveResult } from '@thou/shared/result/solve';
import { workBackText } from '../report/work-back-text.ts';
import { solved } from '../report/solving.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { benchOf, unlessRefused } from './goal.ts';
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
    const [outcome] = buildsNamed(job.look(path).result.outcomes, args.value('build'), file);
    if (!outcome) throw new Refusal(`"${file}" has no build.`);
    const { goals, result } = unlessRefused(solved(benchOf(job, path), outcome, written, args.values('turn')));
    const told: SolveResult = { format: resultFormat, thou: version(), ...result };
    if (args.value('format') === 'json') out.write(jsonText(told));
    else out.write(workBackText(outcome, goals, harmlessAll(result), out.style));
    return result.holdsAlready || result.ways.length > 0 ? exitCode.holds : exitCode.findings;
  },
};
