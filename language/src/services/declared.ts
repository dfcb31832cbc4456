/** The word that declares a thing, and the thing that a declaring word declares. */
import type { AstNode } from 'langium';
import type { Field } from '../grammar/file.ts';
import type * as ast from '../grammar/generated/ast.ts';
import type { Laid, Thing } from '../semantics/problems/names.ts';
import type { Target } from '../semantics/problems/report.ts';
import type { FileResult } from '../semantics/project.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import type { AxisId } from '../semantics/types/type.ts';
import type { Sense, Sort } from './meaning.ts';

/** Null where nothing in a text declares it. */
export function declaredIn(thing: Thing): Target | null {
  switch (thing.is) {
    case 'slot':
      return nameIn(thing.draft.slots[thing.slot]?.origin);
    case 'mount':
      return nameIn(thing.draft.mounts[thing.mount]?.origin);
    case 'axis':
      return nameIn(thing.draft.axes[thing.axis]?.origin);
    case 'label':
      return labelIn(thing.draft, thing.axis, thing.label);
    case 'choice':
      return thing.type === null || thing.uri === null
        ? null
        : { uri: thing.uri, at: thing.type, property: 'choices', index: thing.type.choices.indexOf(thing.name) };
    case 'rule':
      return nameIn(thing.draft.rules.find(({ id }) => id === thing.id)?.origin);
    case 'local':
      return { uri: thing.uri, at: thing.declared, property: 'name' };
    default:
      return nameIn(thing.origin);
  }
}

function nameIn(origin: Origin | undefined): Target | null {
  return origin && 'name' in origin.at ? { uri: origin.uri, at: origin.at, property: 'name' } : null;
}

function labelIn(draft: Laid, axis: AxisId, label: string): Target | null {
  const found = draft.axes[axis]!;
  const { origin } = found.twinOf === null ? found : draft.axes[found.twinOf]!;
  if (origin.at.$type !== 'Axis') return null;
  const bound = (origin.at as ast.Axis).bounds.find((one) => one.$type === 'Ref' && one.steps[0]?.name === label);
  return bound?.$type === 'Ref' ? { uri: origin.uri, at: bound.steps[0]!, property: 'name' } : null;
}

const sorts: Readonly<Partial<Record<string, Sort>>> = {
  Component: 'component',
  DimensionDeclaration: 'measure',
  FunctionDeclaration: 'function',
  Rule: 'rule',
  UnitDeclaration: 'unit',
  Part: 'part',
  Build: 'build',
  Variant: 'build',
  Parameter: 'local',
  Local: 'local',
  Unknown: 'local',
  Axis: 'axis',
  Property: 'slot',
  Derive: 'slot',
};

/** What a word declares; null where it declares nothing. */
export function declaredBy({ node, property, index }: Field, result: FileResult): Sense | null {
  const at: Target = { uri: result.uri, at: node, property, index };
  if (node.$type === 'Type' && property === 'choices') {
    const type = node as ast.Type;
    return { is: 'choice', name: type.choices[index ?? 0] ?? '', declared: at, things: [] };
  }
  if (property !== 'name') return null;
  const { name } = node as AstNode & { name?: string };
  if (name === undefined) return null;
  if (node.$type === 'RefStep' && node.$container?.$container?.$type === 'Axis') return labelBy(node, name, at, result);
  const is = sorts[node.$type];
  if (!is) return null;
  const things = thingsAt(node, result);
  const [first] = things;
  const sense: Sense = { is, name, declared: at, things };
  if (first?.is === 'slot') return { ...sense, slot: first.slot };
  if (first?.is === 'axis') return { ...sense, axis: first.axis };
  if (first?.is === 'mount' && is !== 'component') return { ...sense, is: 'mount', mount: first.mount };
  return isMount(node, result) ? { ...sense, is: 'mount' } : sense;
}

function isMount(node: AstNode, result: FileResult): boolean {
  const of = node.$type === 'Property' ? (node as ast.Property).type?.of : undefined;
  return of?.$type === 'TypeName' && result.ground.setting.library.components.has(of.name);
}

function labelBy(node: AstNode, name: string, at: Target, result: FileResult): Sense | null {
  const { draft } = result.ground;
  const axis = draft.axes.find((one) => one.origin.at === node.$container?.$container);
  if (!axis?.labels?.includes(name)) return null;
  return {
    is: 'label',
    name,
    declared: at,
    things: [{ is: 'label', draft, axis: axis.id, label: name }],
    axis: axis.id,
  };
}

/** Every mount's own of what one declaration declares, in the file's schema or in that of its builds. */
function thingsAt(node: AstNode, result: FileResult): Thing[] {
  for (const laid of [result.ground.schema, ...result.outcomes.map(({ binding }) => binding.schema)]) {
    const found = thingsIn(laid, node);
    if (found.length > 0) return found;
  }
  return [];
}

function thingsIn(draft: Laid, node: AstNode): Thing[] {
  const here = ({ origin }: { readonly origin: Origin }): boolean => origin.at === node;
  return [
    ...draft.slots.filter(here).map(({ id }): Thing => ({ is: 'slot', draft, slot: id })),
    ...draft.mounts.filter(here).map(({ id }): Thing => ({ is: 'mount', draft, mount: id })),
    ...draft.axes.filter(here).map(({ id }): Thing => ({ is: 'axis', draft, axis: id })),
  ];
}
