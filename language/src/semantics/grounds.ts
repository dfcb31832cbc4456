/**
 * Schema and shared figures of a scope, kept while no declaration in it has changed. Files that declare nothing stand on
 * one ground with all others that reach the same declarations.
 */
import type * as ast from '../grammar/generated/ast.ts';
import { collectShared } from './bind/shared.ts';
import type { Ground } from './bind/build.ts';
import { collectLibrary } from './names/library.ts';
import type { Scope } from './names/scope.ts';
import type { PartsSeen } from './types/env.ts';
import { Report } from './problems/report.ts';
import { buildDraft, type Setting } from './schema/build.ts';

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
  /** What the declarations of the scope got wrong, in whichever file. */
  readonly report: Report;
}

interface Entry extends Kept {
  readonly key: readonly unknown[];
  /** What was asked of parts, since sizes on offer shape what is declared: no other part does. */
  readonly parts: readonly AskedParts[];
  readonly noted: readonly Asked[];
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
  private entries: Entry[] = [];

  constructor(root: string, edition: number, reading: Reading) {
    this.root = root;
    this.edition = edition;
    this.reading = reading;
  }

  /** The ground of a scope, with parts and `use` places as this scope sees them. */
  of(scope: Scope, report: Report): Kept {
    const key = keyOf(scope, declares);
    const fits = (entry: Entry): boolean =>
      sameKey(entry.key, key) &&
      entry.parts.every(({ seenFrom, question, answer }) => sameKey(question(seenFrom(scope)), answer)) &&
      this.reading.isUnchanged(entry.noted);
    const known = this.entries.find(fits);
    const entry = known ?? this.anew(scope, key);
    this.entries = [entry, ...this.entries.filter((other) => other !== entry)].slice(0, most);
    const setting: Setting = {
      ...entry.ground.setting,
      parts: scope.partsOf(scope.uri),
      report,
      partsOf: scope.partsOf,
      useOf: scope.useOf,
      clashAt: scope.clashAt,
    };
    return { ground: { ...entry.ground, setting }, report: entry.report };
  }

  private anew(scope: Scope, key: readonly unknown[]): Entry {
    const report = new Report();
    const noted: Asked[] = [];
    const parts: AskedParts[] = [];
    const noting = (seenFrom: SeenFrom): PartsSeen => notingParts(seenFrom, scope, parts);
    const library = collectLibrary(scope.files, this.root, report, scope.clashAt);
    const setting: Setting = {
      library,
      parts: noting(fromStart),
      files: this.reading.files(noted),
      report,
      partsOf: (uri) => noting((from) => from.partsOf(uri)),
      useOf: scope.useOf,
      clashAt: scope.clashAt,
    };
    const draft = buildDraft(setting);
    const shared = collectShared(draft, setting);
    const schema = draft.finish(this.root);
    return {
      key,
      parts,
      noted,
      report,
      ground: { draft, schema, shared, setting, edition: this.edition },
    };
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
  'Practice',
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
