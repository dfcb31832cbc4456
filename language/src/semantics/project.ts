/**
 * The front door of the language: files in, findings and outcomes out. Keeps what has not changed between two looks.
 * Reads nothing itself; the host decides what may be read.
 */
import { parseFile, parseOn, unpacked, type ReadyFile, type SourceFile } from '../grammar/file.ts';
import { checkParts } from './bind/loose-parts.ts';
import type { Ground } from './bind/build.ts';
import { Builds } from './builds.ts';
import { Grounds, sameKey, type Asked, type Reading } from './grounds.ts';
import { itemsOf, scopeOf, type Scope } from './names/scope.ts';
import { once } from './once.ts';
import type { PlannedLater } from './plan/later.ts';
import type { Names } from './problems/names.ts';
import { Places, sameSaid, type Problem } from './problems/places.ts';
import { insteadOf, Report, type Target } from './problems/report.ts';
import type { Schema } from './schema/schema.ts';

export type { Problem } from './problems/places.ts';

export interface Host {
  /** The text of a file; undefined where there is none or it may not be read. */
  read(uri: string): string | undefined;
  resolve(
    from: string,
    path: string,
  ): { readonly uri: string } | { readonly problem: 'not-found' | 'refused'; readonly why: string };
}

/** The trade library as the host read it. */
export interface LibraryText {
  readonly edition: number;
  readonly root: string;
  readonly files: readonly {
    readonly uri: string;
    readonly text: string;
    /** Its trees, made beforehand of this very text. */
    ready?(): ReadyFile | undefined;
  }[];
}

export interface FileResult {
  readonly uri: string;
  /** Of the text, and of all its builds: planned for it where they are not yet. */
  readonly problems: readonly Problem[];
  /** As `problems`, with no build planned for it. */
  readonly problemsSoFar: readonly Problem[];
  /** Of the text alone. */
  readonly problemsOfText: readonly Problem[];
  /** What the figures of one of the builds say of each other, where it stands in this file. */
  problemsOf(outcome: PlannedLater): readonly Problem[];
  readonly outcomes: readonly PlannedLater[];
  readonly schema: Schema;
  /** What every build of the file stands on: names, units, functions and parts as this file sees them. */
  readonly ground: Ground;
  readonly scope: Scope;
  /** What the words of the file, and of what it rests on, were found to stand for. */
  readonly names: readonly Names[];
}

export class Project {
  private readonly host: Host;
  private readonly library: LibraryText;
  private readonly libraryUris: ReadonlySet<string>;
  private readonly files = new Map<string, SourceFile>();
  private readonly reading: Reading;
  private readonly grounds: Grounds;
  private readonly builds = new Map<string, Builds>();
  /** Read when somebody first asks: what is wrong with a text itself is known without. */
  private readonly librarySources: () => ReadonlyMap<string, SourceFile>;

  constructor(host: Host, library: LibraryText) {
    this.host = host;
    this.library = library;
    this.libraryUris = new Set(library.files.map(({ uri }) => uri));
    this.librarySources = once(() => new Map(sourcesOf(library).map((source) => [source.uri, source])));
    this.reading = readingThrough(host);
    this.grounds = new Grounds(library.root, library.edition, this.reading);
  }

  /** Another project on the same library, for texts that are only tried. */
  over(host: Host): Project {
    return new Project(host, this.library);
  }

  /** The file as it is now, block by block from before where its text has not changed. */
  source(uri: string): SourceFile | undefined {
    if (this.libraryUris.has(uri)) return this.librarySources().get(uri);
    const text = this.host.read(uri);
    if (text === undefined) return undefined;
    const known = this.files.get(uri);
    if (known?.text === text) return known;
    const source = known ? parseOn(known, text) : parseFile(uri, text);
    this.files.set(uri, source);
    return source;
  }

  /** Everything that is to be said of one file. Throws nothing for any text. */
  check(uri: string): FileResult {
    const start = this.source(uri) ?? parseFile(uri, '');
    const report = new Report();
    const scope = scopeOf(
      start,
      [...this.librarySources().values()],
      { file: (at) => this.source(at), resolve: (from, path) => this.host.resolve(from, path) },
      report,
    );
    const { ground, reports: declared } = this.grounds.of(scope, report);
    this.checkEdition(scope, start, report);
    checkParts(start, ground);
    const { outcomes, reports } = this.buildsOf(uri).read(start, scope, ground);
    const said = [...declared, report, ...reports];
    const problems = new Problems(start, said, new Places((at) => this.source(at)));
    return {
      uri,
      get problems() {
        return problems.of(outcomes);
      },
      get problemsSoFar() {
        return problems.of(outcomes.filter(({ isPlanned }) => isPlanned));
      },
      problemsOfText: problems.ofText,
      problemsOf: (outcome) => problems.ofBuild(outcome),
      outcomes,
      schema: ground.schema,
      ground,
      scope,
      names: said.map((one) => one.names),
    };
  }

  /** Lets the builds of a file go; the next look at it starts anew. */
  forget(uri: string): void {
    this.builds.delete(uri);
  }

  /** As `forget`, and its tree too: of many files that are looked at once, one is held at a time. */
  leave(uri: string): void {
    this.forget(uri);
    this.files.delete(uri);
  }

  private buildsOf(uri: string): Builds {
    const known = this.builds.get(uri) ?? new Builds(this.reading);
    this.builds.set(uri, known);
    return known;
  }

  private checkEdition(scope: Scope, start: SourceFile, report: Report): void {
    const { edition } = this.library;
    const builds = itemsOf(start).find((item) => item.$type === 'Build');
    if (scope.editionAsked && scope.editionAsked.edition !== edition) {
      const at: Target = { uri: start.uri, at: scope.editionAsked.at, property: 'edition' };
      report.add(
        'use.edition',
        at,
        { have: String(edition), asked: String(scope.editionAsked.edition) },
        { fixes: insteadOf(at, [String(edition)]) },
      );
    } else if (!scope.editionAsked && builds) {
      const at: Target = { uri: start.uri, at: builds, property: 'name' };
      const text = `use prelude ${edition}\n`;
      report.add(
        'use.no-edition',
        at,
        { have: String(edition) },
        { fixes: [{ title: text.trim(), edits: [{ target: at, text, place: 'top' }] }] },
      );
    }
    for (const item of itemsOf(start)) {
      if (item.$type === 'Use' && item.path === undefined && item.what !== undefined && item.what !== 'prelude')
        report.add('use.word', { uri: start.uri, at: item, property: 'what' });
    }
  }
}

const parsed = new WeakMap<LibraryText, readonly SourceFile[]>();

/** The library does not change: it is read once however many projects stand on it. */
function sourcesOf(library: LibraryText): readonly SourceFile[] {
  const known =
    parsed.get(library) ??
    library.files.map((file) => {
      const { uri, text } = file;
      const ready = file.ready?.();
      return ready ? unpacked(uri, text, ready) : parseFile(uri, text);
    });
  parsed.set(library, known);
  return known;
}

/** What stands beside a text, read through the host. */
function readingThrough(host: Host): Reading {
  const look = (from: string, path: string): Asked['found'] => {
    const found = host.resolve(from, path);
    if (!('uri' in found)) return found;
    const text = host.read(found.uri);
    return text === undefined ? { problem: 'not-found', why: '' } : { uri: found.uri, text };
  };
  return {
    files: (noted) => ({
      read: (from, path) => {
        const found = look(from, path);
        noted.push({ from, path, found });
        return found;
      },
    }),
    isUnchanged: (noted) => noted.every(({ from, path, found }) => sameKey(saidOf(look(from, path)), saidOf(found))),
  };
}

function saidOf(found: Asked['found']): readonly string[] {
  return 'uri' in found ? [found.uri, found.text] : [found.problem, found.why];
}

/** What is to be said of one text. */
class Problems {
  readonly ofText: readonly Problem[];
  private readonly uri: string;
  private readonly places: Places;
  private readonly broken: boolean;
  private made: { readonly of: number; readonly problems: readonly Problem[] } | null = null;

  constructor(start: SourceFile, said: readonly Report[], places: Places) {
    this.uri = start.uri;
    this.places = places;
    const found = said.flatMap(({ findings }) => findings).filter(({ target }) => target.uri === start.uri);
    this.ofText = [...places.ofText(start), ...found.map((finding) => places.ofFinding(finding))];
    this.broken = this.ofText.some(({ severity }) => severity === 'error');
  }

  /** What figures say of each other waits until every line is understood. */
  ofBuild(outcome: PlannedLater): Problem[] {
    return outcome.problems
      .filter(({ origin, severity }) => origin.uri === this.uri && !(this.broken && severity === 'advice'))
      .map((problem) => this.places.ofPlan(problem));
  }

  /** With what the figures of these builds say of each other. */
  of(outcomes: readonly PlannedLater[]): readonly Problem[] {
    if (this.made?.of === outcomes.length) return this.made.problems;
    const problems = inTextOrder([...this.ofText, ...outcomes.flatMap((outcome) => this.ofBuild(outcome))]);
    this.made = { of: outcomes.length, problems };
    return problems;
  }
}

/** A part is read for itself and for every build that uses it: what is said twice of one place counts once. */
function inTextOrder(problems: readonly Problem[]): Problem[] {
  const once = new Map(problems.map((problem) => [sameSaid(problem), problem]));
  return [...once.values()].sort((a, b) => a.start - b.start || a.end - b.end);
}
