// `thou diff OLD NEW`: what changed between two states of a file or of a folder, and what follows.
import type { DiffResult } from '@thou/shared/result/diff';
import { diffResult, type State } from '../report/diff.ts';
import { diffMarkdown, diffText } from '../report/diff-text.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { folderDiff } from './diff-folders.ts';
import { buildsNamed, Job } from './job.ts';
import { jsonText } from './json-text.ts';
import { mistakesIn } from '../report/mistakes.ts';
import { exitCode, Refusal } from './refusal.ts';
import { hostOf, stateFound, type StateFound } from './states.ts';
import { harmlessAll } from './terminal.ts';
import { version } from './version.ts';

export const diffCommand: Command = {
  name: 'diff',
  takes: 'OLD NEW',
  summary: 'what changed between two states of a file or a folder: figures that were given, what follows, checks',
  note:
    'OLD and NEW are files or folders, or REVISION:FILE or REVISION:FOLDER of the repository; a REVISION alone means the other at that revision. ' +
    'The exit code is 0 also where a check got worse: what must hold, "thou check" tells.',
  options: [
    { name: 'build', takes: 'NAME', text: 'only this build or variant' },
    {
      name: 'format',
      takes: 'FORMAT',
      words: ['text', 'json', 'markdown'],
      text: 'for people, for programs (schema: thou-diff-1.schema.json), for a pull request',
    },
    rootOption,
  ],
  async run(args, { out }) {
    const [old, now] = args.given;
    if (old === undefined || now === undefined || args.given.length > 2)
      throw new Refusal('Name two states of a file or a folder: two of them, or REVISION:FILE and a file.');
    const root = args.value('root');
    const result = await resultOf(stateFound(old, now, root), stateFound(now, old, root), args.value('build'));
    const format = args.value('format');
    if (format === 'json') out.write(jsonText(result));
    else if (format === 'markdown') out.write(diffMarkdown(harmlessAll(result)));
    else out.write(diffText(harmlessAll(result), out.style));
    return exitCode.holds;
  },
};

function resultOf(old: StateFound, now: StateFound, build: string | undefined): Promise<DiffResult> | DiffResult {
  if (old.isFolder && now.isFolder) return folderDiff(old, now, build);
  if (!old.isFolder && !now.isFolder) return diffResult(stateIn(old, build), stateIn(now, build), version());
  const [folder, file] = old.isFolder ? [old, now] : [now, old];
  throw new Refusal(`"${folder.named}" is a folder and "${file.named}" a file: name two files or two folders.`);
}

function stateIn(state: StateFound, build: string | undefined): State {
  const job = new Job(state.root, hostOf(state));
  const { outcomes, problemsOfText } = job.read(state.path);
  return {
    name: state.named,
    outcomes: buildsNamed(outcomes, build, state.named),
    mistakes: mistakesIn(problemsOfText, (uri) => job.text(uri), job.files.nameOf),
    files: job.files,
  };
}
