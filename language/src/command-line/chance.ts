// `thou chance FILE NAME`: a figure in many trials, with everything that is unsure drawn by chance, beside what is worked out.
import { simulated, usual } from '../semantics/certainty/monte-carlo.ts';
import { planBuild } from '../semantics/plan/run.ts';
import { chanceResult, chanceText } from '../report/chance.ts';
import { cellsNamed, locate } from '../report/locate.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { buildsNamed, jobFor } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';
import { version } from './version.ts';

const share = 0.95;
const fewest = 100;
const most = 1_000_000;

export const chanceCommand: Command = {
  name: 'chance',
  takes: 'FILE NAME',
  summary:
    'a figure in many trials with all that is unsure drawn by chance: how far it strays, how often it is inside its limits',
  options: [
    { name: 'trials', takes: 'COUNT', text: `so many (else ${usual.trials})` },
    { name: 'seed', takes: 'NUMBER', text: `another draw; the same seed gives the same trials (else ${usual.seed})` },
    { name: 'build', takes: 'NAME', text: 'in this build or variant (else the first of the file)' },
    { name: 'format', takes: 'FORMAT', words: ['text', 'json'], text: 'for people, or for programs' },
    rootOption,
  ],
  run(args, { out }) {
    const [file, name] = args.given;
    if (file === undefined || name === undefined || args.given.length > 2)
      throw new Refusal('Name a file and one figure in it.');
    const trials = whole(args.value('trials'), 'trials', usual.trials, fewest, most);
    const seed = whole(args.value('seed'), 'seed', usual.seed, 0, 2 ** 31);
    const { job, path } = jobFor(file, args.value('root'));
    const [outcome] = buildsNamed(job.look(path).result.outcomes, args.value('build'), file);
    if (!outcome) throw new Refusal(`"${file}" has no build.`);
    const found = locate(outcome, name);
    if ('problem' in found) throw new Refusal(found.problem);
    const { one } = found;
    if (one.slot.type.is !== 'measure') throw new Refusal(`${one.slot.path} is no quantity.`);
    const cells = cellsNamed(found);
    const plan = planBuild(outcome.binding, undefined, outcome.texts);
    const [drawn] = simulated(plan, [{ slot: one.slot.id }], { trials, seed });
    const result = chanceResult(outcome, one, cells, drawn!, { trials, seed, share }, version());
    if (args.value('format') === 'json') out.write(jsonText(result));
    else out.write(chanceText(outcome, one, result, out.style).split('\n').map(harmless).join('\n'));
    return exitCode.holds;
  },
};

function whole(typed: string | undefined, name: string, otherwise: number, from: number, to: number): number {
  const number = typed === undefined ? otherwise : Number(typed);
  if (!Number.isInteger(number) || number < from || number > to)
    throw new Refusal(`The option --${name} takes a whole number from ${from} to ${to}, not "${typed}".`);
  return number;
}
