// `thou check PATH…`: everything that is wrong with files, and everything in their builds that does not hold.
import { watch } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { resultFormat } from '@thou/shared/result/contract';
import type { CheckReportResult, ProblemResult } from '@thou/shared/result/contract';
import { caps } from '@thou/shared/limits';
import type { Problem } from '../semantics/problems/places.ts';
import type { Outcome, Severity } from '../semantics/plan/outcome.ts';
import { junitXml, type FileLooked } from '../report/junit.ts';
import { sarifLog } from '../report/sarif.ts';
import { countsInWords } from '../report/sheet.ts';
import { listed } from '../report/place.ts';
import type { Arguments } from './arguments.ts';
import { rootOption } from './command.ts';
import type { Command, Streams } from './command.ts';
import { rootFor, startFile, statOf } from './files.ts';
import { thouFiles } from './folders.ts';
import { Job } from './job.ts';
import { jsonText } from './json-text.ts';
import { version } from './version.ts';
import { tellOf } from './page-titles.ts';
import { countWords, problemLines, problemResult, severities } from './print.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';

export const check: Command = {
  name: 'check',
  takes: 'PATH…',
  summary: 'what is wrong with files, and what in their builds does not hold; a folder means all .thou files in it',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      words: ['text', 'json', 'sarif', 'junit'],
      text: 'for people, for programs, for code hosts (SARIF 2.1.0), for build servers (JUnit)',
    },
    { name: 'strict', text: 'warnings too give exit code 1' },
    { name: 'hints', text: 'also tell what is missing and what is only a hint' },
    { name: 'excerpt', text: 'show the line of the file, also where no terminal is' },
    { name: 'watch', text: 'look again whenever a file changes, until stopped' },
    rootOption,
  ],
  run(args, streams) {
    if (args.given.length === 0) throw new Refusal('Name a file or a folder to check.');
    return args.has('watch') ? watchAndCheck(args, streams) : checkOnce(args, streams);
  },
};

interface Seen {
  readonly text: string;
  readonly found: Problem;
  readonly problem: ProblemResult;
}

function checkOnce(args: Arguments, { out }: Streams): number {
  const paths = filesIn(args.given);
  const looked = lookAt(paths, args.value('root'));
  const counts = countsOf(looked.seen);
  out.write(writtenAs(args.value('format') ?? 'text', looked, counts, paths.length, args, out));
  return counts.error > 0 || (args.has('strict') && counts.warning > 0) ? exitCode.findings : exitCode.holds;
}

function writtenAs(
  format: string,
  { seen, outcomes, files }: LookedAt,
  counts: Readonly<Record<Severity, number>>,
  count: number,
  args: Arguments,
  out: Streams['out'],
): string {
  const problems = seen.map(({ problem }) => problem);
  switch (format) {
    case 'json': {
      const report: CheckReportResult = { format: resultFormat, thou: version(), problems, counts };
      return jsonText(report);
    }
    case 'sarif':
      return jsonText(sarifLog(problems, { version: version(), tell: tellOf(outcomes) }));
    case 'junit':
      return junitXml(files, args.has('strict'));
    default:
      return asText(seen, counts, outcomes, count, args, out);
  }
}

interface LookedAt {
  readonly seen: readonly Seen[];
  readonly outcomes: readonly Outcome[];
  readonly files: readonly FileLooked[];
}

/** Each file in its own scope; files of one root share what they use. */
function lookAt(paths: readonly string[], root: string | undefined): LookedAt {
  const jobs = new Map<string, Job>();
  const files = paths.map((path): FileLooked & { readonly seen: readonly Seen[] } => {
    const folder = rootFor(path, root);
    const job = jobs.get(folder) ?? new Job(folder);
    jobs.set(folder, job);
    const { uri, problems, result } = job.look(path);
    const toResult = (found: Problem): ProblemResult => problemResult(found, (at) => job.text(at), job.files.nameOf);
    return {
      file: job.files.nameOf(uri),
      files: job.files,
      outcomes: result.outcomes,
      problems: result.problems.map(toResult),
      seen: problems.map((found) => ({ text: job.text(found.uri), found, problem: toResult(found) })),
    };
  });
  return { files, seen: files.flatMap(({ seen }) => seen), outcomes: files.flatMap(({ outcomes }) => outcomes) };
}

function countsOf(seen: readonly Seen[]): Record<Severity, number> {
  const count = (severity: Severity): number => seen.filter(({ problem }) => problem.severity === severity).length;
  return { error: count('error'), warning: count('warning'), advice: count('advice'), hint: count('hint') };
}

function asText(
  seen: readonly Seen[],
  counts: Readonly<Record<Severity, number>>,
  outcomes: readonly Outcome[],
  files: number,
  args: Arguments,
  { isTerminal, style }: Streams['out'],
): string {
  const excerpt = isTerminal || args.has('excerpt');
  const told = seen.filter(({ problem }) => args.has('hints') || problem.severity !== 'hint');
  const shown = fewEnough(told);
  const lines = shown.flatMap(({ found, problem, text }) => problemLines(found, problem, text, excerpt, style));
  const more = told.length - shown.length;
  return [
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    ...(lines.length > 0 ? [''] : []),
    summary(counts, outcomes, files, args.has('hints')),
    '',
  ].join('\n');
}

/** At most so many of one file. */
function fewEnough(seen: readonly Seen[]): Seen[] {
  const counts = new Map<string, number>();
  return seen.filter(({ problem }) => {
    const count = (counts.get(problem.file) ?? 0) + 1;
    counts.set(problem.file, count);
    return count <= caps.findingsShown;
  });
}

function summary(
  counts: Readonly<Record<Severity, number>>,
  outcomes: readonly Outcome[],
  files: number,
  hints: boolean,
): string {
  const found = severities.filter((severity) => counts[severity] > 0 && (severity !== 'hint' || hints));
  const head =
    found.length === 0 ? 'nothing wrong' : listed(found.map((severity) => countWords(severity, counts[severity])));
  const hidden = !hints && counts.hint > 0 ? `; ${countWords('hint', counts.hint)} more with --hints` : '';
  const builds = outcomes.map((outcome) => `  ${standing(outcome)}`);
  return harmless([`${files === 1 ? 'One file' : `${files} files`}: ${head}${hidden}.`, ...builds].join('\n'));
}

/** `jig: 1 out of limits and 12 hold on paper`. */
function standing({ binding, checks }: Outcome): string {
  const counted = countsInWords(checks);
  const name = binding.base ? `${binding.name}, a variant of ${binding.base.name}` : binding.name;
  return `${name}: ${counted === '' ? 'nothing is checked yet' : counted}`;
}

/** Files as named, and all .thou files in folders; links, dot-folders and packages are not entered. Each once, sorted. */
export function filesIn(paths: readonly string[]): string[] {
  const found = new Set<string>();
  for (const path of paths) {
    if (!statOf(path)?.isDirectory()) found.add(startFile(path));
    else {
      const inside = thouFiles(resolve(path));
      if (inside.length === 0) throw new Refusal(`There is no .thou file in "${path}".`);
      for (const file of inside) found.add(startFile(file));
    }
  }
  return [...found].sort();
}

const quiet = 100;

/** Looks once, then again 100 ms after the last change of a text or table. Ends when interrupted. */
function watchAndCheck(args: Arguments, streams: Streams): Promise<number> {
  const look = (): number => {
    try {
      return checkOnce(args, streams);
    } catch (problem) {
      if (!(problem instanceof Refusal)) throw problem;
      streams.err.write(`thou: ${harmless(problem.message)}\n`);
      return exitCode.couldNotRun;
    }
  };
  filesIn(args.given); // refuses what is not there before it is waited for
  const folders = watchedFolders(args);
  return new Promise((done, failed) => {
    let last: number = exitCode.holds;
    let timer: NodeJS.Timeout | undefined;
    const again = (): void => {
      try {
        streams.out.write(`\n${streams.out.style.faint('looking again')}\n`);
        last = look();
      } catch (problem) {
        failed(problem as Error);
      }
    };
    const changed = (_: string, name: string | null): void => {
      if (name !== null && !/\.(thou|csv)$/i.test(name)) return;
      clearTimeout(timer);
      timer = setTimeout(again, quiet);
    };
    // watched before the first look: no change falls between the two
    const watchers = folders.map((folder) => watch(folder, { recursive: true }, changed));
    last = look();
    process.once('SIGINT', () => {
      clearTimeout(timer);
      for (const watcher of watchers) watcher.close();
      done(last);
    });
  });
}

/** Folders that were named, and those of files that were named: what a file uses mostly lies beside it. */
function watchedFolders(args: Arguments): string[] {
  const root = args.value('root');
  if (root !== undefined) return [root];
  const folders = args.given.map((path) => (statOf(path)?.isDirectory() ? resolve(path) : dirname(resolve(path))));
  return [...new Set(folders)];
}
