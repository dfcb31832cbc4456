/**
 * The front door of the language: files in, findings and outcomes out. Keeps what has not changed between two looks.
 * Reads nothing itself; the host decides what may be read.
 */
import type * as ast from '../grammar/generated/ast.ts';
import { parseFile, type SourceFile } from '../grammar/file.ts';
import { bindBuild, type Bound, type Ground } from './bind/build.ts';
import { checkParts } from './bind/loose-parts.ts';
import { collectShared } from './bind/shared.ts';
import { collectLibrary } from './names/library.ts';
import { itemsOf, scopeOf, type Scope } from './names/scope.ts';
import type { Outcome } from './plan/outcome.ts';
import { planBuild, type Plan } from './plan/run.ts';
import { Places, type Problem } from './problems/places.ts';
import { didYouMean } from './problems/messages.ts';
import { insteadOf, Report, type Target } from './problems/report.ts';
import { buildDraft, type Setting } from './schema/build.ts';
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
  readonly files: readonly { readonly uri: string; readonly text: string }[];
}

export interface FileResult {
  readonly uri: string;
  readonly problems: readonly Problem[];
  readonly outcomes: readonly Outcome[];
  readonly schema: Schema;
}

interface Kept {
  readonly key: readonly unknown[];
  /** Files of readings that went into it. */
  readonly texts: ReadonlyMap<string, string>;
  readonly ground: Ground;
  readonly report: Report;
}

export class Project {
  private readonly host: Host;
  private readonly library: LibraryText;
  private readonly files = new Map<string, SourceFile>();
  private readonly librarySources: readonly SourceFile[];
  private readonly plans = new Map<string, Plan>();
  private readonly grounds = new Map<string, Kept>();

  constructor(host: Host, library: LibraryText) {
    this.host = host;
    this.library = library;
    this.librarySources = sourcesOf(library);
    for (const source of this.librarySources) this.files.set(source.uri, source);
  }

  /** The file as it is now, block by block from before where its text has not changed. */
  source(uri: string): SourceFile | undefined {
    const ofLibrary = this.librarySources.find((source) => source.uri === uri);
    if (ofLibrary) return ofLibrary;
    const text = this.host.read(uri);
    if (text === undefined) return undefined;
    const known = this.files.get(uri);
    if (known?.text === text) return known;
    const source = parseFile(uri, text, known);
    this.files.set(uri, source);
    return source;
  }

  /** Everything that is to be said of one file. Throws nothing for any text. */
  check(uri: string): FileResult {
    const start = this.source(uri) ?? parseFile(uri, '');
    const report = new Report();
    const scope = scopeOf(
      start,
      this.librarySources,
      { file: (at) => this.source(at), resolve: (from, path) => this.host.resolve(from, path) },
      report,
    );
    const kept = this.ground(scope, start);
    const setting: Setting = { ...kept.ground.setting, report };
    const ground: Ground = { ...kept.ground, setting };
    this.checkEdition(scope, start, report);
    checkParts(start, ground);
    const bound = this.bindAll(scope, start, ground, report);
    const outcomes = bound.map((one) => this.run(one, uri));
    const places = new Places((at) => this.source(at));
    const found = [...kept.report.findings, ...report.findings].filter(({ target }) => target.uri === uri);
    const planned = outcomes.flatMap(({ problems }) => problems).filter(({ origin }) => origin.uri === uri);
    const problems = [
      ...places.ofText(start),
      ...found.map((finding) => places.ofFinding(finding)),
      ...planned.map((problem) => places.ofPlan(problem)),
    ];
    return { uri, problems: inTextOrder(problems), outcomes, schema: kept.ground.schema };
  }

  /** Schema and shared figures, kept while no declaration of the scope has changed. */
  private ground(scope: Scope, start: SourceFile): Kept {
    const key = scope.files.flatMap(({ uri, distance, items }) => [
      uri,
      distance,
      ...items.filter((item) => this.shapes(item)),
    ]);
    const isFresh = (kept: Kept): boolean =>
      sameKey(kept.key, key) && [...kept.texts].every(([uri, text]) => this.host.read(uri) === text);
    const known = this.grounds.get(start.uri);
    if (known && isFresh(known)) return known;
    const twin = [...this.grounds.values()].find(isFresh);
    const kept = twin ?? this.groundAnew(scope, key);
    this.grounds.set(start.uri, kept);
    return kept;
  }

  /** Builds shape nothing outside themselves; parts do where sizes on offer are asked for, `use` by what it is nearer to. */
  private shapes(item: ast.Item): boolean {
    return item.$type !== 'Build' && item.$type !== 'Variant';
  }

  private groundAnew(scope: Scope, key: readonly unknown[]): Kept {
    const report = new Report();
    const texts = new Map<string, string>();
    const library = collectLibrary(scope.files, this.library.root, report, scope.clashAt);
    const setting: Setting = {
      library,
      parts: scope.partsOf(scope.uri),
      files: this.textFiles(texts),
      report,
      partsOf: scope.partsOf,
      useOf: scope.useOf,
      clashAt: scope.clashAt,
    };
    const draft = buildDraft(setting);
    const shared = collectShared(draft, setting);
    const schema = draft.finish(this.library.root);
    return { key, texts, report, ground: { draft, schema, shared, setting, edition: this.library.edition } };
  }

  /** What was read is noted in `read`. */
  private textFiles(read: Map<string, string>): Setting['files'] {
    return {
      read: (from, path) => {
        const found = this.host.resolve(from, path);
        if (!('uri' in found)) return found;
        const text = this.host.read(found.uri);
        if (text === undefined) return { problem: 'not-found', why: '' };
        read.set(found.uri, text);
        return { uri: found.uri, text };
      },
    };
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

  /** Builds first; a variant may come before its base in the file, and its base may stand in a file that this one uses. */
  private bindAll(scope: Scope, start: SourceFile, ground: Ground, report: Report): Bound[] {
    const bound = new Map<ast.Build | ast.Variant, Bound>();
    const known = new Map<string, Placed>();
    for (const { uri, items } of scope.files)
      for (const item of items)
        if (item.$type === 'Build' || item.$type === 'Variant') known.set(item.name, { item, uri });
    const bind = (start: Placed): Bound | null => {
      let base: Bound | null = null;
      for (const { item, uri } of lineOf(start, known, bound, report)) {
        const before: Bound | undefined = bound.get(item);
        if (!before && item.$type === 'Variant' && !base) return null;
        base = before ?? bindBuild(item, uri, groundIn(uri), base);
        bound.set(item, base);
      }
      return base;
    };
    const groundIn = (uri: string): Ground =>
      uri === start.uri ? ground : { ...ground, setting: { ...ground.setting, parts: scope.partsOf(uri) } };
    const own = itemsOf(start).filter(
      (item): item is ast.Build | ast.Variant => item.$type === 'Build' || item.$type === 'Variant',
    );
    const names = new Map<string, ast.Item>();
    for (const item of own) {
      const first = names.get(item.name);
      if (first)
        report.add(
          'name.taken',
          { uri: start.uri, at: item, property: 'name' },
          { name: item.name, what: 'a build' },
          { related: [{ target: { uri: start.uri, at: first, property: 'name' }, words: 'first here' }] },
        );
      names.set(item.name, item);
    }
    return own.map((item) => bind({ item, uri: start.uri })).filter((one): one is Bound => one !== null);
  }

  private run(bound: Bound, uri: string): Outcome {
    const key = `${uri}#${bound.binding.name}`;
    const plan = planBuild(bound.binding, this.plans.get(key), bound.draft.allTexts());
    this.plans.set(key, plan);
    return plan.outcome();
  }
}

const parsed = new WeakMap<LibraryText, readonly SourceFile[]>();

/** The library does not change: it is read once however many projects stand on it. */
function sourcesOf(library: LibraryText): readonly SourceFile[] {
  const known = parsed.get(library) ?? library.files.map(({ uri, text }) => parseFile(uri, text));
  parsed.set(library, known);
  return known;
}

interface Placed {
  readonly item: ast.Build | ast.Variant;
  readonly uri: string;
}

/** A build or variant with what it is a variant of, the first of them first; it begins with a variant where the line is broken. */
function lineOf(
  start: Placed,
  known: ReadonlyMap<string, Placed>,
  bound: ReadonlyMap<unknown, Bound>,
  report: Report,
): Placed[] {
  const line: Placed[] = [];
  const passed = new Set<ast.Item>();
  for (let at: Placed | undefined = start; at && !passed.has(at.item);) {
    const { item, uri }: Placed = at;
    line.unshift(at);
    passed.add(item);
    if (item.$type === 'Build' || bound.has(item) || !item.base) return line;
    const base: Placed | undefined = known.get(item.base);
    const place: Target = { uri, at: item, property: 'base' };
    if (!base) {
      const near = report.nearest(item.base, known.keys());
      report.add(
        'name.no-such-base',
        place,
        { name: item.base, near: didYouMean(near) },
        { fixes: insteadOf(place, near) },
      );
    } else if (base.item === start.item)
      report.add('name.base-circle', { uri: start.uri, at: start.item, property: 'base' }, { name: start.item.name });
    at = base;
  }
  return line;
}

function sameKey(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((one, i) => one === b[i]);
}

function inTextOrder(problems: Problem[]): Problem[] {
  return problems.sort((a, b) => a.start - b.start || a.end - b.end);
}
