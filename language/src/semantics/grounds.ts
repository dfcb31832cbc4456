/**
 * Schema and shared figures of a scope, kept while no declaration in it, and no practice, has changed. Files that declare nothing stand on
 * one ground with all others that reach the same declarations.
 */
import type * as ast from '../grammar/generated/ast.ts';
import type { Collected } from './bind/collect.ts';
import { collectShared } from './bind/shared.ts';
import type { Ground } from './bind/build.ts';
import { collectLibrary, practicesIn, type Library } from './names/library.ts';
import type { Scope } from './names/scope.ts';
import type { PartsSeen } from './types/env.ts';
import { Report } from './problems/report.ts';
import { buildDraft, type Setting } from './schema/build.ts';
import type { Draft } from './schema/draft.ts';
import type { Schema } from './schema/schema.ts';

/** One text that was asked for, and what was there: where none was, one may come. */
export interface Asked {
  readonly from: string;
  readonly path: string;
  readonly found: ReturnType<Setting['files']['read']>;
}

/** Texts that stand beside: what was asked for is noted, so that a change is seen. */
export interface Reading {
  files(noted: Asked[]): Setting['files'];
  isUnchanged(noted: readonly Asked[]): boolean;
}

export interface Kept {
  readonly ground: Ground;
  /** What the declarations of the scope and its practice got wrong, in whichever file. */
  readonly reports: readonly Report[];
}

/** Made of some items, and of what was asked while it was made. */
interface Made {
  readonly key: readonly unknown[];
  readonly report: Report;
  /** What was asked of parts, since sizes on offer shape what is declared: no other part does. */
  readonly parts: readonly AskedParts[];
  readonly noted: readonly Asked[];
}

/** What is declared. */
interface Declarations extends Made {
  readonly draft: Draft;
  readonly schema: Schema;
  readonly setting: Setting;
  /** The figures to start from, by the practice that was last seen. */
  practice: Practice | null;
}

interface Practice extends Made {
  readonly shared: Collected;
}

/** One question about the parts that are seen from somewhere, and what the answer was. */
interface AskedParts {
  readonly seenFrom: SeenFrom;
  readonly question: (seen: PartsSeen) => readonly unknown[];
  readonly answer: readonly unknown[];
}
type SeenFrom = (scope: Scope) => PartsSeen;

const most = 64;

export class Grounds {
  private readonly root: string;
  private readonly edition: number;
  private readonly reading: Reading;
  private entries: Declarations[] = [];

  constructor(root: string, edition: number, reading: Reading) {
    this.root = root;
    this.edition = edition;
    this.reading = reading;
  }

  /** The ground of a scope, with parts and `use` places as this scope sees them. */
  of(scope: Scope, report: Report): Kept {
    const key = keyOf(scope, declares);
    const declared = this.entries.find((one) => this.stands(one, key, scope)) ?? this.declaredAnew(scope, key);
    this.entries = [declared, ...this.entries.filter((other) => other !== declared)].slice(0, most);
    const practice = this.practiceOf(declared, scope);
    const { draft, schema } = declared;
    const setting: Setting = {
      ...declared.setting,
      parts: scope.partsOf(scope.uri),
      report,
      partsOf: scope.partsOf,
      useOf: scope.useOf,
      clashAt: scope.clashAt,
    };
    return {
      ground: { draft, schema, shared: practice.shared, setting, edition: this.edition },
      reports: [declared.report, practice.report],
    };
  }

  private stands(made: Made, key: readonly unknown[], scope: Scope): boolean {
    return (
      sameKey(made.key, key) &&
      made.parts.every(({ seenFrom, question, answer }) => sameKey(question(seenFrom(scope)), answer)) &&
      this.reading.isUnchanged(made.noted)
    );
  }

  private declaredAnew(scope: Scope, key: readonly unknown[]): Declarations {
    const { made, setting } = this.begun(scope, key, (report) =>
      collectLibrary(scope.files, this.root, report, scope.clashAt),
    );
    const draft = buildDraft(setting);
    return { ...made, draft, schema: draft.finish(this.root), setting, practice: null };
  }

  private practiceOf(declared: Declarations, scope: Scope): Practice {
    const key = keyOf(scope, ({ $type }) => $type === 'Practice');
    if (declared.practice && this.stands(declared.practice, key, scope)) return declared.practice;
    const { made, setting } = this.begun(scope, key, () => declared.setting.library);
    declared.practice = { ...made, shared: collectShared(declared.draft, setting, practicesIn(scope.files)) };
    return declared.practice;
  }

  /** What is read from now on is noted in `made`. */
  private begun(
    scope: Scope,
    key: readonly unknown[],
    libraryOf: (report: Report) => Library,
  ): { readonly made: Made; readonly setting: Setting } {
    const report = new Report();
    const noted: Asked[] = [];
    const parts: AskedParts[] = [];
    const noting = (seenFrom: SeenFrom): PartsSeen => notingParts(seenFrom, scope, parts);
    const setting: Setting = {
      library: libraryOf(report),
      parts: noting(fromStart),
      files: this.reading.files(noted),
      report,
      partsOf: (uri) => noting((from) => from.partsOf(uri)),
      useOf: scope.useOf,
      clashAt: scope.clashAt,
    };
    return { made: { key, report, parts, noted }, setting };
  }
}

const fromStart: SeenFrom = (scope) => scope.partsOf(scope.uri);

/** What is seen, with a note of every question that is asked. */
function notingParts(seenFrom: SeenFrom, scope: Scope, notes: AskedParts[]): PartsSeen {
  const seen = seenFrom(scope);
  const note = (question: AskedParts['question']): void => {
    notes.push({ seenFrom, question, answer: question(seen) });
  };
  return {
    complete: seen.complete,
    find: (name) => {
      note((from) => [from.find(name)?.item, from.complete]);
      return seen.find(name);
    },
    names: (component) => {
      note((from) => from.names(component));
      return seen.names(component);
    },
    all: (component) => {
      note((from) => from.all(component).map(({ item }) => item));
      return seen.all(component);
    },
  };
}

const shaping: ReadonlySet<ast.Item['$type']> = new Set([
  'Component',
  'Extend',
  'Derive',
  'Rule',
  'FunctionDeclaration',
  'Axis',
  'UnitDeclaration',
  'DimensionDeclaration',
]);

function declares(item: ast.Item): boolean {
  return shaping.has(item.$type);
}

/** Files without such an item do not count; order and distance do. */
function keyOf(scope: Scope, counts: (item: ast.Item) => boolean): unknown[] {
  return scope.files.flatMap(({ uri, distance, items }) => {
    const own = items.filter(counts);
    return own.length === 0 ? [] : [uri, distance, ...own];
  });
}

export function sameKey(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((one, i) => one === b[i]);
}
