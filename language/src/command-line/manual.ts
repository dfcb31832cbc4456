// `thou manual`: the reference of the trade library, and of what a file declares on top of it, as Markdown or as pages to browse.
import { markdownPages, markdownWhole } from '../report/manual/markdown.ts';
import type { Manual } from '../report/manual/model.ts';
import { htmlPages } from '../report/manual/pages.ts';
import { manualOf } from '../report/manual/read.ts';
import { capitalised } from '../report/place.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { Job, jobFor } from './job.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import { writePages } from './written.ts';

export const manualCommand: Command = {
  name: 'manual',
  takes: '[FILE]',
  summary:
    'the reference: every property, formula, limit and rule with its source and what uses it; with a file, also what it and the files that it uses declare',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      words: ['markdown', 'html'],
      text: 'as Markdown, or as pages to browse and search',
    },
    {
      name: 'output',
      short: 'o',
      takes: 'FOLDER',
      text: 'write a page a chapter there; pages of the same names are replaced',
    },
    rootOption,
  ],
  run(args, { out, err }) {
    const [given] = args.given;
    if (args.given.length > 1) throw new Refusal('Name one file at most.');
    const manual = harmlessAll(given === undefined ? libraryManual() : manualWith(given, args.value('root')));
    const target = args.value('output');
    if (args.value('format') === 'html') {
      if (target === undefined) throw new Refusal('Say with -o which folder the pages are to be written to.');
      writePages(target, htmlPages(manual), err);
    } else if (target === undefined) out.write(markdownWhole(manual));
    else writePages(target, markdownPages(manual), err);
    return exitCode.holds;
  },
};

function libraryManual(): Manual {
  const job = new Job(process.cwd());
  return manualFrom(job, job.emptyLook(), []);
}

function manualWith(given: string, root: string | undefined): Manual {
  const { job, path } = jobFor(given, root);
  const { result } = job.look(path);
  const chapters = new Set(job.library.chapters.map(({ uri }) => uri));
  return manualFrom(
    job,
    result,
    result.scope.files.map(({ uri }) => uri).filter((uri) => !chapters.has(uri)),
  );
}

function manualFrom(job: Job, { names }: ReturnType<Job['emptyLook']>, own: readonly string[]): Manual {
  const { chapters, cautions, text } = job.library;
  return manualOf({
    edition: text.edition,
    chapters: [...chapters, ...own.map((uri) => ({ uri, title: capitalised(job.files.nameOf(uri)) }))],
    cautions,
    root: text.root,
    names,
    source: (uri) => job.source(uri),
  });
}
