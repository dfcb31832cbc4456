/** From a node of the tree back to the text: its range, its words, the `///` text above it. Offsets count from the start of the block. */
import { AstUtils, CstUtils, GrammarUtils, type AstNode } from 'langium';
import { lineAboveEnd, lineStart } from './positions.ts';
import { blockOfTree, type ParsedBlock } from './parser.ts';
import { readyFor, readyRange } from './ready.ts';

export interface Range {
  readonly start: number;
  readonly end: number;
}
/** A field of a node; `index` where the field is a list. */
export interface Field {
  readonly node: AstNode;
  readonly property: string;
  readonly index?: number;
}

/** Where a node, or one field of it, stands in its block. A field that is not written has the range of its node. */
export function rangeOf(place: AstNode | Field): Range {
  if (isNode(place)) return rangeOfNode(place);
  const found = GrammarUtils.findNodeForProperty(place.node.$cstNode, place.property, place.index);
  return found === undefined ? rangeOfNode(place.node) : { start: found.offset, end: found.end };
}

function rangeOfNode(node: AstNode): Range {
  const ready = readyRange(node);
  if (ready !== null) return ready;
  const own = node.$type === 'Binary' || node.$type === 'TypeProduct' ? operands(node) : null;
  if (own !== null) return own;
  const written = node.$cstNode;
  return written === undefined ? { start: 0, end: 0 } : { start: written.offset, end: written.end };
}

/** The parts of `a + b * c` share the syntax of the whole: `b * c` reaches from its left operand to its right one. */
function operands(node: AstNode): Range | null {
  const { left, right } = node as AstNode & { left?: AstNode; right?: AstNode };
  return left === undefined || right === undefined
    ? null
    : { start: rangeOfNode(left).start, end: rangeOfNode(right).end };
}

/** The word at an offset of a block, as the field of a node that it fills; null between words. */
export function fieldAt(block: ParsedBlock, offset: number): (Field & Range) | null {
  const root = block.item?.$cstNode?.root;
  const leaf = root && CstUtils.findLeafNodeAtOffset(root, offset);
  if (!leaf || leaf.hidden) return null;
  const assignment = GrammarUtils.findAssignment(leaf);
  if (!assignment) return null;
  const node = readyFor(leaf.astNode);
  const property = assignment.feature;
  const all = GrammarUtils.findNodesForProperty(node.$cstNode, property);
  const index = all.findIndex((one) => one.offset <= leaf.offset && leaf.end <= one.end);
  const value = (node as unknown as Record<string, unknown>)[property];
  // words such as `if` and `by` belong to the node round them, and fill no field
  const filled: unknown = Array.isArray(value) ? value[index] : value;
  if (index < 0 || filled === undefined || typeof filled === 'object') return null;
  return { node, property, index, start: leaf.offset, end: leaf.end };
}

/** The block that a node belongs to; the file knows where the block stands. */
export function blockRootOf(node: AstNode): ParsedBlock {
  const block = blockOfTree(AstUtils.findRootNode(node));
  if (block === undefined) throw new Error('this node was not read from a block');
  return block;
}

/** False for a block whose tree was carried on into another one, see figure-edit.ts. */
export function isCurrent(block: ParsedBlock): boolean {
  const root = block.item?.$container;
  return root === undefined || blockOfTree(root) === block;
}

/** False for a node that stands for something left out. */
export function isWritten(node: AstNode): boolean {
  return readyRange(node) !== null || node.$cstNode !== undefined;
}

/** The words of a node as they were typed. */
export function sourceText(node: AstNode): string {
  const { start, end } = rangeOf(node);
  return blockRootOf(node).text.slice(start, end);
}

/** The `///` lines right above a node, without their marks; undefined where there are none. */
export function docOf(node: AstNode): string | undefined {
  const { text } = blockRootOf(node);
  const lines: string[] = [];
  let end = lineStart(text, rangeOf(node).start);
  while (end > 0) {
    const start = lineStart(text, lineAboveEnd(text, end));
    const line = /^[ \t]*\/\/\/(?!\/) ?(.*?)[ \t]*$/.exec(text.slice(start, lineAboveEnd(text, end)));
    if (line === null) break;
    lines.unshift(line[1] ?? '');
    end = start;
  }
  return lines.length === 0 ? undefined : lines.join('\n');
}

/** Everything inside a node, itself left out. */
export function nodesIn(node: AstNode): Iterable<AstNode> {
  return AstUtils.streamAllContents(node);
}

function isNode(place: AstNode | Field): place is AstNode {
  return '$type' in place;
}
