// The texts that the editor holds, over those on disk: what each file says, reads and is read by.
// Knows no protocol. Every answer is that of a fresh look; what nothing has touched is kept.
import { positions, type Positions, type SourceFile } from '../grammar/file.ts';
import { filesOf, type Files } from '../report/place.ts';
import { Project, type FileResult, type Host, type LibraryText } from '../semantics/project.ts';
import { pathsIn } from './reached.ts';

export interface Disk {
  read(uri: string): string | undefined;
  resolve(from: string, path: string): ReturnType<Host['resolve']>;
  /** Every `.thou` file of the folders. */
  list(): readonly string[];
  /** Every `.csv` file of the folders. */
  tables(): readonly string[];
}

interface Kept {
  readonly result: FileResult;
  /** Every text that was looked at, with its state then. */
  readonly read: ReadonlyMap<string, number>;
  /** Which files there were, where a path was followed. */
  readonly layout: number | null;
  checkedAt: number;
}

/** Results of files that no editor shows are kept for a few only: a plan is large. */
const keptUnseen = 16;

export class Workspace implements Host {
  readonly project: Project;
  private readonly disk: Disk;
  private readonly library: ReadonlySet<string>;
  private readonly nameOf: (uri: string) => string;
  private readonly opened = new Map<string, string>();
  private readonly fromDisk = new Map<string, string | undefined>();
  private readonly followed = new Map<string, ReturnType<Host['resolve']>>();
  private readonly states = new Map<string, number>();
  private readonly kept = new Map<string, Kept>();
  private readonly lines = new Map<string, { readonly text: string; readonly positions: Positions }>();
  private readonly leads = new Map<string, readonly string[]>();
  private readonly ledTo = new Map<string, Set<string>>();
  private readonly unread = new Set<string>();
  private listed: ReadonlySet<string> | null = null;
  private shown: { readonly files: Files; readonly now: number } | null = null;
  private noted: Map<string, number> | null = null;
  private hasFollowed = false;
  private layout = 0;
  private now = 0;

  constructor(disk: Disk, library: LibraryText, nameOf: (uri: string) => string = (uri) => uri) {
    this.disk = disk;
    this.library = new Set(library.files.map(({ uri }) => uri));
    this.nameOf = nameOf;
    this.project = new Project(this, library);
  }

  open(uri: string, text: string): void {
    const before = this.read(uri);
    this.opened.set(uri, text);
    if (before === undefined) this.changedLayout();
    if (before !== text) this.touch(uri);
  }

  change(uri: string, text: string): void {
    this.open(uri, text);
  }

  /** The file is again what the disk says; it may not be there at all. */
  close(uri: string): void {
    const before = this.opened.get(uri);
    if (before === undefined) return;
    this.opened.delete(uri);
    this.lines.delete(uri);
    this.fromDisk.delete(uri);
    const after = this.read(uri);
    if (after === undefined) this.changedLayout();
    if (after !== before) this.touch(uri);
    this.shrink();
  }

  /** Made, changed or deleted on disk. What the editor holds goes before. */
  changedOnDisk(uri: string): void {
    const knew = this.fromDisk.has(uri);
    const before = this.fromDisk.get(uri);
    this.fromDisk.delete(uri);
    const after = knew ? this.fromDiskAnew(uri) : undefined;
    if (!knew || (before === undefined) !== (after === undefined)) this.changedLayout();
    if (!this.opened.has(uri) && (!knew || before !== after)) this.touch(uri);
  }

  /** Folders came or went, or nobody tells what happens on disk: everything there is looked at anew when asked for. */
  forgetDisk(): void {
    const before = new Map(this.fromDisk);
    for (const [uri, text] of before) {
      this.fromDisk.delete(uri);
      if (!this.opened.has(uri) && this.read(uri) !== text) this.touch(uri);
    }
    this.changedLayout();
  }

  isOpen(uri: string): boolean {
    return this.opened.has(uri);
  }

  isOfLibrary(uri: string): boolean {
    return this.library.has(uri);
  }

  read(uri: string): string | undefined {
    this.noted?.set(uri, this.stateOf(uri));
    const held = this.opened.get(uri);
    if (held !== undefined) return held;
    return this.fromDisk.has(uri) ? this.fromDisk.get(uri) : this.fromDiskAnew(uri);
  }

  resolve(from: string, path: string): ReturnType<Host['resolve']> {
    this.hasFollowed = true;
    const key = `${from}\n${path}`;
    const known = this.followed.get(key) ?? this.disk.resolve(from, path);
    this.followed.set(key, known);
    return known;
  }

  source(uri: string): SourceFile | undefined {
    return this.project.source(uri);
  }

  positionsOf(uri: string): Positions {
    const text = this.source(uri)?.text ?? '';
    const known = this.lines.get(uri);
    if (known?.text === text) return known.positions;
    const made = positions(text);
    this.lines.set(uri, { text, positions: made });
    return made;
  }

  /** Everything that is to be said of a file, kept while nothing it reads has changed. */
  result(uri: string): FileResult {
    const known = this.kept.get(uri);
    if (known && this.stands(known)) {
      this.kept.delete(uri);
      this.kept.set(uri, known);
      return known.result;
    }
    const read = new Map<string, number>();
    this.noted = read;
    this.hasFollowed = false;
    try {
      const result = this.project.check(uri);
      this.kept.delete(uri);
      this.kept.set(uri, { result, read, layout: this.hasFollowed ? this.layout : null, checkedAt: this.now });
      this.shrink();
      return result;
    } finally {
      this.noted = null;
    }
  }

  /** Names and places of files as they are now. */
  get files(): Files {
    if (this.shown?.now !== this.now)
      this.shown = { files: filesOf((uri) => this.source(uri), this.nameOf), now: this.now };
    return this.shown.files;
  }

  /** Every text of the language: open, on disk, of the library. Each once. */
  known(): readonly string[] {
    return [...new Set([...this.opened.keys(), ...this.onDisk(), ...this.library])];
  }

  /** Tables that could be read, on disk now. */
  tables(): readonly string[] {
    return this.disk.tables();
  }

  isKnown(uri: string): boolean {
    return this.opened.has(uri) || this.library.has(uri) || this.onDisk().has(uri);
  }

  private onDisk(): ReadonlySet<string> {
    return (this.listed ??= new Set(this.disk.list()));
  }

  /** Every file whose meaning rests on this one, through however many others; the file itself is not among them. */
  dependants(uri: string): readonly string[] {
    this.followLeads();
    const found = new Set([uri]);
    for (const at of found) for (const from of this.ledTo.get(at) ?? []) found.add(from);
    found.delete(uri);
    return [...found];
  }

  /** Looks at what every file names, so that all that is to be read is asked for. */
  followAll(): void {
    this.followLeads();
  }

  private followLeads(): void {
    for (const uri of this.known()) if (!this.leads.has(uri)) this.unread.add(uri);
    for (const uri of this.unread) {
      for (const old of this.leads.get(uri) ?? []) this.ledTo.get(old)?.delete(uri);
      const source = isTable(uri) ? undefined : this.source(uri);
      const to = source ? this.ledFrom(source) : [];
      this.leads.set(uri, to);
      for (const one of to) this.ledTo.set(one, (this.ledTo.get(one) ?? new Set()).add(uri));
    }
    this.unread.clear();
  }

  private ledFrom(source: SourceFile): string[] {
    return pathsIn(source).flatMap((path) => {
      const found = this.resolve(source.uri, path);
      return 'uri' in found ? [found.uri] : [];
    });
  }

  private stands(kept: Kept): boolean {
    if (kept.checkedAt === this.now) return true;
    if (kept.layout !== null && kept.layout !== this.layout) return false;
    for (const [uri, state] of kept.read) if (this.stateOf(uri) !== state) return false;
    kept.checkedAt = this.now;
    return true;
  }

  private shrink(): void {
    const unseen = [...this.kept.keys()].filter((uri) => !this.opened.has(uri));
    for (const uri of unseen.slice(0, Math.max(0, unseen.length - keptUnseen))) {
      this.kept.delete(uri);
      this.project.forget(uri);
    }
  }

  private fromDiskAnew(uri: string): string | undefined {
    const text = this.disk.read(uri);
    this.fromDisk.set(uri, text);
    return text;
  }

  private stateOf(uri: string): number {
    return this.states.get(uri) ?? 0;
  }

  private touch(uri: string): void {
    this.now += 1;
    this.states.set(uri, this.now);
    this.unread.add(uri);
  }

  /** A path may now lead elsewhere. */
  private changedLayout(): void {
    this.now += 1;
    this.layout += 1;
    this.listed = null;
    this.followed.clear();
    this.leads.clear();
    this.ledTo.clear();
  }
}

function isTable(uri: string): boolean {
  return /\.csv$/i.test(uri);
}
