/**
 * All that the files of one scope declare, by name: components with their extensions, functions, axes, derives, rules,
 * units, dimensions. One name, one thing; a second is reported at the later file. Knows no build.
 */
import type * as ast from '../../grammar/generated/ast.ts';
import { namedMeasures, type Measure } from '@thou/shared/dimension/types';
import { caps } from '@thou/shared/limits';
import { standardUnits, Units } from '@thou/shared/unit/unit';
import { reservedWords } from '@thou/shared/words';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf, type Report, type Target } from '../problems/report.ts';
import { builtinNames } from '../types/builtins.ts';
import { FunctionCalls } from './function-calls.ts';
import { Graph } from './graph.ts';

/** Files of the trade library stand farthest from every build. */
export const libraryDistance = Number.MAX_SAFE_INTEGER;

export interface FileItems {
  readonly uri: string;
  /** 0 for the file itself, 1 for those it uses, and so on. */
  readonly distance: number;
  readonly items: readonly ast.Item[];
}

export interface Declared<T> {
  readonly item: T;
  readonly uri: string;
  readonly distance: number;
}

export interface ComponentDeclared extends Declared<ast.Component> {
  readonly extensions: Declared<ast.Extend>[];
}

export class Library {
  readonly components = new Map<string, ComponentDeclared>();
  readonly extensionsOfAll: Declared<ast.Extend>[] = [];
  readonly functions = new Map<string, Declared<ast.FunctionDeclaration>>();
  readonly axes: Declared<ast.Axis>[] = [];
  readonly derives: Declared<ast.Derive>[] = [];
  readonly rules: Declared<ast.Rule>[] = [];
  readonly measures = new Map<string, Measure>();
  readonly units = new Units(standardUnits);
  readonly unitDeclarations: Declared<ast.UnitDeclaration>[] = [];
  readonly dimensionDeclarations: Declared<ast.DimensionDeclaration>[] = [];
  readonly rootName: string;
  private calls: FunctionCalls | null = null;
  private holding: Graph | null = null;

  constructor(rootName: string) {
    this.rootName = rootName;
  }

  /** Settled when first asked for: all functions are known by then. */
  get functionCalls(): FunctionCalls {
    this.calls ??= new FunctionCalls(this.functions);
    return this.calls;
  }

  /** Which component holds which, and how many parts each unfolds to. */
  get held(): Graph {
    this.holding ??= new Graph(
      new Map([...this.components].map(([name, component]) => [name, heldIn(component, this)])),
      { size: caps.mounts, depth: caps.nesting },
    );
    return this.holding;
  }

  measure(name: string): Measure | undefined {
    return this.measures.get(name) ?? namedMeasures.get(name);
  }
}

/** Where two used files clash that know nothing of each other: at the later `use`. Null: where the later name stands. */
export type ClashAt = (later: string, first: string) => Target | null;

/** Files nearest last: the library's own first, so that a clash is reported where the later name stands. */
export function collectLibrary(
  files: readonly FileItems[],
  rootName: string,
  report: Report,
  clashAt: ClashAt = () => null,
): Library {
  const library = new Library(rootName);
  const extensions: Declared<ast.Extend>[] = [];
  const claims: Claims = { taken: new Map(), clashAt, report };
  for (const { uri, distance, items } of files) {
    for (const item of items) sort({ item, uri, distance }, library, extensions, claims);
  }
  for (const extension of extensions) attach(extension, library, report);
  return library;
}

/** What the files of a scope hold to. It declares nothing: another figure in it leaves all that is declared as it is. */
export function practicesIn(files: readonly FileItems[]): Declared<ast.Practice>[] {
  return files.flatMap(({ uri, distance, items }) =>
    items.filter((item): item is ast.Practice => item.$type === 'Practice').map((item) => ({ item, uri, distance })),
  );
}

interface Claims {
  readonly taken: Map<string, Declared<ast.Item>>;
  readonly clashAt: ClashAt;
  readonly report: Report;
}

function sort(
  declared: Declared<ast.Item>,
  library: Library,
  extensions: Declared<ast.Extend>[],
  claims: Claims,
): void {
  const { item } = declared;
  const as = <T extends ast.Item>(typed: T): Declared<T> => ({ ...declared, item: typed });
  switch (item.$type) {
    case 'Component':
      if (claim('type', declared, item.name, claims)) {
        library.components.set(item.name, { ...as(item), extensions: [] });
      }
      return;
    case 'Extend':
      extensions.push(as(item));
      return;
    case 'FunctionDeclaration':
      if (claim('value', declared, item.name, claims)) library.functions.set(item.name, as(item));
      return;
    case 'Axis':
      if (claim('axis', declared, item.name, claims)) library.axes.push(as(item));
      return;
    case 'Derive':
      if (claim('value', declared, item.name, claims)) library.derives.push(as(item));
      return;
    case 'Rule':
      if (claim('rule', declared, item.name, claims)) library.rules.push(as(item));
      return;
    case 'UnitDeclaration':
      library.unitDeclarations.push(as(item));
      return;
    case 'DimensionDeclaration':
      if (claim('type', declared, item.name, claims)) library.dimensionDeclarations.push(as(item));
      return;
    default:
      return;
  }
}

/** False where the name is a word of the language, is missing, or is taken; the later place is told both. */
function claim(
  namespace: string,
  declared: Declared<ast.Item>,
  name: string | undefined,
  { taken, clashAt, report }: Claims,
): boolean {
  if (!name) return false;
  const target: Target = { uri: declared.uri, at: declared.item, property: 'name' };
  if (reservedWords.has(name) || (namespace === 'value' && builtinNames.has(name))) {
    report.add('name.reserved', target, { name });
    return false;
  }
  const key = `${namespace} ${name}`;
  const first = taken.get(key);
  const isMeasure = namespace === 'type' && namedMeasures.has(name);
  if (first || isMeasure) {
    const related = first
      ? [{ target: { uri: first.uri, at: first.item, property: 'name' }, words: 'first here' }]
      : [];
    const use = first ? clashAt(declared.uri, first.uri) : null;
    if (use)
      report.add(
        'use.name-clash',
        use,
        { name, first: fileName(first!.uri), second: fileName(declared.uri) },
        { related: [...related, { target, words: 'and here' }] },
      );
    else report.add('name.taken', target, { name, what: whatIs(first?.item) }, { related });
    return false;
  }
  taken.set(key, declared);
  return true;
}

/** The last part of a file's address, as a reader knows it. */
export function fileName(uri: string): string {
  return uri.slice(uri.lastIndexOf('/') + 1);
}

function whatIs(item: ast.Item | undefined): string {
  switch (item?.$type) {
    case 'Component':
      return 'a component';
    case 'Derive':
      return 'a computed figure';
    case 'FunctionDeclaration':
      return 'a function';
    case 'Axis':
      return 'an axis';
    case 'Rule':
      return 'a rule';
    default:
      return 'a kind of quantity';
  }
}

function attach(extension: Declared<ast.Extend>, library: Library, report: Report): void {
  const { target } = extension.item;
  if (target === 'any') {
    library.extensionsOfAll.push(extension);
    return;
  }
  const component = library.components.get(target);
  if (component) component.extensions.push(extension);
  else if (target) {
    const near = report.nearest(target, library.components.keys());
    const at: Target = { uri: extension.uri, at: extension.item, property: 'target' };
    report.add('name.no-such-component', at, { name: target, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  }
}

function heldIn(component: ComponentDeclared, library: Library): string[] {
  return declarationsOf(component, library).flatMap(({ item }) => {
    const of = item.$type === 'Property' ? item.type?.of : undefined;
    return of?.$type === 'TypeName' && library.components.has(of.name) ? [of.name] : [];
  });
}

/** Everything declared in a component: its own and what `extend` adds, in order. */
export function declarationsOf(component: ComponentDeclared, library: Library): Declared<ast.Declaration>[] {
  const bodies = [component, ...component.extensions, ...library.extensionsOfAll];
  return bodies.flatMap(({ item, uri, distance }) =>
    (item.body?.declarations ?? []).map((declaration) => ({ item: declaration, uri, distance })),
  );
}
