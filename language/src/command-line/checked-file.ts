// What one file's check leaves behind once it is looked at: lines, records and counts, and nothing of the builds themselves.
import { caps } from '@thou/shared/limits';
import type { ProblemResult } from '@thou/shared/result/contract';
import { suitesOf, type Suite } from '../report/junit.ts';
import type { CodeTold } from '../report/sarif.ts';
import { countsInWords } from '../report/sheet.ts';
import type { Outcome, Severity } from '../semantics/plan/outcome.ts';
import type { Problem } from '../semantics/problems/places.ts';
import type { Work } from './crew.ts';
import type { Job } from './job.ts';
import { Jobs } from './jobs.ts';
import { tellOf } from './page-titles.ts';
import { problemLines, problemResult } from './print.ts';
import { harmless, styleAs } from './terminal.ts';

export interface CheckedHow {
  /** What it is kept for: only that is made. */
  readonly format: string;
  readonly strict: boolean;
  readonly hints: boolean;
  readonly excerpt: boolean;
  readonly painted: boolean;
  readonly root: string | undefined;
}

/** How one build stands. */
export interface Standing {
  readonly file: string;
  readonly build: string;
  readonly words: string;
}

export interface FileChecked {
  readonly counts: Readonly<Record<Severity, number>>;
  /** Checks that cannot be told, where they count. */
  readonly untold: number;
  readonly passes: boolean;
  /** For people: findings, how many more there are, how each build stands. */
  readonly lines: readonly string[];
  readonly unshown: number;
  readonly standing: readonly Standing[];
  /** For programs. */
  readonly problems: readonly ProblemResult[];
  readonly told: ReadonlyMap<string, CodeTold>;
  readonly suites: readonly Suite[];
}

/** Each file in its own scope; files of one root share what they use. What was found is kept, and no more. */
export const checking: Work<CheckedHow, string, FileChecked> = {
  name: 'check',
  begin(how) {
    const jobs = new Jobs(how.root);
    return (path) => jobs.once(path, (job) => checkedFile(job, path, how));
  },
};

function checkedFile(job: Job, path: string, how: CheckedHow): FileChecked {
  const { uri, problems, result } = job.look(path);
  const { outcomes } = result;
  const toResult = (found: Problem): ProblemResult => problemResult(found, (at) => job.text(at), job.files.nameOf);
  const wanted = how.format === 'text' ? problems.filter((problem) => isWanted(problem, how)) : [];
  const shown = wanted.slice(0, caps.findingsShown);
  const records = how.format === 'json' || how.format === 'sarif' ? problems.map(toResult) : [];
  const style = styleAs(how.painted);
  const tell = tellOf(outcomes);
  const counts = countsOf(problems);
  const untold = how.strict ? untoldIn(outcomes) : 0;
  return {
    counts,
    untold,
    passes: counts.error === 0 && untold === 0 && (!how.strict || counts.warning === 0),
    lines: shown.flatMap((found) => problemLines(found, toResult(found), job.text(found.uri), how.excerpt, style)),
    unshown: wanted.length - shown.length,
    standing: outcomes.map((outcome) => standingOf(job.files.nameOf(uri), outcome)),
    problems: records,
    told: new Map(how.format === 'sarif' ? records.map(({ code }) => [code, tell(code)]) : []),
    suites:
      how.format === 'junit'
        ? suitesOf(
            { file: job.files.nameOf(uri), files: job.files, outcomes, problems: result.problems.map(toResult) },
            how.strict,
          )
        : [],
  };
}

function isWanted({ severity, code }: Problem, { hints, strict }: CheckedHow): boolean {
  return hints || severity !== 'hint' || (strict && code === 'missing');
}

function countsOf(problems: readonly Problem[]): Record<Severity, number> {
  const counts: Record<Severity, number> = { error: 0, warning: 0, advice: 0, hint: 0 };
  for (const { severity } of problems) counts[severity] += 1;
  return counts;
}

/** Checks that lack a figure. */
function untoldIn(outcomes: readonly Outcome[]): number {
  return outcomes.flatMap(({ checks }) => checks).filter(({ state }) => state === 'cannot-tell').length;
}

function standingOf(file: string, { binding, checks }: Outcome): Standing {
  const counted = countsInWords(checks);
  const about = binding.base ? `, a variant of ${binding.base.name}` : '';
  return { file, build: binding.name, words: `${about}: ${counted === '' ? 'nothing is checked yet' : counted}` };
}

/** `jig: 1 out of limits and 12 hold on paper`; with its file, where builds of several are called so. */
export function standingLines(all: readonly Standing[]): string[] {
  const named = new Map<string, Set<string>>();
  for (const { build, file } of all) named.set(build, (named.get(build) ?? new Set()).add(file));
  return all.map(({ build, file, words }) => {
    return harmless(`  ${build}${named.get(build)!.size > 1 ? ` in ${file}` : ''}${words}`);
  });
}
