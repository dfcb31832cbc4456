/** A tree as text, fully bracketed, so that a test can say what a line is read as; and a tree as data, for comparing two readings. */
import type { AstNode } from 'langium';
import { parseFile, rangeOf, type SourceFile } from '../../../language/src/grammar/file.ts';

type Fields = Record<string, unknown>;
const fieldsOf = (node: AstNode): Fields => node as unknown as Fields;
const isNode = (value: unknown): value is AstNode => typeof value === 'object' && value !== null && '$type' in value;

/** Every field of every node, with its kind and its range. */
function treeOf(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(treeOf);
  if (!isNode(value)) return value;
  const own = Object.entries(fieldsOf(value)).filter(([name, field]) => !name.startsWith('$') && field !== undefined);
  return [value.$type, rangeOf(value), ...own.map(([name, field]) => [name, treeOf(field)])];
}

export function readingOf(file: SourceFile): unknown {
  return {
    blocks: file.blocks.map(({ offset, parsed }) => [offset, parsed.text, treeOf(parsed.item), parsed.problems]),
    problems: file.problems,
  };
}

/** The entry of a text that must be free of problems. */
export function entryOf(text: string): AstNode {
  const file = parseFile('test.thou', text);
  if (file.problems.length > 0)
    throw new Error(file.problems.map(({ code, message }) => `${code}: ${message}`).join('\n'));
  const item = file.blocks[0]?.parsed.item;
  if (item === undefined) throw new Error('the text has no entry');
  return item;
}

/** The members, declarations or clauses of the first entry, one text each. */
export function membersOf(text: string): string[] {
  return membersOfEntry(entryOf(text));
}

export function membersOfEntry(item: AstNode): string[] {
  const entry = fieldsOf(item);
  const body = entry['body'] as AstNode | undefined;
  const list = body === undefined ? (entry['clauses'] as AstNode[]) : Object.values(fieldsOf(body)).find(Array.isArray);
  return (list as AstNode[]).map(shape);
}

/** The value of `x: VALUE` in a build. */
export function valueOf(value: string): string {
  const [member = ''] = membersOf(`build b {\n  x: ${value}\n}`);
  return member.replace(/^x: /, '');
}

/** The formula of a derived value. */
export function formulaOf(formula: string): string {
  return shape(fieldsOf(entryOf(`derive x: Any = ${formula}`))['value'] as AstNode);
}

const all = (value: unknown, glue: string): string => ((value as AstNode[] | undefined) ?? []).map(shape).join(glue);
const some = (before: string, value: unknown, after = ''): string =>
  value === undefined ? '' : `${before}${isNode(value) ? shape(value) : (value as string)}${after}`;
const keyed = (value: unknown): string => ((value as AstNode[]).length === 0 ? '' : `[${all(value, ', ')}]`);
const listed = (before: string, value: unknown): string =>
  (value as AstNode[]).length === 0 ? '' : `${before}${all(value, ', ')}`;

const shapes: Record<string, (n: Fields) => string> = {
  Binary: (n) => `(${shape(n['left'])} ${String(n['operator'])} ${shape(n['right'])})`,
  TypeProduct: (n) => `(${shape(n['left'])} ${String(n['operator'])} ${shape(n['right'])})`,
  Prefixed: (n) => `(${String(n['operator'])} ${shape(n['operand'])})`,
  Power: (n) => `(${shape(n['base'])} ^ ${shape(n['exponent'])})`,
  TypePower: (n) => `(${shape(n['base'])} ^ ${String(n['exponent'])})`,
  TypeName: (n) => String(n['name']),
  Quantity: (n) =>
    `${String(n['number'])}${some(' ', n['unit'])}${some(' ', n['margin'])}${some(' ', n['marginUnit'])}`,
  Text: (n) => JSON.stringify(n['text']),
  Day: (n) => `day ${String(n['date'])}`,
  Paren: (n) => `{${shape(n['value'])}}${keyed(n['keys'])}`,
  If: (n) => `(if ${shape(n['condition'])} then ${shape(n['yes'])} else ${shape(n['no'])})`,
  FromFile: (n) => `from ${JSON.stringify(n['file'])}`,
  Repeated: (n) => `repeated ${shape(n['readings'])}`,
  Ref: (n) => all(n['steps'], '.'),
  RefStep: (n) => `${String(n['name'])}${some('', n['call'])}${keyed(n['keys'])}`,
  Call: (n) =>
    `(${all(n['args'], ', ')}${listed(' over ', n['over'])}${listed(' to ', n['to'])}${some(' where ', n['where'])}` +
    `${some(' of ', n['stock'])}${some(' over ', n['stockOver'])}${some(' by ', n['by'])})`,
  List: (n) =>
    `[${all(n['entries'], ', ')}]${some(' ', n['unit'])}${some(' -> ', n['to'])}${some(' by ', n['subject'])}`,
  Entry: (n) => `${shape(n['value'])}${some(': ', n['item'])}`,
  Solve: (n) => `solve ${all(n['unknowns'], ', ')} where ${all(n['equations'], ', ')} = ${all(n['rights'], ', ')}`,
  Unknown: (n) => `${String(n['name'])}: ${shape(n['type'])} ${String(n['word'])} ${shape(n['range'])}`,
  Path: (n) => all(n['steps'], '.'),
  PathStep: (n) => `${String(n['name'])}${keyed(n['keys'])}`,
  Body: (n) => `{${all(n['members'], '; ')}}`,
  Declarations: (n) => `{${all(n['declarations'], '; ')}}`,
  Given: (n) =>
    `${shape(n['path'])}${some(': ', n['value'])}${some(' step ', n['step'])}${some(' ', n['body'])}${listed(' | ', n['notes'])}`,
  Note: (n) =>
    `${some('on ', n['date'])}${some('with ', n['instrument'])}${some('by ', n['hand'])}${some('because ', n['reason'])}${some('', n['word'])}${some(' ', n['value'])}`,
  Machining: (n) => `machining${some(' ', n['label'])}${listed(' | ', n['notes'])} ${shape(n['body'])}`,
  Measured: (n) => `measured${some(' ', n['label'])}${listed(' | ', n['notes'])} ${shape(n['body'])}`,
  Expect: (n) => `expect ${shape(n['value'])}${some(' because ', n['reason'])}`,
  Accept: (n) => `accept ${shape(n['target'])} within ${shape(n['limits'])} because ${String(n['reason'])}`,
  When: (n) => `when ${shape(n['condition'])}`,
  Because: (n) => `because ${String(n['text'])}`,
  Adjust: (n) =>
    `adjust ${(n['targets'] as AstNode[]).map((t, i) => `${i > 0 ? `${String((n['links'] as string[])[i - 1])} ` : ''}${shape(t)}`).join(' ')}`,
  AdjustTarget: (n) => `${n['even'] === true ? 'even ' : ''}${shape(n['path'])}`,
  Derive: (n) => `derive ${String(n['name'])}: ${shape(n['type'])} = ${shape(n['value'])}${some(' ', n['where'])}`,
  Where: (n) => `where {${all(n['locals'], '; ')}}`,
  Local: (n) => `${String(n['name'])} = ${shape(n['value'])}`,
  Rule: (n) => `rule ${String(n['name'])}: ${String(n['severity'])} {${all(n['clauses'], '; ')}}`,
  Property: (n) =>
    `${String(n['name'])}: ${shape(n['type'])}${(n['features'] as string[]).map((f) => ` ${f}`).join('')}${listed(' changed-by ', n['changedBy'])}` +
    `${some(' measured by ', n['measuredBy'])}${some(' = ', n['value'])}${some(' ', n['body'])}`,
  Type: (n) =>
    `${(n['choices'] as string[]).join(' | ')}${some('', n['of'])}${n['limits'] === true ? ' limits' : ''}${listed(' against ', n['against'])}` +
    `${(n['axes'] as string[]).map((a) => ` per ${a}`).join('')}${n['optional'] === true ? '?' : ''}` +
    `${(n['shown'] as AstNode[]).length > 0 ? ` as ${all(n['shown'], ' / ')}` : ''}`,
  Shown: (n) => `${String(n['digits'])}${some(' ', n['unit'])}`,
  Axis: (n) =>
    `axis ${String(n['name'])}${some(' ', n['twinWord'])}${some(' ', n['twin'])}${(n['bounds'] as AstNode[]).length > 0 ? ` = ${all(n['bounds'], ' | ')}` : ''}${some(' step ', n['step'])}`,
  Use: (n) => `use${some(' ', n['path'])}${some(' ', n['what'])}${some(' ', n['edition'])}`,
  UnitDeclaration: (n) => `unit ${String(n['name'])}: ${shape(n['type'])}${some(' = ', n['value'])}`,
  DimensionDeclaration: (n) => `dimension ${String(n['name'])} = ${shape(n['type'])}`,
  FunctionDeclaration: (n) =>
    `function ${String(n['name'])}(${all(n['parameters'], ', ')}): ${shape(n['type'])} = ${shape(n['value'])}${some(' ', n['where'])}`,
  Parameter: (n) => `${String(n['name'])}: ${shape(n['type'])}`,
  Part: (n) => `part ${String(n['name'])}: ${String(n['kind'])}${some(' of ', n['base'])}${some(' ', n['body'])}`,
  Build: (n) => `build ${String(n['name'])} ${shape(n['body'])}`,
  Variant: (n) => `variant ${String(n['name'])} of ${String(n['base'])} ${shape(n['body'])}`,
  Practice: (n) => `practice ${String(n['label'])} ${shape(n['body'])}`,
  Component: (n) => `component ${String(n['name'])} ${shape(n['body'])}`,
  Extend: (n) => `extend ${String(n['target'])} ${shape(n['body'])}`,
};

export function shape(node: unknown): string {
  if (!isNode(node)) throw new Error(`a node is due, not ${String(node)}`);
  const write = shapes[node.$type];
  if (write === undefined) throw new Error(`no shape for ${node.$type}`);
  return write(fieldsOf(node));
}
