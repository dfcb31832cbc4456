/**
 * What the word at a place of a text stands for. Names were settled when the file was read, and are only looked up in its
 * notes; a word that is itself a declaration, a unit or a path is told from where it stands.
 */
import type { AstNode } from 'langium';
import { fieldAt, type Field, type Range } from '../grammar/file.ts';
import type * as ast from '../grammar/generated/ast.ts';
import type { SlotId } from '../semantics/ir.ts';
import type { Names, Thing } from '../semantics/problems/names.ts';
import { Places, type TextPlace } from '../semantics/problems/places.ts';
import type { Target } from '../semantics/problems/report.ts';
import type { FileResult } from '../semantics/project.ts';
import type { MountId } from '../semantics/schema/schema.ts';
import { builtins, builtinValues } from '../semantics/types/builtins.ts';
import type { AxisId } from '../semantics/types/type.ts';
import { declaredBy, declaredIn } from './declared.ts';
import type { Workspace } from './workspace.ts';

export type Sort =
  | 'slot'
  | 'mount'
  | 'part'
  | 'axis'
  | 'function'
  | 'component'
  | 'measure'
  | 'rule'
  | 'unit'
  | 'choice'
  | 'label'
  | 'local'
  | 'build'
  | 'builtin'
  | 'file';

/** What a word stands for. */
export interface Sense {
  readonly is: Sort;
  readonly name: string;
  /** The word that declares it; null for what the language brings itself. */
  readonly declared: Target | null;
  /** As it was found: several where one declaration is read for several mounts. */
  readonly things: readonly Thing[];
  /** The first of the things, in the numbers of the file's schema. */
  readonly slot?: SlotId;
  readonly mount?: MountId;
  readonly axis?: AxisId;
  /** For a file: where the path leads. */
  readonly uri?: string;
}

export interface Meaning extends Sense {
  /** The word itself. */
  readonly at: TextPlace;
  /** The same in the tree. */
  readonly field: Field;
  /** Whether the word is the one that declares. */
  readonly declares: boolean;
}

/** The word under an offset, or the one that ends there. */
export function meaningAt(workspace: Workspace, uri: string, offset: number): Meaning | null {
  const word = wordAt(workspace, uri, offset);
  return word && meaningOf(workspace, workspace.result(uri), word.field, word.at);
}

/** What a field of a tree means; the file must be the one that `result` is of. */
export function meaningOf(workspace: Workspace, result: FileResult, field: Field, at: TextPlace): Meaning | null {
  const sense = senseOf(workspace, result, field);
  if (!sense) return null;
  return { ...sense, at, field, declares: sense.declared !== null && isSame(sense.declared, field) };
}

export interface Word {
  readonly field: Field;
  readonly at: TextPlace;
}

export function wordAt(workspace: Workspace, uri: string, offset: number): Word | null {
  const source = workspace.source(uri);
  for (const place of [offset, offset - 1]) {
    const block = source?.blocks.findLast((one) => one.offset <= place);
    const found: (Field & Range) | null = block ? fieldAt(block.parsed, place - block.offset) : null;
    if (!block || !found) continue;
    const { start, end, ...field } = found;
    return { field, at: { uri, start: block.offset + start, end: block.offset + end } };
  }
  return null;
}

/** Where a declaring word stands, in offsets of its file. */
export function placeOf(workspace: Workspace, target: Target): TextPlace {
  return new Places((uri) => workspace.source(uri)).place(target);
}

function senseOf(workspace: Workspace, result: FileResult, field: Field): Sense | null {
  const noted = notedOf(result.names, field);
  if (noted.length > 0) return ofThings(noted);
  return declaredBy(field, result) ?? named(workspace, result, field);
}

export function notedOf(names: readonly Names[], { node, property, index }: Field): Thing[] {
  const things: Thing[] = [];
  for (const one of names) {
    for (const { at, thing } of one.of(node)) {
      if (at.property === property && (at.index ?? 0) === (index ?? 0) && !things.some((known) => alike(known, thing)))
        things.push(thing);
    }
  }
  return things;
}

function alike(a: Thing, b: Thing): boolean {
  if (a.is === 'slot' && b.is === 'slot') return a.slot === b.slot;
  if (a.is === 'mount' && b.is === 'mount') return a.mount === b.mount;
  if (a.is === 'axis' && b.is === 'axis') return a.axis === b.axis;
  if (a.is === 'label' && b.is === 'label') return a.axis === b.axis && a.label === b.label;
  if (a.is === 'rule' && b.is === 'rule') return a.id === b.id;
  return a.is === b.is;
}

function ofThings(things: readonly Thing[]): Sense {
  const first = things[0]!;
  const declared = declaredIn(first);
  switch (first.is) {
    case 'slot':
      return { is: 'slot', name: first.draft.slots[first.slot]!.name, declared, things, slot: first.slot };
    case 'mount':
      return {
        is: 'mount',
        name: first.draft.mounts[first.mount]!.name || nameOf(declared?.at),
        declared,
        things,
        mount: first.mount,
      };
    case 'axis':
      return { is: 'axis', name: first.draft.axes[first.axis]!.name, declared, things, axis: first.axis };
    case 'label':
      return { is: 'label', name: first.label, declared, things, axis: first.axis };
    case 'choice':
      return { is: 'choice', name: first.name, declared, things };
    case 'rule':
      return { is: 'rule', name: nameOf(declared?.at), declared, things };
    default:
      return { is: first.is, name: nameOf(declared?.at), declared, things };
  }
}

function nameOf(node: AstNode | undefined): string {
  return (node as (AstNode & { name?: string }) | undefined)?.name ?? '';
}

/** Words that need no look at what is round them. */
function named(workspace: Workspace, result: FileResult, { node, property, index }: Field): Sense | null {
  const word = textOf(node, property, index);
  switch (`${node.$type}.${property}`) {
    case 'Extend.target':
    case 'Part.kind':
    case 'TypeName.name':
      return typeNamed(word, result);
    case 'PathStep.name':
      return isFirstInPractice(node) ? typeNamed(word, result) : null;
    case 'RefStep.name': {
      const isCall = (node as ast.RefStep).call !== undefined;
      return (isCall ? builtins : builtinValues).has(word) ? sense('builtin', word, null) : null;
    }
    case 'Quantity.unit':
    case 'Quantity.marginUnit':
    case 'List.unit':
    case 'List.to':
    case 'Shown.unit': {
      const of = result.ground.setting.library.unitDeclarations.find(({ item }) => item.name === word);
      return sense('unit', word, of ? { uri: of.uri, at: of.item, property: 'name' } : null);
    }
    case 'Part.base': {
      const seen = result.ground.setting.partsOf(result.uri).find(word);
      return seen ? sense('part', word, { uri: seen.uri, at: seen.item, property: 'name' }) : null;
    }
    case 'Variant.base':
      return buildNamed(word, result);
    case 'Use.path':
    case 'FromFile.file': {
      const found = workspace.resolve(result.uri, word);
      return 'uri' in found ? { ...sense('file', word, null), uri: found.uri } : null;
    }
    default:
      return null;
  }
}

function sense(is: Sort, name: string, declared: Target | null): Sense {
  return { is, name, declared, things: [] };
}

function typeNamed(word: string, result: FileResult): Sense | null {
  const { library } = result.ground.setting;
  const component = library.components.get(word);
  if (component) return sense('component', word, { uri: component.uri, at: component.item, property: 'name' });
  const measure = library.dimensionDeclarations.find(({ item }) => item.name === word);
  if (measure) return sense('measure', word, { uri: measure.uri, at: measure.item, property: 'name' });
  return library.measure(word) || ['Flag', 'Text', 'Date', 'Any'].includes(word) ? sense('measure', word, null) : null;
}

/** The nearest file speaks, as it does when variants are read. */
function buildNamed(word: string, result: FileResult): Sense | null {
  for (const { uri, items } of result.scope.files.toReversed()) {
    const item = items.find((one) => (one.$type === 'Build' || one.$type === 'Variant') && one.name === word);
    if (item) return sense('build', word, { uri, at: item, property: 'name' });
  }
  return null;
}

function isFirstInPractice(step: AstNode): boolean {
  const path = step.$container as ast.Path;
  const body = path.$container?.$container;
  return path.steps[0] === step && body?.$container?.$type === 'Practice';
}

export function textOf(node: AstNode, property: string, index?: number): string {
  const value = (node as unknown as Record<string, unknown>)[property];
  const one: unknown = Array.isArray(value) ? value[index ?? 0] : value;
  return typeof one === 'string' ? one : '';
}

export function isSame(target: Target, { node, property, index }: Field): boolean {
  return target.at === node && target.property === property && (target.index ?? 0) === (index ?? 0);
}
