// `thou diff OLD NEW`: what changed between two states of a file, and what follows.
import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { diffResult, type State } from '../report/diff.ts';
import { diffMarkdown, diffText } from '../report/diff-text.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { repositoryOf, statOf } from './files.ts';
import { buildsNamed, Job, jobFor } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { RevisionFiles } from './revisions.ts';
import { harmlessAll } from './terminal.ts';
import { version } from './version.ts';

export const diffCommand: Command = {
  name: 'diff',
  takes: 'OLD NEW',
  summary: 'what changed between two states of a file: figures that were given, what follows, checks',
  note: 'OLD and NEW are files, or REVISION:FILE of the repository; a REVISION alone means the other file at that revision.',
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
  run(args, { out }) {
    const [old, now] = args.given;
    if (old === undefined || now === undefined || args.given.length > 2)
      throw new Refusal('Name two states of a file: two files, or REVISION:FILE and a file.');
    const root = args.value('root');
    const build = args.value('build');
    const [before, after] = [stateOf(old, now, root, build), stateOf(now, old, root, build)];
    const result = diffResult(before, after, version());
    const format = args.value('format');
    if (format === 'json') out.write(jsonText(result));
    else if (format === 'markdown') out.write(diffMarkdown(harmlessAll(result)));
    else out.write(diffText(harmlessAll(result), out.style));
    return exitCode.holds;
  },
};

/** `other`: the file that a revision alone is of. */
function stateOf(named: string, other: string, root: string | undefined, build: string | undefined): State {
  const [revision, path] = splitRevision(named, other);
  if (revision === null) {
    const { job, path: real } = jobFor(path, root);
    return stateIn(job, real, named, build);
  }
  const full = resolve(realpathSync(process.cwd()), path);
  const top = repositoryOf(full);
  if (top === null) throw new Refusal(`"${path}" lies in no repository, so it has no revisions.`);
  const files = new RevisionFiles(top, revision);
  const job = new Job(top, files);
  if (job.source(job.uriOf(full)) === undefined)
    throw new Refusal(`There is no file "${path}" at revision "${revision}".`);
  return stateIn(job, full, named, build);
}

function stateIn(job: Job, path: string, name: string, build: string | undefined): State {
  const { outcomes } = job.look(path).result;
  return { name, outcomes: buildsNamed(outcomes, build, name), files: job.files };
}

/** A file that is there goes before a revision that is called the same. */
function splitRevision(named: string, other: string): [revision: string | null, path: string] {
  if (statOf(named)?.isFile()) return [null, named];
  const colon = named.indexOf(':');
  if (colon > 0) return [named.slice(0, colon), named.slice(colon + 1)];
  if (/\.thou$/i.test(named)) return [null, named]; // refused as a file that is not there
  const file = statOf(other)?.isFile() ? other : other.slice(other.indexOf(':') + 1);
  return [named, file];
}
