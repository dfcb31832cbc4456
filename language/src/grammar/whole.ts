/**
 * A tree without holes, whatever was typed: where a value is not finished, `unknown("…")` stands, so that its name stays known;
 * a member that cannot be completed is left out. Readers of the tree may rely on every field that its type promises.
 */
import { AstUtils, type AstNode } from 'langium';
import { reflection } from './generated/ast.ts';

/** Lists whose members stand alone: one that is not whole is left out of them. */
const STATEMENTS: ReadonlySet<string> = new Set(['items', 'members', 'declarations', 'clauses', 'locals', 'notes']);
/** Values that are replaced when they are not whole. */
const VALUES: ReadonlySet<string> = new Set([
  'Given.value',
  'Property.value',
  'Derive.value',
  'Local.value',
  'FunctionDeclaration.value',
  'UnitDeclaration.value',
  'When.condition',
]);
/** What may be dropped from its owner without changing what the rest says. */
const DROPPABLE: ReadonlySet<string> = new Set([
  'Given.step',
  'Given.body',
  'Property.body',
  'Property.measuredBy',
  'Part.body',
]);
const BODIES: ReadonlyMap<string, 'Body' | 'Declarations'> = new Map([
  ['Build', 'Body'],
  ['Variant', 'Body'],
  ['Practice', 'Body'],
  ['Machining', 'Body'],
  ['Measured', 'Body'],
  ['Component', 'Declarations'],
  ['Extend', 'Declarations'],
]);
/** Lists that hold one entry at least. */
const NOT_EMPTY: ReadonlySet<string> = new Set([
  'Path.steps',
  'Ref.steps',
  'Adjust.targets',
  'Solve.unknowns',
  'Solve.equations',
  'FunctionDeclaration.parameters',
  'Practice.label',
]);

type Fields = Record<string, unknown>;
interface Blank {
  $type: string;
  $cstNode?: AstNode['$cstNode'];
  [field: string]: unknown;
}

/** Mends the tree of a block with errors in it, in place. */
export function makeWhole(root: AstNode): void {
  mend(root);
  AstUtils.linkContentToContainer(root, { deep: true });
}

/** False where the node cannot be completed. */
function mend(node: AstNode): boolean {
  const fields = node as unknown as Fields;
  for (const [name, value] of Object.entries(fields)) {
    if (name.startsWith('$')) continue;
    if (Array.isArray(value)) {
      if (!mendList(fields, name, value)) return false;
    } else if (isNode(value) && !mend(value) && !replace(node, name)) return false;
  }
  return complete(node);
}

function mendList(fields: Fields, name: string, list: readonly unknown[]): boolean {
  const whole = list.filter((entry) => !isNode(entry) || mend(entry));
  if (whole.length === list.length) return !list.includes(undefined);
  if (!STATEMENTS.has(name)) return false;
  fields[name] = whole;
  return true;
}

function replace(node: AstNode, name: string): boolean {
  const place = `${node.$type}.${name}`;
  const fields = node as unknown as Fields;
  if (VALUES.has(place)) fields[name] = unfinishedValue(node);
  else if (DROPPABLE.has(place)) delete fields[name];
  else return false;
  return true;
}

/** Every field that the grammar demands is there. */
function complete(node: AstNode): boolean {
  const fields = node as unknown as Fields;
  for (const name of demanded(node.$type)) {
    if (fields[name] !== undefined && fields[name] !== '') continue;
    const body = name === 'body' ? BODIES.get(node.$type) : undefined;
    if (body !== undefined) fields[name] = blank(node, body, body === 'Body' ? { members: [] } : { declarations: [] });
    else if (!replace(node, name)) return false;
  }
  for (const place of NOT_EMPTY) {
    const [type, name = ''] = place.split('.');
    if (type === node.$type && Array.isArray(fields[name]) && fields[name].length === 0) return false;
  }
  return oneOf(node, fields);
}

/** Where the grammar has alternatives, one of them is there. */
function oneOf(node: AstNode, fields: Fields): boolean {
  switch (node.$type) {
    case 'Given':
      if (fields['value'] === undefined && fields['body'] === undefined) fields['value'] = unfinishedValue(node);
      return true;
    case 'Use':
      return fields['path'] !== undefined || (fields['what'] !== undefined && fields['edition'] !== undefined);
    case 'Axis':
      return fields['twin'] !== undefined || (fields['bounds'] as unknown[]).length > 0;
    case 'Type':
      return fields['of'] !== undefined || (fields['choices'] as unknown[]).length > 0;
    case 'Note':
      return ['date', 'instrument', 'hand', 'reason', 'value'].some((name) => fields[name] !== undefined);
    default:
      return true;
  }
}

const demandedFields = new Map<string, readonly string[]>();

function demanded(type: string): readonly string[] {
  let names = demandedFields.get(type);
  if (names === undefined) {
    const properties = Object.values(reflection.getTypeMetaData(type).properties);
    names = properties.filter((one) => !one.optional && one.defaultValue === undefined).map((one) => one.name);
    demandedFields.set(type, names);
  }
  return names;
}

function unfinishedValue(owner: AstNode): Blank {
  const text = blank(owner, 'Text', { text: 'this line is not finished' });
  const call = blank(owner, 'Call', { args: [text], over: [], to: [] });
  const step = blank(owner, 'RefStep', { name: 'unknown', call, keys: [] });
  return blank(owner, 'Ref', { steps: [step] });
}

function blank(owner: AstNode, $type: string, fields: Fields): Blank {
  return { $type, $cstNode: owner.$cstNode, ...fields };
}

function isNode(value: unknown): value is AstNode {
  return typeof value === 'object' && value !== null && '$type' in value;
}
