/**
 * Trees of texts that do not change, made beforehand: read back without reading the text. A ready tree looks like a read
 * one; only where somebody asks for the place of a single word is its block read after all, and the two laid beside each
 * other. Only texts without a problem are made ready.
 */
import type { AstNode, CstNode } from 'langium';
import { blockStarts } from './blocks.ts';
import type { File, Item } from './generated/ast.ts';
import { blockOfTree, keepBlock, parseBlock, type ParsedBlock } from './parser.ts';
import type { SourceFile } from './file.ts';

/** A node as it is kept: where it begins and ends in its block, its sort, then what stands in it. */
export interface Packed {
  readonly at: readonly [number, number];
  readonly sort: string;
  readonly holds: Readonly<Record<string, unknown>>;
}

/** One entry a block; null where the block holds nothing. */
export interface ReadyFile {
  readonly blocks: readonly (Packed | null)[];
}

type Fields = Record<string, unknown>;

/** As `parseFile` of the same text, when the ready form was made of it. */
export function unpacked(uri: string, text: string, ready: ReadyFile): SourceFile {
  const starts = blockStarts(text, 0);
  const blocks = starts.map((offset, i) => {
    const own = text.slice(offset, starts[i + 1] ?? text.length);
    const kept = ready.blocks[i] ?? null;
    return { offset, parsed: kept === null ? { text: own, item: undefined, problems: [] } : readyBlock(own, kept) };
  });
  return { uri, text, blocks, problems: [] };
}

function readyBlock(text: string, kept: Packed): ParsedBlock {
  const root = new ReadyNode('File', [0, text.length]) as unknown as File & Fields;
  const item = unpack(kept, root, 'items', 0) as Item;
  root['items'] = [item];
  const block: ParsedBlock = { text, item, problems: [] };
  keepBlock(root, block);
  return block;
}

function unpack({ at, sort, holds }: Packed, container: object, property: string, index?: number): AstNode {
  const node = new ReadyNode(sort, at);
  const fields = node as unknown as Fields;
  fields['$container'] = container;
  fields['$containerProperty'] = property;
  if (index !== undefined) fields['$containerIndex'] = index;
  for (const name in holds) {
    const value = holds[name];
    fields[name] = Array.isArray(value)
      ? value.map((one, place) => (isPacked(one) ? unpack(one, node, name, place) : (one as unknown)))
      : isPacked(value)
        ? unpack(value, node, name)
        : value;
  }
  return node;
}

function isPacked(value: unknown): value is Packed {
  return typeof value === 'object' && value !== null && 'holds' in value;
}

const range = Symbol('where it stands in its block');

class ReadyNode implements AstNode {
  readonly $type: string;
  readonly [range]: readonly [number, number];

  constructor(sort: string, at: readonly [number, number]) {
    this.$type = sort;
    this[range] = at;
  }

  /** The syntax under the node: its block is read for it. */
  get $cstNode(): CstNode {
    return readOf(this).$cstNode!;
  }
}

/** Where a ready node stands in its block; null for any other. */
export function readyRange(node: AstNode): { readonly start: number; readonly end: number } | null {
  if (!(node instanceof ReadyNode)) return null;
  const [start, end] = node[range];
  return { start, end };
}

/** The ready node that stands for a node which was read for it; any other is itself. */
export function readyFor(node: AstNode): AstNode {
  return readyOf.get(node) ?? node;
}

const readOnce = new WeakMap<AstNode, AstNode>();
const readyOf = new WeakMap<AstNode, AstNode>();

function readOf(node: AstNode): AstNode {
  const known = readOnce.get(node);
  if (known) return known;
  let root: AstNode = node;
  while (root.$container) root = root.$container;
  layBeside(root, parseBlock(blockOfTree(root)!.text).item!.$container);
  return readOnce.get(node)!;
}

function layBeside(ready: AstNode, read: AstNode): void {
  readOnce.set(ready, read);
  readyOf.set(read, ready);
  for (const [name, held] of fieldsOf(ready)) {
    const other = (read as unknown as Fields)[name];
    if (isNode(held) && isNode(other)) layBeside(held, other);
    else if (Array.isArray(held) && Array.isArray(other))
      held.forEach((one: unknown, place) => {
        const beside: unknown = other[place];
        if (isNode(one) && isNode(beside)) layBeside(one, beside);
      });
  }
}

/** What stands in a node, by name. */
export function fieldsOf(node: AstNode): [string, unknown][] {
  return Object.entries(node).filter(([name]) => !name.startsWith('$'));
}

export function isNode(value: unknown): value is AstNode {
  return typeof value === 'object' && value !== null && '$type' in value;
}
