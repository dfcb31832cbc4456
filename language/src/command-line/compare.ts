// `thou compare FILE…`: builds and variants beside each other, what differs first.
import { compareResult, compareText } from '../report/compare.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
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
    const found = filesIn(args.given).flatMap(
      (path) => new Job(rootFor(path, args.value('root'))).look(path).result.outcomes,
    );
    const builds = chosen(found, args.values('build'));
    if (builds.length < 2)
      throw new Refusal('There must be two builds to compare: a variant in the file, a second file, or --build twice.');
    const result = compareResult(builds, version());
    if (args.value('format') === 'json') out.write(jsonText(result));
    else out.write(compareText(harmlessAll(result), args.has('all'), out.style));
    return exitCode.holds;
  },
};

function chosen(found: readonly Outcome[], names: readonly string[]): readonly Outcome[] {
  if (names.length === 0) return found;
  return names.map((name) => {
    const one = found.find(({ binding }) => binding.name === name);
    if (one) return one;
    throw new Refusal(`There is no build "${name}"; there are ${found.map(({ binding }) => binding.name).join(', ')}.`);
  });
}
