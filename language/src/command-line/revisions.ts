/**
 * A file as it was at a revision of its repository. Git is asked for nothing but the contents of what it holds, by their
 * own names: no word of the repository's settings, and none that was typed, can make it run or write anything.
 */
import { execFileSync } from 'node:child_process';
import { join, posix, relative, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { caps } from '@thou/shared/limits';
import type { Commit } from '@thou/shared/protocol-checks';
import type { Host } from '../semantics/project.ts';
import { mostBytesOf, objectionTo, packagesFolders, refusals, tooLarge } from '../semantics/written-paths.ts';
import { decoded, JobFiles } from './files.ts';
import { isPassedOver } from './folders.ts';
import { Refusal } from './refusal.ts';

const patience = 20_000;
/** A list of some hundred thousand files. */
const mostListed = 64 * 1024 * 1024;
const settings = ['core.fsmonitor=false', 'core.hooksPath=/dev/null', 'protocol.allow=never'];

interface Blob {
  readonly name: string;
  readonly size: number;
}

export class RevisionFiles implements Host {
  readonly root: string;
  private readonly commit: string;
  /** Packages are not kept with a revision: those that are installed now are read. */
  private readonly installed: JobFiles;
  private readonly texts = new Map<string, string | undefined>();
  private readonly blobs = new Map<string, Blob | null>();

  /** `root`: the top of the repository. Throws a refusal where it has no such revision. */
  constructor(root: string, revision: string) {
    this.root = root;
    this.commit = commitOf(root, revision);
    this.installed = new JobFiles(root);
  }

  read(uri: string): string | undefined {
    if (this.isInstalled(uri)) return this.installed.read(uri);
    if (!this.texts.has(uri)) this.texts.set(uri, this.readAnew(uri));
    return this.texts.get(uri);
  }

  resolve(from: string, path: string): ReturnType<Host['resolve']> {
    if (this.isInstalled(from) || path.startsWith('package:')) return this.installed.resolve(from, path);
    const objection = objectionTo(path);
    if (objection !== null) return { problem: 'refused', why: objection };
    const way = posix.normalize(posix.join(posix.dirname(this.wayTo(from)), path));
    if (way === '..' || way.startsWith('../')) return { problem: 'refused', why: refusals.leadsOut };
    const most = mostBytesOf(way);
    if (most === undefined) return { problem: 'refused', why: refusals.otherSort };
    const uri = pathToFileURL(`${this.root}/${way}`).href;
    const found = this.blobAt(way);
    if (found === null) return { problem: 'not-found', why: 'there is no such file at this revision' };
    if (found.size > most) return { problem: 'refused', why: tooLarge(most) };
    if (this.read(uri) === undefined) return { problem: 'refused', why: refusals.noText };
    return { uri };
  }

  private isInstalled(uri: string): boolean {
    return this.wayTo(uri)
      .split('/')
      .some((step) => packagesFolders.some((folder) => folder === step));
  }

  /** From the top of the repository, with strokes forward. */
  private wayTo(uri: string): string {
    return relative(this.root, fileURLToPath(uri)).split(sep).join('/');
  }

  private readAnew(uri: string): string | undefined {
    if (!uri.startsWith('file:')) return undefined;
    const found = this.blobAt(this.wayTo(uri));
    if (found === null || found.size > caps.csvBytes) return undefined;
    return decoded(git(this.root, ['cat-file', 'blob', found.name]));
  }

  /** What lies there at this revision; null where nothing does that may be read. */
  sortOf(path: string): 'file' | 'folder' | null {
    const way = this.wayTo(pathToFileURL(path).href);
    if (way !== '' && this.blobAt(way) !== null) return 'file';
    return way === '' || this.listed(`${way}/`).length > 0 ? 'folder' : null;
  }

  /** The files of the language in a folder and below it, as they would lie on the disk. */
  thouFiles(folder: string): string[] {
    const inside = this.wayTo(pathToFileURL(folder).href);
    const from = inside === '' ? '' : `${inside}/`;
    return this.listed(from).flatMap(([way, blob]) => {
      const folders = way.slice(from.length).split('/').slice(0, -1);
      if (!way.endsWith('.thou') || folders.some(isPassedOver)) return [];
      this.blobs.set(way, blob);
      return [join(this.root, ...way.split('/'))];
    });
  }

  private blobAt(way: string): Blob | null {
    const known = this.blobs.get(way) ?? new Map(this.listed(way)).get(way) ?? null;
    this.blobs.set(way, known);
    return known;
  }

  /** Plain files only: a link may lead anywhere. All below a folder where it ends in a stroke or is nothing. */
  private listed(way: string): [way: string, blob: Blob][] {
    const below = way === '' || way.endsWith('/') ? ['-r'] : [];
    const words = ['--literal-pathspecs', 'ls-tree', ...below, '-z', '--full-tree', '--long', this.commit];
    const rows = git(this.root, [...words, ...(way === '' ? [] : ['--', way])], mostListed)
      .toString('utf8')
      .split('\0');
    return rows.flatMap((row): [string, Blob][] => {
      const [, name, size, at] = /^100(?:644|755) blob ([0-9a-f]{40,64}) +(\d+)\t([^]+)$/.exec(row) ?? [];
      return name === undefined ? [] : [[at!, { name, size: Number(size) }]];
    });
  }
}

/** In which a file was changed, the newest first. */
export function commitsOf(root: string, path: string): readonly Commit[] {
  const way = relative(root, path).split(sep).join('/');
  const words = [
    '--literal-pathspecs',
    'rev-list',
    `--max-count=${mostCommits}`,
    '--format=%ci%x00%s',
    'HEAD',
    '--',
    way,
  ];
  return [...listOf(root, words).matchAll(/^commit ([0-9a-f]{40,64})\n([^\0\n]*)\0([^\n]*)$/gm)].map(
    ([, name, when, subject]) => ({
      name: name!,
      when: when!.slice(0, 16),
      subject: subject!.replace(/\p{Cc}/gu, ' '),
    }),
  );
}

const mostCommits = 100;

function listOf(root: string, words: readonly string[]): string {
  try {
    return git(root, words).toString('utf8');
  } catch {
    throw new Refusal('The commits of this file could not be listed: git is not there, or the repository has none.');
  }
}

function commitOf(root: string, revision: string): string {
  const unknown = new Refusal(`The repository has no revision "${revision}".`);
  if (revision === '' || /\p{Cc}/u.test(revision)) throw unknown;
  try {
    const name = git(root, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${revision}^{commit}`])
      .toString('utf8')
      .trim();
    if (/^[0-9a-f]{40,64}$/.test(name)) return name;
  } catch (problem) {
    if ((problem as { code?: unknown }).code === 'ENOENT')
      throw new Refusal('To look at a revision, git must be installed.');
  }
  throw unknown;
}

function git(root: string, words: readonly string[], most = caps.csvBytes + 4096): Buffer {
  const asked = settings.flatMap((setting) => ['-c', setting]);
  return execFileSync('git', [...asked, '--no-pager', '--no-optional-locks', ...words], {
    cwd: root,
    timeout: patience,
    maxBuffer: most,
    stdio: ['ignore', 'pipe', 'ignore'],
    env: { ...process.env, GIT_OPTIONAL_LOCKS: '0', GIT_NO_LAZY_FETCH: '1', GIT_TERMINAL_PROMPT: '0' },
  });
}
