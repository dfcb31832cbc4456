// `thou explain FILE NAME`: how one figure comes about.
import { explain } from '../report/explain.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { buildsNamed, jobFor } from './job.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';

const deepest = 12;

export const explainCommand: Command = {
  name: 'explain',
  takes: 'FILE NAME',
  summary: 'how a figure comes about: formula, what it is made of, where each figure comes from, its limits',
  note: 'A figure is named as in the file: length, plate.length, plate[3].length[top].',
  options: [
    { name: 'build', takes: 'NAME', text: 'in this build or variant (else the first of the file)' },
    { name: 'deep', takes: 'STEPS', text: `so many steps back, up to ${deepest} (else 1)` },
    { name: 'sensitivities', text: 'also what makes it unsure, and what moves it, the largest first' },
    {
      name: 'moves',
      takes: 'DIGITS',
      text: 'also every figure that moves when this one changes by so many of its last digits',
    },
    rootOption,
  ],
  run(args, { out }) {
    const [file, name] = args.given;
    if (file === undefined || name === undefined || args.given.length > 2)
      throw new Refusal('Name a file and one figure in it.');
    const deep = depth(args.value('deep'));
    const { job, path } = jobFor(file, args.value('root'));
    const { result } = job.look(path);
    const [outcome] = buildsNamed(result.outcomes, args.value('build'), file);
    if (!outcome) throw new Refusal(`"${file}" has no build.`);
    const moves = digits(args.value('moves'));
    const lines = explain(outcome, name, {
      deep,
      sensitivities: args.has('sensitivities'),
      ...(moves === null ? {} : { moves }),
      files: job.files,
    });
    if ('problem' in lines) throw new Refusal(lines.problem);
    const [first = '', ...rest] = lines.map(harmless);
    out.write(`${[out.style.title(first), ...rest].join('\n')}\n`);
    return exitCode.holds;
  },
};

function depth(typed: string | undefined): number {
  if (typed === undefined) return 1;
  const steps = Number(typed);
  if (!Number.isInteger(steps) || steps < 1)
    throw new Refusal(`The option --deep takes a whole number from 1, not "${typed}".`);
  return Math.min(steps, deepest);
}

function digits(typed: string | undefined): number | null {
  if (typed === undefined) return null;
  const count = Number(typed);
  if (!Number.isInteger(count) || count < 1 || count > 1_000_000)
    throw new Refusal(`The option --moves takes a whole number from 1, not "${typed}".`);
  return count;
}
