/** One thing that may be written at a place, before it is put into the protocol's words; and what it becomes there. */
import type { CompletionItem, CompletionItemKind, Range } from 'vscode-languageserver-protocol';
import { toRange } from '../positions.ts';
import type { Positions } from '../../grammar/file.ts';
import { plain } from './snippets.ts';
import type { Word } from './probe.ts';

/** What an editor tells of itself. */
export interface Abilities {
  readonly snippets: boolean;
  readonly insertReplace: boolean;
  readonly markdown: boolean;
}

/** What to look up when the reader asks for more of an item. */
export interface Subject {
  readonly is: 'slot' | 'mount' | 'part' | 'builtin' | 'function' | 'component' | 'rule' | 'axis';
  readonly name: string;
}

export interface Offer {
  readonly label: string;
  readonly kind: CompletionItemKind;
  /** A snippet; the label where there is none. */
  readonly snippet?: string;
  readonly detail?: string;
  /** Small comes first. */
  readonly rank: number;
  readonly subject?: Subject;
  /** Another range than the word's, in offsets of the file. */
  readonly from?: number;
  readonly to?: number;
}

/** Lets other requests in between two pieces of work; throws where this one was given up. */
export type Breathe = () => Promise<void>;

export function itemOf(
  offer: Offer,
  order: number,
  word: Word,
  uri: string,
  positions: Positions,
  can: Abilities,
): CompletionItem {
  const start = offer.from ?? word.start;
  const replace = toRange(positions, { start, end: offer.to ?? word.end });
  const insert = toRange(positions, { start, end: word.at });
  const isSnippet = can.snippets && offer.snippet !== undefined && /(?<!\\)\$/.test(offer.snippet);
  const text = offer.snippet === undefined ? offer.label : isSnippet ? offer.snippet : plain(offer.snippet);
  return {
    label: offer.label,
    kind: offer.kind,
    sortText: `${offer.rank}${String(order).padStart(4, '0')}`,
    filterText: offer.label,
    textEdit:
      can.insertReplace && !same(insert, replace)
        ? { newText: text, insert, replace }
        : { newText: text, range: replace },
    ...(isSnippet ? { insertTextFormat: 2 as const } : {}),
    ...(offer.detail === undefined ? {} : { detail: offer.detail }),
    ...(offer.subject === undefined ? {} : { data: { uri, ...offer.subject } }),
  };
}

function same(a: Range, b: Range): boolean {
  return a.end.line === b.end.line && a.end.character === b.end.character;
}
