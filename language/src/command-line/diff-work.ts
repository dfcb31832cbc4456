// What changed in the builds of one file between two states. Where all that either reads is the same, nothing is worked out.
import { relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BuildDiff, Mistake } from '@thou/shared/result/diff';
import { buildDiffs, isChanged, mistakesOf } from '../report/diff.ts';
import type { FileResult, Host } from '../semantics/project.ts';
import type { Work } from './crew.ts';
import { Job, type JobHost } from './job.ts';
import { mistakesIn } from '../report/mistakes.ts';
import { hostOf, type StateFound } from './states.ts';

export interface DiffHow {
  readonly old: StateFound;
  readonly now: StateFound;
  readonly build: string | undefined;
}

/** Whole paths; null where the file is in the other state only. */
export interface FilePair {
  readonly old: string | null;
  readonly now: string | null;
}

export interface PairDiff {
  readonly builds: readonly BuildDiff[];
  readonly same: number;
  readonly mistakes: readonly Mistake[];
}

export const differing: Work<DiffHow, FilePair, PairDiff> = {
  name: 'diff',
  begin({ old, now, build }) {
    const [before, after] = [new Side(old), new Side(now)];
    return (pair) => {
      const [was, is] = [before.read(pair.old, build), after.read(pair.now, build)];
      const done = pair.old !== null && pair.now !== null && sameTexts(before, after) ? allSame(is) : diffOf(was, is);
      before.leave(pair.old);
      after.leave(pair.now);
      return done;
    };
  },
};

function allSame({ outcomes }: Read): PairDiff {
  return { builds: [], same: outcomes.length, mistakes: [] };
}

function diffOf(was: Read, is: Read): PairDiff {
  const builds = buildDiffs(was, is).map((build) => ({ ...build, ...whereOf(was, is, build) }));
  const changed = builds.filter(isChanged);
  return { builds: changed, same: builds.length - changed.length, mistakes: mistakesOf(was.mistakes, is.mistakes) };
}

function whereOf(was: Read, is: Read, build: BuildDiff): Pick<BuildDiff, 'file' | 'oldFile'> {
  if (build.in === 'old') return { file: was.file, oldFile: null };
  return { file: is.file, oldFile: build.in === 'new' || was.file === is.file ? null : was.file };
}

interface Read {
  /** From the folder; null where it is not there. */
  readonly file: string | null;
  readonly outcomes: FileResult['outcomes'];
  readonly mistakes: readonly Omit<Mistake, 'in'>[];
  readonly files: Job['files'];
}

/** One of the two states, looked at file by file. */
class Side {
  readonly seen: SeenHost;
  private readonly state: StateFound;
  private readonly job: Job;

  constructor(state: StateFound) {
    this.state = state;
    this.seen = new SeenHost(hostOf(state), state.path);
    this.job = new Job(state.root, this.seen);
  }

  read(path: string | null, build: string | undefined): Read {
    this.seen.begin(path);
    const { job } = this;
    if (path === null) return { file: null, outcomes: [], mistakes: [], files: job.files };
    const { outcomes, problemsOfText } = job.read(path);
    return {
      file: relative(this.state.path, path).split(sep).join('/'),
      outcomes: outcomes.filter(({ binding }) => build === undefined || binding.name === build),
      mistakes: mistakesIn(problemsOfText, (uri) => job.text(uri), job.files.nameOf),
      files: job.files,
    };
  }

  leave(path: string | null): void {
    if (path !== null) this.job.leave(path);
  }
}

/** Notes all that is read and asked for, as it lies from the folder on. */
class SeenHost implements JobHost {
  readonly root: string;
  readonly notes = new Map<string, string | undefined>();
  private readonly host: JobHost;
  private readonly folder: string;
  private start: string | null = null;

  constructor(host: JobHost, folder: string) {
    this.root = host.root;
    this.host = host;
    this.folder = folder;
  }

  begin(start: string | null): void {
    this.start = start;
    this.notes.clear();
  }

  read(uri: string): string | undefined {
    const text = this.host.read(uri);
    this.notes.set(this.called(uri), text);
    return text;
  }

  resolve(from: string, path: string): ReturnType<Host['resolve']> {
    const found = this.host.resolve(from, path);
    const said = 'uri' in found ? this.called(found.uri) : `${found.problem} ${found.why}`;
    this.notes.set(`${this.called(from)}\n${path}`, said);
    return found;
  }

  /** The file itself may be called otherwise in the other state. */
  private called(uri: string): string {
    if (!uri.startsWith('file:')) return uri;
    const path = fileURLToPath(uri);
    return path === this.start ? '' : relative(this.folder, path);
  }
}

function sameTexts({ seen: { notes: was } }: Side, { seen: { notes: is } }: Side): boolean {
  return was.size === is.size && [...was].every(([about, text]) => is.has(about) && is.get(about) === text);
}
