/**
 * The commonest edit of all: another figure where one stood. The tree of the block is carried on with that figure in it, and what stands behind it
 * moves; everything that was found about the other nodes holds still. Any other edit is for the parser.
 */
import { CstUtils, type AstNode, type CompositeCstNode, type CstNode, type LeafCstNode } from 'langium';
import type { Quantity } from './generated/ast.ts';
import { keepBlock, type ParsedBlock } from './parser.ts';
import { lineEnd, lineStart } from './positions.ts';
import { scan } from './scanner.ts';
import { mendSlips, plainNumber } from './slips.ts';
import { endOf, nameOf, type Token } from './tokens.ts';

/** Entries whose readers look at their blocks, not only at their trees. */
const carried: ReadonlySet<string> = new Set(['Build', 'Variant']);

/** The block with its new text; null where more than one figure differs, or where the line may be read otherwise now. `known` is used up. */
export function withOtherFigure(known: ParsedBlock, text: string): ParsedBlock | null {
  const { item } = known;
  if (item === undefined || known.problems.length > 0 || !carried.has(item.$type)) return null;
  const root = item.$cstNode?.root;
  const figure = root && figureAt(root, changedAt(known.text, text));
  if (!figure) return null;
  const image = newImage(known.text, text, figure);
  if (image === null) return null;
  const { quantity } = figure;
  move(root, figure, text, image.length - figure.leaf.length);
  quantity.number = plainNumber(image);
  const block: ParsedBlock = { text, item, problems: [], before: { block: new WeakRef(known), figure: quantity } };
  keepBlock(item.$container, block);
  return block;
}

interface Figure {
  readonly leaf: LeafCstNode;
  readonly quantity: Quantity;
}

function changedAt(before: string, after: string): number {
  let at = 0;
  while (at < before.length && before.charCodeAt(at) === after.charCodeAt(at)) at += 1;
  return at;
}

/** The figure at an offset, or the one that ends there. */
function figureAt(root: CstNode, offset: number): Figure | null {
  for (const at of [offset, offset - 1]) {
    const leaf = CstUtils.findLeafNodeAtOffset(root, at);
    if (leaf?.tokenType.name !== 'NUMBER') continue;
    const node: AstNode = leaf.astNode;
    return node.$type === 'Quantity' ? { leaf, quantity: node as Quantity } : null;
  }
  return null;
}

/** The figure as it is written now, where it is all that differs and its line is made of the same words otherwise. */
function newImage(before: string, after: string, { leaf }: Figure): string | null {
  const longer = after.length - before.length;
  if (!after.startsWith(before.slice(0, leaf.offset)) || !after.endsWith(before.slice(leaf.end))) return null;
  if (leaf.length + longer <= 0) return null;
  const old = wordsOfLine(before, leaf.offset);
  const now = wordsOfLine(after, leaf.offset);
  if (old === null || now?.length !== old.length) return null;
  const at = old.findIndex(({ startOffset }) => startOffset === leaf.offset);
  const isSame = now.every((word, i) => nameOf(word) === nameOf(old[i]) && (i === at || word.image === old[i]!.image));
  const [was, is] = [old[at], now[at]];
  if (!isSame || !was || !is || endOf(was) !== leaf.end || endOf(is) !== leaf.end + longer) return null;
  return is.startOffset === leaf.offset ? is.image : null;
}

/** The words of the line round an offset; null where something is wrong with one. Offsets count from the start of the block. */
function wordsOfLine(text: string, offset: number): Token[] | null {
  const start = lineStart(text, offset);
  const line = text.slice(start, lineEnd(text, offset));
  const { tokens, problems } = scan(line);
  const words = mendSlips(line, tokens, problems);
  if (problems.length > 0) return null;
  for (const word of words) word.startOffset += start;
  return words;
}

interface Movable {
  _offset: number;
  _length: number;
  _startLine: number;
  _startColumn: number;
  _endColumn: number;
}

/** Nothing in the parser kit moves a tree: places are written where it keeps them. */
function move(root: CstNode, { leaf }: Figure, text: string, longer: number): void {
  (root as unknown as { _text: string })._text = text;
  if (longer === 0) return;
  const figure = leaf as unknown as Movable;
  const { _offset: from, _startLine: line } = figure;
  const visit = (node: CstNode): void => {
    if (isComposite(node)) {
      (node as unknown as { _rangeCache: undefined })._rangeCache = undefined;
      for (let i = node.content.length - 1; i >= 0; i -= 1) {
        const inside = node.content[i]!;
        visit(inside);
        if (inside.offset <= from) return;
      }
      return;
    }
    const place = node as unknown as Movable;
    if (place._offset <= from) return;
    place._offset += longer;
    if (place._startLine !== line) return;
    place._startColumn += longer;
    place._endColumn += longer;
  };
  visit(root);
  figure._length += longer;
  figure._endColumn += longer;
}

function isComposite(node: CstNode): node is CompositeCstNode {
  return 'content' in node;
}
