/** The words and signs of the language, read off the generated grammar, and how one of them is made. Knows no rule of the grammar. */
import { DefaultTokenBuilder, type LexerResult } from 'langium';
import { ThouGrammar } from './generated/grammar.ts';

export type Token = LexerResult['tokens'][number];
export type TokenKind = Token['tokenType'];

/** No word is looked for in a text here, so none needs to know which longer one it may be the beginning of. */
class KindBuilder extends DefaultTokenBuilder {
  protected override findLongerAlt(): TokenKind[] {
    return [];
  }
}

/** Chevrotain numbers token kinds as they are made, so the kinds are made once and shared by every parser. */
export const kinds: ReadonlyMap<string, TokenKind> = makeKinds();

function makeKinds(): Map<string, TokenKind> {
  const built = new KindBuilder().buildTokens(ThouGrammar());
  if (!Array.isArray(built)) throw new Error('the token builder is due to give a plain list');
  return new Map(built.map((kind) => [kind.name, kind]));
}

export function kindOf(name: string): TokenKind {
  const kind = kinds.get(name);
  if (!kind) throw new Error(`the grammar has no ${name}`);
  return kind;
}

/** Words that may name nothing: every keyword of the grammar that looks like a name. */
export const reservedWords: ReadonlySet<string> = new Set([...kinds.keys()].filter((name) => /^[a-z]/.test(name)));

/** Words that start an entry of a file. */
export const itemWords: ReadonlySet<string> = new Set([
  'use',
  'unit',
  'dimension',
  'axis',
  'component',
  'extend',
  'derive',
  'function',
  'rule',
  'part',
  'build',
  'variant',
  'practice',
]);

/** Words that start a member of a body, a declaration or a clause. */
export const memberWords: ReadonlySet<string> = new Set([
  'machining',
  'measured',
  'expect',
  'accept',
  'derive',
  'rule',
  'when',
  'because',
  'adjust',
  'axis',
]);

/** A set of words and signs, written with blanks between them. */
export function wordSet(words: string): ReadonlySet<string> {
  return new Set(words.trim().split(/\s+/));
}

export function nameOf(token: Token | undefined): string {
  return token === undefined ? '' : token.tokenType.name;
}

export function endOf(token: Token): number {
  return token.startOffset + token.image.length;
}

export function retype(token: Token, name: string): void {
  const kind = kindOf(name);
  token.tokenType = kind;
  token.tokenTypeIdx = kind.tokenTypeIdx ?? -1;
}

/** A token of no length just before `place`: what the filter adds to the text. */
export function insertedBefore(place: Token, name: string): Token {
  return inserted(place.startOffset, place.startLine ?? 1, place.startColumn ?? 1, name);
}

/** A token of no length just behind `place`. */
export function insertedBehind(place: Token, name: string): Token {
  return inserted(endOf(place), place.endLine ?? 1, (place.endColumn ?? 0) + 1, name);
}

/** What a word made up by the repairs is written as: no text has this character in it. */
export const STAND_IN = '\0';

/** A made-up word in the place of `place`. It is one character long: the parser drops what has no length. */
export function standIn(place: Token, name: string): Token {
  const kind = kindOf(name);
  const column = place.startColumn ?? 1;
  return {
    ...place,
    image: STAND_IN,
    endOffset: place.startOffset,
    endColumn: column,
    tokenType: kind,
    tokenTypeIdx: kind.tokenTypeIdx ?? -1,
  };
}

function inserted(offset: number, line: number, column: number, name: string): Token {
  const kind = kindOf(name);
  return {
    image: '',
    startOffset: offset,
    endOffset: offset - 1,
    startLine: line,
    endLine: line,
    startColumn: column,
    endColumn: column - 1,
    tokenType: kind,
    tokenTypeIdx: kind.tokenTypeIdx ?? -1,
  };
}
