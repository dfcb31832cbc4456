// `thou compare FILE…`: builds and variants beside each other, what differs first.
import { compareResult, compareText, condensed, type Condensed } from '../report/compare.ts';
import type { Arguments } from './arguments.ts';
import { filesIn } from './check.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { rootFor } from './files.ts';
import { Job } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import { version } from './version.ts';

export const compareCommand: Command = {
  name: 'compare',
  takes: 'FILE…',
  summary: 'builds and variants beside each other: what was changed, which checks differ for it, what follows',
  options: [
    { name: 'build', takes: 'NAME', many: true, text: 'only these, in this order (else all of the files)' },
    { name: 'all', text: 'also what is the same in all' },
    { name: 'format', takes: 'FORMAT', words: ['text', 'json'], text: 'for people, or for programs' },
    rootOption,
  ],
  run(args, { out }) {
    if (args.given.length === 0) throw new Refusal('Name a file whose builds are to be compared.');
    const builds = chosen(buildsIn(filesIn(args.given), args), args.values('build'));
    if (builds.length < 2)
      throw new Refusal('There must be two builds to compare: a variant in the file, a second file, or --build twice.');
    const result = compareResult(builds, version());
    if (args.value('format') === 'json') out.write(jsonText(result));
    else out.write(compareText(harmlessAll(result), args.has('all'), out.style));
    return exitCode.holds;
  },
};

/** One file is held at a time; files of one root share what they use. */
function buildsIn(paths: readonly string[], args: Arguments): Condensed[] {
  const jobs = new Map<string, Job>();
  return paths.flatMap((path) => {
    const folder = rootFor(path, args.value('root'));
    const job = jobs.get(folder) ?? new Job(folder);
    jobs.set(folder, job);
    const found = job.look(path).result.outcomes.map((outcome) => condensed(outcome));
    job.leave(path);
    return found;
  });
}

function chosen(found: readonly Condensed[], names: readonly string[]): readonly Condensed[] {
  if (names.length === 0) return found;
  return names.map((name) => {
    const one = found.find(({ build }) => build === name);
    if (one) return one;
    throw new Refusal(`There is no build "${name}"; there are ${found.map(({ build }) => build).join(', ')}.`);
  });
}
