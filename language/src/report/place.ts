// Where a thing stands in its file, its text there, and names as words. Never opens a file.
import type { AstNode } from 'langium';
import type { Place } from '@thou/shared/result/contract';
import type * as ast from '../grammar/generated/ast.ts';
import { isWritten, positions, sourceText, type Positions, type SourceFile } from '../grammar/file.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Origin, Slot } from '../semantics/schema/schema.ts';

/** The files that a report speaks of: how each is called in front of the reader, and where in it a thing stands. */
export interface Files {
  nameOf(uri: string): string;
  placeOf(origin: Origin | null): Place | null;
}

export function filesOf(source: (uri: string) => SourceFile | undefined, nameOf: (uri: string) => string): Files {
  const places = new Places(source);
  const lines = new Map<string, Positions>();
  return {
    nameOf,
    placeOf(origin) {
      if (origin === null || !isWritten(origin.at)) return null;
      const { uri, start } = places.place(origin);
      const known = lines.get(uri) ?? positions(source(uri)?.text ?? '');
      lines.set(uri, known);
      return { file: nameOf(uri), line: known.at(start).line + 1 };
    },
  };
}

export function placeInWords(place: Place | null): string {
  return place ? `${place.file}:${place.line}` : '';
}

/** The text of a piece of a file on one line, without its comments; null where the text is not at hand. */
export function textOf(at: AstNode | null | undefined): string | null {
  if (!at || !isWritten(at)) return null;
  const text = onOneLine(sourceText(at));
  return text === '' ? null : text;
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

/** The names that a formula's `where { … }` gives to its parts. */
export function localsOf({ origin }: Pick<Slot, 'origin'>): readonly AstNode[] {
  return origin.at.$type === 'Derive' ? ((origin.at as ast.Derive).where?.locals ?? []) : [];
}

/** The nearest piece of this sort that holds it, itself included. */
export function enclosing(at: AstNode, sort: string): AstNode | null {
  for (let step: AstNode | undefined = at; step; step = step.$container) if (step.$type === sort) return step;
  return null;
}

/** Names as words: `plate-width` is `plate width`. */
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
