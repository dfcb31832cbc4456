// `thou check PATH…`: everything that is wrong with files, and everything in their builds that does not hold.
import { watch } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { resultFormat } from '@thou/shared/result/contract';
import type { CheckReportResult } from '@thou/shared/result/contract';
import type { Severity } from '../semantics/plan/outcome.ts';
import { junitXml } from '../report/junit.ts';
import { sarifLog } from '../report/sarif.ts';
import { listed } from '../report/place.ts';
import type { Arguments } from './arguments.ts';
import { checking, standingLines, type FileChecked } from './checked-file.ts';
import { rootOption } from './command.ts';
import type { Command, Streams } from './command.ts';
import { sharedOut } from './crew.ts';
import { statOf } from './files.ts';
import { jsonText } from './json-text.ts';
import { codeWithUnread, filesNamed } from './named-files.ts';
import { version } from './version.ts';
import { countWords, severities } from './print.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless, isPainted } from './terminal.ts';

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
    { name: 'strict', text: 'warnings too give exit code 1, and so does what cannot be told yet, which is then shown' },
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

async function checkOnce(args: Arguments, { out, err }: Streams): Promise<number> {
  const files = filesNamed(args.given);
  const looks = await lookAt(files.paths, args, out);
  out.write(writtenAs(args.value('format') ?? 'text', looks, args));
  return codeWithUnread(files, looks.every(({ passes }) => passes) ? exitCode.holds : exitCode.findings, err);
}

function writtenAs(format: string, looks: readonly FileChecked[], args: Arguments): string {
  const counts = countsOf(looks);
  const problems = looks.flatMap((look) => look.problems);
  switch (format) {
    case 'json': {
      const report: CheckReportResult = { format: resultFormat, thou: version(), problems, counts };
      return jsonText(report);
    }
    case 'sarif': {
      const told = new Map(looks.flatMap((look) => [...look.told]));
      return jsonText(sarifLog(problems, { version: version(), tell: (code) => told.get(code)! }));
    }
    case 'junit':
      return junitXml(looks.flatMap(({ suites }) => suites));
    default:
      return asText(looks, counts, args);
  }
}

function lookAt(
  paths: readonly string[],
  args: Arguments,
  { isTerminal, style }: Streams['out'],
): Promise<FileChecked[]> {
  const how = {
    format: args.value('format') ?? 'text',
    strict: args.has('strict'),
    hints: args.has('hints'),
    excerpt: isTerminal || args.has('excerpt'),
    painted: isPainted(style),
    root: args.value('root'),
  };
  return sharedOut(checking, how, paths, (look) => look);
}

function countsOf(looks: readonly FileChecked[]): Record<Severity, number> {
  const count = (severity: Severity): number => looks.reduce((sum, { counts }) => sum + counts[severity], 0);
  return { error: count('error'), warning: count('warning'), advice: count('advice'), hint: count('hint') };
}

function asText(looks: readonly FileChecked[], counts: Readonly<Record<Severity, number>>, args: Arguments): string {
  const lines = looks.flatMap((look) => look.lines);
  const more = looks.reduce((sum, { unshown }) => sum + unshown, 0);
  return [
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    ...(lines.length > 0 ? [''] : []),
    summary(counts, looks, args.has('hints')),
    '',
  ].join('\n');
}

function summary(counts: Readonly<Record<Severity, number>>, looks: readonly FileChecked[], hints: boolean): string {
  const found = severities.filter((severity) => counts[severity] > 0 && (severity !== 'hint' || hints));
  const untold = looks.reduce((sum, look) => sum + look.untold, 0);
  const parts = [
    ...found.map((severity) => countWords(severity, counts[severity])),
    ...(untold === 0 ? [] : [`${untold === 1 ? 'one check' : `${untold} checks`} that cannot be told`]),
  ];
  const head = parts.length === 0 ? 'nothing wrong' : listed(parts);
  const hidden = !hints && counts.hint > 0 ? `; ${countWords('hint', counts.hint)} more with --hints` : '';
  const builds = standingLines(looks.flatMap(({ standing }) => standing));
  return [`${looks.length === 1 ? 'One file' : `${looks.length} files`}: ${head}${hidden}.`, ...builds].join('\n');
}

const quiet = 100;

/** Looks once, then again 100 ms after the last change of a text or table, one look after the other. Ends when interrupted. */
function watchAndCheck(args: Arguments, streams: Streams): Promise<number> {
  const look = async (): Promise<number> => {
    try {
      return await checkOnce(args, streams);
    } catch (problem) {
      if (!(problem instanceof Refusal)) throw problem;
      streams.err.write(`thou: ${harmless(problem.message)}\n`);
      return exitCode.couldNotRun;
    }
  };
  filesNamed(args.given); // refuses what is not there before it is waited for
  const folders = watchedFolders(args);
  return new Promise((done, failed) => {
    let timer: NodeJS.Timeout | undefined;
    let last: Promise<number>;
    const again = (): void => {
      last = last.then(() => {
        streams.out.write(`\n${streams.out.style.faint('looking again')}\n`);
        return look();
      });
      last.catch(failed);
    };
    const changed = (_: string, name: string | null): void => {
      if (name !== null && !/\.(thou|csv)$/i.test(name)) return;
      clearTimeout(timer);
      timer = setTimeout(again, quiet);
    };
    // watched before the first look: no change falls between the two
    const watchers = folders.map((folder) => watch(folder, { recursive: true }, changed));
    last = look();
    last.catch(failed);
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
