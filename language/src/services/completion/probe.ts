/**
 * What may stand at a place is asked of the grammar itself: a made-up word is put there, in each of the forms that a reader may be about to write,
 * and the trees in which the word survives tell what it would be. Knows no meaning.
 */
import type { AstNode } from 'langium';
import { nodesIn, type SourceFile } from '../../grammar/file.ts';
import type { Item } from '../../grammar/generated/ast.ts';
import { parseBlock } from '../../grammar/parser.ts';
import { scan } from '../../grammar/scanner.ts';
import { endOf, nameOf, type Token } from '../../grammar/tokens.ts';

/** No text has it: letters only, so that it may be a unit as well. */
export const PROBE = 'zqzqzq';

/** The word that is being written, in offsets of the file. */
export interface Word {
  readonly start: number;
  /** Where the reader stands in it. */
  readonly at: number;
  readonly end: number;
}

export interface Found {
  readonly node: AstNode;
  readonly property: string;
  readonly item: Item;
  /** The form in which the word was tried. */
  readonly form: Form;
}

export type Form = 'alone' | 'member' | 'note' | 'accept' | 'clause' | 'head' | 'key' | 'reason';

/** A day that nobody writes: it ends a figure without unit, which would else take the next word for one. */
export const PROBE_DATE = '0001-01-01';

/** A way to write a form, and what must stand before the word where it is worth a try; of `note` the first in which the word survives counts. */
const forms: readonly (readonly [Form, string, RegExp?])[] = [
  ['alone', PROBE],
  ['member', `${PROBE}: Length`],
  ['note', `${PROBE} 21 degC`],
  ['note', `on ${PROBE_DATE} ${PROBE} 21 degC`, /\d[ \t]+$/],
  ['note', `${PROBE} 21 degC { }`, /\b(?:measured|machining)\b[^{\n]*$/],
  ['reason', `${PROBE} because "-"`, /\baccept\b[^\n]*$/],
  ['accept', `${PROBE} within 1 because "-"`],
  ['clause', `when ${PROBE}`],
  ['head', `${PROBE} { }`],
  ['key', `${PROBE}] { }`, /\[[^\]\n]*$/],
  ['key', `${PROBE}]: _`, /\[[^\]\n]*$/],
];

/** What else a form would find is begun anew behind a statement that is not through. */
const meant: Partial<Record<Form, AstNode['$type']>> = { note: 'Note', reason: 'Quantity', key: 'RefStep' };
/** Where one of these is found the statement goes on: nothing begins there. */
const goingOn: ReadonlySet<Form> = new Set(['alone', 'reason']);

export interface Surroundings {
  readonly word: Word;
  /** Start and text of the block that the word stands in. */
  readonly base: number;
  readonly text: string;
  readonly tokens: readonly Token[];
  /** Braces open before the word. */
  readonly depth: number;
  readonly isInComment: boolean;
  /** The text in quotes that the place stands in. */
  readonly quoted: Token | null;
}

const WORD_BEFORE =
  /(?<![\w.])[A-Za-z_][\w-]*$|(?<=[\d.][ \t]*)[A-Za-zµμ°%][A-Za-z0-9°µμ*·/^²³%]*$|(?<=\.)[A-Za-z_][\w-]*$/;
const WORD_AFTER = /^[\w-]+/;

export function surroundings({ text, blocks }: SourceFile, offset: number): Surroundings {
  const block = blocks.findLast((one) => one.offset <= offset);
  const [base, own] = block ? [block.offset, block.parsed.text] : [0, text];
  const lineFrom = Math.max(text.lastIndexOf('\n', offset - 1), text.lastIndexOf('\r', offset - 1)) + 1;
  const before = WORD_BEFORE.exec(text.slice(lineFrom, offset))?.[0] ?? '';
  const after = before === '' && /\d/.test(text.charAt(offset)) ? '' : (WORD_AFTER.exec(text.slice(offset))?.[0] ?? '');
  const word = { start: offset - before.length, at: offset, end: offset + after.length };
  const { tokens, comments } = scan(own);
  const inBlock = offset - base;
  const isInComment = comments.some(
    ({ start, end }) => start < inBlock && (inBlock < end || (inBlock === end && own.startsWith('//', start))),
  );
  const quoted =
    tokens.find((token) => nameOf(token) === 'STRING' && token.startOffset < inBlock && inBlock < endOf(token)) ?? null;
  let depth = 0;
  for (const token of tokens) {
    if (token.startOffset >= word.start - base) break;
    if (nameOf(token) === '{') depth += 1;
    else if (nameOf(token) === '}') depth = Math.max(0, depth - 1);
  }
  return { word, base, text: own, tokens, depth, isInComment, quoted };
}

/** Everything that the word may be. The trees are made anew at every call: they may be changed. */
export function probe(place: Surroundings): Found[] {
  const found: Found[] = [];
  const has = (form: Form): boolean => found.some((one) => one.form === form);
  const before = place.text.slice(0, place.word.start - place.base);
  const line = before.slice(before.lastIndexOf('\n') + 1);
  for (const [form, written, after] of forms) {
    if (after && !after.test(line)) continue;
    if (form !== 'note' && [...goingOn].some(has)) continue;
    if (form === 'note' && has('note')) continue;
    const one = findIn(parseBlock(inserted(place, form, written)).item, form);
    if (one && (meant[form] ?? one.node.$type) === one.node.$type) found.push(one);
  }
  return found;
}

/** The block with `written` in the place of the word, and of the bracket that an editor closed behind it. */
function inserted({ text, word, base }: Surroundings, form: Form, written: string): string {
  const rest = text.slice(word.end - base);
  return text.slice(0, word.start - base) + written + (form === 'key' ? rest.replace(/^[ \t]*\]/, '') : rest);
}

function findIn(item: Item | undefined, form: Form): Found | null {
  if (!item) return null;
  for (const node of [item, ...nodesIn(item)])
    for (const [property, value] of Object.entries(node)) {
      if (property.startsWith('$')) continue;
      if (value === PROBE || (Array.isArray(value) && value.includes(PROBE))) return { node, property, item, form };
    }
  return null;
}
