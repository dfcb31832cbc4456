// Where a thing stands in its file, and its text there. Reads text positions only; never opens a file.
import type { AstNode } from 'langium';
import type { Place } from '@thou/shared/result/contract';
import type { Origin } from '../semantics/schema/schema.ts';

/** How a file is called in front of the reader; the command line makes it relative to the folder one stands in. */
export type FileName = (uri: string) => string;

/** File and line (from 1) of an origin; null where the text is not at hand. */
export function placeOf(origin: Origin | null, fileName: FileName): Place | null {
  const range = origin?.at.$cstNode?.range;
  return origin && range ? { file: fileName(origin.uri), line: range.start.line + 1 } : null;
}

export function placeInWords(place: Place | null): string {
  return place ? `${place.file}:${place.line}` : '';
}

/** The text of a piece of a file on one line, without its comments. */
export function textOf(at: AstNode | null | undefined): string | null {
  const text = at?.$cstNode?.text;
  return text === undefined ? null : onOneLine(text);
}

const stringOrComment = /("(?:[^"\\\n]|\\.)*")|\/\*[^]*?(?:\*\/|$)|\/\/[^\n]*/g;

export function onOneLine(text: string): string {
  return text
    .replace(stringOrComment, (_, string: string | undefined) => string ?? ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

/** A property of a piece of syntax that is itself one: `value` of a derive. */
export function partOf(at: AstNode, property: string): AstNode | null {
  const part = (at as unknown as Record<string, unknown>)[property];
  return isNode(part) ? part : null;
}

export function isNode(thing: unknown): thing is AstNode {
  return typeof thing === 'object' && thing !== null && typeof (thing as { $type?: unknown }).$type === 'string';
}

/** The nearest piece of this sort that holds it, itself included. */
export function enclosing(at: AstNode, sort: string): AstNode | null {
  for (let step: AstNode | undefined = at; step; step = step.$container) if (step.$type === sort) return step;
  return null;
}

/** Names as words: `deck-clearance` is `deck clearance`. */
export function words(name: string): string {
  return name.replaceAll('-', ' ');
}

export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(items: readonly string[], last = 'and'): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${last} ${items[items.length - 1]}`;
}

/** What stands after `Source:` in a doc comment, up to the next blank line. */
export function sourceLine(doc: string | undefined): string | null {
  const found = /(?:^|\n)\s*Source:\s*([^]*?)(?=\n\s*\n|$)/.exec(doc ?? '');
  return found ? found[1]!.replace(/\s+/g, ' ').trim() : null;
}

/** A doc comment without its source. */
export function docText(doc: string | undefined): string {
  return (doc ?? '').replace(/(?:^|\n)\s*Source:[^]*?(?=\n\s*\n|$)/, '').trim();
}
