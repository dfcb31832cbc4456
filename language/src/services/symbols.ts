/** The outline of a file: its entries, what is in them, and the figure that each has. */
import type { DocumentSymbol, SymbolInformation } from 'vscode-languageserver-types';
import { rangeOf, sourceText, type Field } from '../grammar/file.ts';
import type { AstNode } from 'langium';
import type * as ast from '../grammar/generated/ast.ts';
import { cellCount } from '../report/cells.ts';
import { figureOf, figureText } from '../report/figures.ts';
import { onOneLine } from '../report/place.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { FileResult } from '../semantics/project.ts';
import { notedOf } from './meaning.ts';
import { toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

export const kinds = {
  file: 1,
  module: 2,
  class: 5,
  property: 7,
  enum: 10,
  function: 12,
  variable: 13,
  constant: 14,
  object: 19,
  event: 24,
  operator: 25,
  struct: 23,
} as const;

interface Entry {
  readonly name: string;
  readonly detail: string;
  readonly kind: DocumentSymbol['kind'];
  readonly node: AstNode;
  /** The word to go to. */
  readonly word: Field | AstNode;
  readonly children: readonly Entry[];
}

/** `figures`: also how builds stand and what each figure is. */
export function symbolsOf(workspace: Workspace, uri: string, figures = true): DocumentSymbol[] | null {
  const source = workspace.source(uri);
  if (!source) return null;
  const result = workspace.result(uri);
  const positions = workspace.positionsOf(uri);
  return source.blocks.flatMap(({ offset, parsed: { item } }) => {
    const entry = item && entryOf(item, result);
    if (!entry) return [];
    const range = (place: Field | AstNode) => {
      const { start, end } = rangeOf(place);
      return toRange(positions, { start: start + offset, end: end + offset });
    };
    const made = ({ name, detail, kind, node, word, children }: Entry): DocumentSymbol => ({
      name,
      kind,
      range: range(node),
      selectionRange: range(word),
      ...(detail === '' || !figures ? {} : { detail }),
      ...(children.length === 0 ? {} : { children: children.map(made) }),
    });
    return [made(entry)];
  });
}

/** For editors that show no tree: the same in one row, with what each is in. */
export function flatSymbolsOf(workspace: Workspace, uri: string): SymbolInformation[] | null {
  const flat = (symbols: readonly DocumentSymbol[], within?: string): SymbolInformation[] =>
    symbols.flatMap(({ name, kind, range, children = [] }) => [
      { name, kind, location: { uri, range }, ...(within === undefined ? {} : { containerName: within }) },
      ...flat(children, name),
    ]);
  const symbols = symbolsOf(workspace, uri);
  return symbols && flat(symbols);
}

/** Null for what has no name of its own. */
function entryOf(item: ast.Item, result: FileResult): Entry | null {
  const outcome = result.outcomes.find(({ binding }) => binding.origin.at === item);
  switch (item.$type) {
    case 'Component':
      return named(item, 'component', kinds.class, declarations(item.body?.declarations));
    case 'Extend':
      return entry(
        item,
        `extend ${item.target ?? ''}`,
        '',
        kinds.class,
        { node: item, property: 'target' },
        declarations(item.body?.declarations),
      );
    case 'Derive':
    case 'Rule':
    case 'Axis':
      return declaration(item);
    case 'FunctionDeclaration':
      return named(item, onOneLine(item.type ? sourceText(item.type) : ''), kinds.function);
    case 'UnitDeclaration':
      return named(item, 'unit', kinds.constant);
    case 'DimensionDeclaration':
      return named(item, 'sort of quantity', kinds.class);
    case 'Part':
      return named(item, item.kind ?? '', kinds.object, members(item.body, result, undefined));
    case 'Build':
      return named(item, standing(outcome), kinds.module, members(item.body, result, outcome));
    case 'Variant':
      return named(item, `of ${item.base ?? ''}`, kinds.module, members(item.body, result, outcome));
    case 'Practice':
      return entry(
        item,
        item.label || 'practice',
        'practice',
        kinds.module,
        { node: item, property: 'label' },
        members(item.body, result, undefined),
      );
    case 'Use':
      return null;
  }
}

function standing(outcome: Outcome | undefined): string {
  if (!outcome) return '';
  const out = outcome.checks.filter(({ state }) => state === 'out-of-limits').length;
  const hold = outcome.checks.filter(({ state }) => state.startsWith('holds')).length;
  return `${hold} hold, ${out} out`;
}

function declarations(all: readonly ast.Declaration[] | undefined): Entry[] {
  return (all ?? []).map(declaration).filter((one) => one !== null);
}

function declaration(item: ast.Declaration): Entry | null {
  const written =
    item.$type === 'Property' || item.$type === 'Derive' ? onOneLine(item.type ? sourceText(item.type) : '') : '';
  switch (item.$type) {
    case 'Property':
      return named(item, written, kinds.property);
    case 'Derive':
      return named(item, written, kinds.variable);
    case 'Rule':
      return named(item, item.severity ?? 'rule', kinds.event);
    case 'Axis':
      return named(item, 'axis', kinds.enum);
  }
}

function members(body: ast.Body | undefined, result: FileResult, outcome: Outcome | undefined): Entry[] {
  return (body?.members ?? []).map((one) => member(one, result, outcome)).filter((one) => one !== null);
}

function member(item: ast.Member, result: FileResult, outcome: Outcome | undefined): Entry | null {
  switch (item.$type) {
    case 'Given': {
      if (!item.path) return null;
      const children = members(item.body, result, outcome);
      return entry(
        item,
        onOneLine(sourceText(item.path)),
        given(item, result, outcome),
        children.length > 0 ? kinds.object : kinds.property,
        { node: item, property: 'path' },
        children,
      );
    }
    case 'Machining':
    case 'Measured': {
      const word = item.$type === 'Machining' ? 'machining' : 'measured';
      return entry(
        item,
        item.label ?? word,
        word,
        kinds.event,
        item.label === undefined ? item : { node: item, property: 'label' },
        members(item.body, result, outcome),
      );
    }
    case 'Expect':
      return said('expect', item, item.value);
    case 'Accept':
      return said('accept', item, item.target);
    default:
      return declaration(item);
  }
}

const longest = 48;

/** The figure of this build where it is one; else what is written. */
function given(item: ast.Given, result: FileResult, outcome: Outcome | undefined): string {
  const step = item.path.steps.at(-1);
  const thing = step && notedOf(result.names, { node: step, property: 'name' })[0];
  const one = thing?.is === 'slot' ? outcome?.slots.find(({ slot }) => slot.id === thing.slot) : undefined;
  if (outcome && one && cellCount(one.axes) === 1) return figureText(figureOf(outcome, one, 0, 'measured'));
  const written = item.value ? onOneLine(sourceText(item.value)) : '';
  return written.length > longest ? `${written.slice(0, longest - 1)}…` : written;
}

function named(
  item: AstNode & { readonly name?: string },
  detail: string,
  kind: DocumentSymbol['kind'],
  children: readonly Entry[] = [],
): Entry | null {
  return item.name ? entry(item, item.name, detail, kind, { node: item, property: 'name' }, children) : null;
}

/** A sentence without a name is called by its words. */
function said(word: string, node: AstNode, of: AstNode | undefined): Entry | null {
  return entry(node, of ? `${word} ${onOneLine(sourceText(of))}` : word, '', kinds.operator, node, []);
}

function entry(
  node: AstNode,
  name: string,
  detail: string,
  kind: DocumentSymbol['kind'],
  word: Field | AstNode,
  children: readonly Entry[],
): Entry | null {
  return name.trim() === '' ? null : { node, name, detail, kind, word, children };
}
