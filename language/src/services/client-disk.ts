// Files that the editor reads for the server. Answers come later than they are asked for: what is not known yet is fetched, and told of when it is there.
import type { FileRead } from '@thou/shared/protocol';
import { URI, Utils } from 'vscode-uri';
import {
  mostBytesOf,
  noPackage,
  objectionTo,
  packagedPath,
  packageEntry,
  packagesFolders,
  refusals,
  tooLarge,
  type Packaged,
} from '../semantics/written-paths.ts';
import type { Disk } from './workspace.ts';

type Resolved = ReturnType<Disk['resolve']>;

/** The editor, asked for files. */
export interface FileReader {
  /** The texts and tables of a folder and of those below it. */
  list(folder: string): Promise<readonly string[]>;
  read(uri: string, mostBytes: number): Promise<FileRead>;
}

/** Told of every file that came, changed or is gone. */
export type Arrived = (uri: string, isGone: boolean) => void;

/** Files that are asked for at the same time. */
const atOnce = 16;
const passedOver = /\/(?:\.[^/]*|node_modules|thou_modules)\//;

export class ClientDisk implements Disk {
  private readonly folders: readonly URI[];
  private readonly reader: FileReader;
  private readonly arrived: Arrived;
  private readonly listed = new Set<string>();
  private readonly files = new Map<string, FileRead>();
  private readonly wanted = new Set<string>();
  private readonly underWay = new Set<string>();
  /** Changed while they were under way. */
  private readonly again = new Set<string>();
  private idle: (() => void)[] = [];
  private stopped = false;

  constructor(folders: readonly string[], reader: FileReader, arrived: Arrived) {
    this.folders = folders.map((uri) => URI.parse(uri));
    this.reader = reader;
    this.arrived = arrived;
  }

  get hasFolders(): boolean {
    return this.folders.length > 0;
  }

  /** Finds out which files there are. */
  async lookAround(): Promise<void> {
    const found = await Promise.all(this.folders.map((folder) => this.reader.list(folder.toString()).catch(() => [])));
    for (const uri of found.flat()) this.listed.add(spelled(uri));
  }

  /** Waits for all that was asked for; false where there was nothing to wait for. */
  async settled(): Promise<boolean> {
    if (this.stopped || this.wanted.size === 0) return false;
    await new Promise<void>((done) => this.idle.push(done));
    return !this.stopped;
  }

  stop(): void {
    this.stopped = true;
    for (const done of this.idle.splice(0)) done();
  }

  read(uri: string): string | undefined {
    const file = this.files.get(uri);
    if (!file) this.want(uri);
    return file && 'text' in file ? file.text : undefined;
  }

  resolve(from: string, path: string): Resolved {
    const packaged = packagedPath(path);
    if (packaged) return 'why' in packaged ? refused(packaged.why) : this.resolvePackage(URI.parse(from), packaged);
    const objection = objectionTo(path);
    if (objection !== null) return refused(objection);
    const home = Utils.dirname(URI.parse(from));
    return this.admitted(Utils.resolvePath(home, path), this.rootsFor(home));
  }

  list(): readonly string[] {
    return [...this.listed].filter((uri) => uri.endsWith('.thou'));
  }

  tables(): readonly string[] {
    return [...this.listed].filter((uri) => uri.endsWith('.csv'));
  }

  /** The editor says that something happened to a file. */
  changed(uri: string): void {
    if (this.underWay.has(uri)) this.again.add(uri);
    this.want(uri);
  }

  /** From the nearest folder of packages, upward but not out of the folder. */
  private resolvePackage(from: URI, { name, file }: Packaged): Resolved {
    const roots = this.rootsFor(Utils.dirname(from));
    let folder = Utils.dirname(from);
    while (roots.some((root) => isInside(folder, root))) {
      for (const modules of packagesFolders) {
        const found = this.admitted(Utils.joinPath(folder, modules, name, file ?? packageEntry), roots);
        if ('uri' in found || found.problem === 'refused') return found;
      }
      if (Utils.dirname(folder).path === folder.path) break;
      folder = Utils.dirname(folder);
    }
    return { problem: 'not-found', why: noPackage };
  }

  private rootsFor(home: URI): readonly URI[] {
    return this.folders.some((folder) => isInside(home, folder)) ? this.folders : [home];
  }

  private admitted(at: URI, roots: readonly URI[]): Resolved {
    const most = mostBytesOf(at.path);
    if (most === undefined) return refused(refusals.otherSort);
    if (!roots.some((root) => isInside(at, root))) return refused(refusals.leadsOut);
    const uri = at.toString();
    const file = this.files.get(uri);
    if (!file) {
      this.want(uri);
      return this.listed.has(uri) ? { uri } : { problem: 'not-found', why: refusals.notThere };
    }
    return 'text' in file ? { uri } : objected(file.problem, most);
  }

  private want(uri: string): void {
    if (mostBytesOf(URI.parse(uri).path) === undefined) return;
    this.wanted.add(uri);
    this.fetchMore();
  }

  private fetchMore(): void {
    for (const uri of this.wanted) {
      if (this.underWay.size >= atOnce) return;
      if (!this.underWay.has(uri)) void this.fetch(uri);
    }
  }

  private async fetch(uri: string): Promise<void> {
    this.underWay.add(uri);
    const most = mostBytesOf(URI.parse(uri).path) ?? 0;
    const file = await this.reader.read(uri, most).catch((): FileRead => ({ problem: 'not-allowed' }));
    this.underWay.delete(uri);
    if (this.stopped) return;
    if (this.again.delete(uri)) return this.fetchMore();
    this.wanted.delete(uri);
    const wasThere = this.listed.has(uri) || holdsText(this.files.get(uri));
    this.keep(uri, file);
    this.arrived(uri, wasThere && !holdsText(file));
    this.fetchMore();
    if (this.wanted.size === 0) for (const done of this.idle.splice(0)) done();
  }

  private keep(uri: string, file: FileRead): void {
    this.files.set(uri, file);
    if ('text' in file && this.isListed(URI.parse(uri))) this.listed.add(uri);
    else this.listed.delete(uri);
  }

  private isListed(at: URI): boolean {
    const folder = this.folders.find((one) => isInside(at, one));
    return folder !== undefined && !passedOver.test(at.path.slice(folder.path.replace(/\/+$/, '').length));
  }
}

function objected(problem: Exclude<FileRead, { text: string }>['problem'], mostBytes: number): Resolved {
  switch (problem) {
    case 'not-there':
      return { problem: 'not-found', why: refusals.notThere };
    case 'no-file':
      return refused(refusals.noFile);
    case 'too-large':
      return refused(tooLarge(mostBytes));
    case 'not-text':
      return refused(refusals.noText);
    case 'not-allowed':
      return refused(refusals.notAllowed);
  }
}

function holdsText(file: FileRead | undefined): boolean {
  return file !== undefined && 'text' in file;
}

function refused(why: string): Resolved {
  return { problem: 'refused', why };
}

function isInside(at: URI, folder: URI): boolean {
  const path = folder.path.replace(/\/+$/, '');
  const isSamePlace = at.scheme === folder.scheme && at.authority === folder.authority;
  return isSamePlace && (at.path === path || at.path.startsWith(`${path}/`));
}

/** As every editor on this library spells it. */
function spelled(uri: string): string {
  return URI.parse(uri).toString();
}
