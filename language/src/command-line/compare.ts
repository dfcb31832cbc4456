// `thou compare FILE…`: builds and variants beside each other, what differs first.
import type { CompareResult } from '@thou/shared/result/compare';
import { compareResult, compareText } from '../report/compare.ts';
import { Shelf, type Condensed } from '../report/condensed.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { condensing } from './condensing.ts';
import { sharedOut } from './crew.ts';
import { jsonText } from './json-text.ts';
import { codeWithUnread, filesNamed } from './named-files.ts';
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
  async run(args, { out, err }) {
    if (args.given.length === 0) throw new Refusal('Name a file whose builds are to be compared.');
    const shelf = new Shelf();
    const files = filesNamed(args.given);
    const found = await sharedOut(condensing, args.value('root'), files.paths, (builds) =>
      builds.map((build) => shelf.put(build)),
    );
    const builds = chosen(found.flat(), args.values('build'));
    if (builds.length < 2)
      throw new Refusal('There must be two builds to compare: a variant in the file, a second file, or --build twice.');
    const result = compareResult(builds, version());
    if (args.value('format') === 'json') out.write(jsonText(result));
    else out.write(compareText(harmlessAll(inWords(result)), args.has('all'), out.style));
    return codeWithUnread(files, exitCode.holds, err);
  },
};

function chosen(found: readonly Condensed[], names: readonly string[]): readonly Condensed[] {
  if (names.length === 0) return found;
  return names.flatMap((name) => {
    const called = found.filter(({ build }) => build === name);
    if (called.length > 0) return called;
    throw new Refusal(`There is no build "${name}"; there are ${found.map(({ build }) => build).join(', ')}.`);
  });
}

/** Without what a text does not show: of a thousand builds that is most of it. */
function inWords(result: CompareResult): CompareResult {
  return { ...result, figures: result.figures.map((figure) => ({ ...figure, values: [] })) };
}
