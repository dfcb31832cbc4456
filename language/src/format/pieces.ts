/** A text as what the formatter moves about: words and comments in order, each with what the reader knows of its place. */
import { scan } from '../grammar/scanner.ts';
import { separate } from '../grammar/separators.ts';
import { nameOf, retype, type Token } from '../grammar/tokens.ts';

export interface Piece {
  readonly text: string;
  /** Null for a comment. */
  readonly token: Token | null;
  readonly start: number;
  /** Line breaks between the piece before and this one. */
  readonly breaks: number;
  /** First of a member, a clause or an entry; false within one. */
  readonly begins: boolean;
}

export function piecesOf(text: string): Piece[] {
  const { tokens, comments } = scan(text);
  const begins = statementStarts(tokens);
  const words = tokens.filter((token) => token.image !== '' && !isBreak(token));
  const places = [
    ...words.map((token) => ({ start: token.startOffset, end: token.startOffset + token.image.length, token })),
    ...comments.map(({ start, end }) => ({ start, end, token: null })),
  ].sort((a, b) => a.start - b.start);
  let end = 0;
  return places.map((place) => {
    const breaks = countBreaks(text, end, place.start);
    end = place.end;
    const written = text.slice(place.start, place.end);
    return {
      text: place.token === null ? written.replace(/[ \t]+$/gm, '') : written,
      token: place.token,
      start: place.start,
      breaks,
      begins: place.token !== null && begins.has(place.token),
    };
  });
}

/** What must not change: the words with the separators between them, and the comments. */
export function contentOf(text: string): string {
  const { tokens, comments } = scan(text);
  const words = separate(tokens).map((token) => (nameOf(token) === 'SEP' ? ';' : `${nameOf(token)} ${token.image}`));
  return JSON.stringify([words, comments.map(({ start, end }) => text.slice(start, end).replace(/[ \t]+$/gm, ''))]);
}

/** A `because` clause of a rule begins, though it may also be read as the end of the `expect` above it. */
function statementStarts(tokens: readonly Token[]): ReadonlySet<Token> {
  const starts = new Set<Token>();
  const heads: string[] = [];
  let head = '';
  let fresh = true;
  for (const token of separate(tokens)) {
    const name = nameOf(token);
    if (fresh && name !== 'SEP') head = name;
    if (name !== 'SEP' && name !== '}' && (fresh || (name === 'because' && heads.at(-1) === 'rule'))) starts.add(token);
    if (name === '{') heads.push(head);
    else if (name === '}') heads.pop();
    fresh = name === 'SEP' || name === '{';
    if (token.image === ',') retype(token, ',');
  }
  return starts;
}

function isBreak(token: Token): boolean {
  return /^[\r\n]/.test(token.image);
}

function countBreaks(text: string, from: number, to: number): number {
  let count = 0;
  for (let at = from; at < to; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 10 || (code === 13 && text.charCodeAt(at + 1) !== 10)) count += 1;
  }
  return count;
}
