/**
 * The one way a text is laid out. Lines stay lines; what changes is blanks, indentation and empty lines. Every word and comment is kept, which is
 * compared afterwards; a text with mistakes in it is refused, since nobody knows what belongs where. Knows no meaning.
 */
import { parseFile } from '../grammar/file.ts';
import { lineStart, positions } from '../grammar/positions.ts';
import { nameOf, type Token } from '../grammar/tokens.ts';
import { contentOf, piecesOf, type Piece } from './pieces.ts';
import { blanksBetween } from './spacing.ts';

export type Formatted = { readonly text: string } | { readonly refused: string };

/** `refused` says why in the reader's words, with line and column from 1. */
export function format(text: string): Formatted {
  const problem = parseFile('', text).problems.find(({ severity }) => severity === 'error');
  if (problem !== undefined) {
    const { line, column } = positions(text).at(problem.start);
    return { refused: `line ${line + 1}, column ${column + 1}: ${problem.message}` };
  }
  const formatted = new Layout(text).run();
  if (contentOf(formatted) !== contentOf(text))
    return { refused: 'laying this file out would change what it says: it is left as it is' };
  return { text: formatted };
}

const INDENT = 2;
/** As the design and the trade library write them. */
const GOES_ON = 2;

/** An open brace or bracket: how its line is indented, and the statement that it stands in. */
interface Opened {
  readonly name: string;
  readonly indent: number;
  readonly statement: number;
  /** By how many columns the bracket moves, or its line where it ends one. */
  readonly moved: number;
  /** Nothing follows it on its line. */
  readonly hanging: boolean;
}

class Layout {
  private readonly text: string;
  private readonly pieces: readonly Piece[];
  private readonly lineBreak: string;
  private readonly open: Opened[] = [];
  private out = '';
  /** Where the line begins in `out`, how it is indented, and how the statement is that it belongs to. */
  private lineAt = 0;
  private indent = 0;
  private statement = 0;

  constructor(text: string) {
    this.text = text;
    this.pieces = piecesOf(text);
    this.lineBreak = commonBreak(text);
  }

  run(): string {
    if (this.text.startsWith('\uFEFF')) this.out = '\uFEFF';
    this.lineAt = this.out.length;
    for (let i = 0; i < this.pieces.length; i += 1) this.place(i);
    return this.pieces.length === 0 ? this.out : this.out + this.lineBreak;
  }

  private place(i: number): void {
    const piece = this.pieces[i] as Piece;
    const before = this.pieces[i - 1];
    const name = piece.token === null ? '' : nameOf(piece.token);
    const pulledUp = name === '{' && before !== undefined && before.token !== null;
    if (before === undefined || (piece.breaks > 0 && !pulledUp)) this.newLine(piece, i, name);
    else this.out += this.blanks(piece, before, i);
    if (piece.begins) this.statement = this.indent;
    if (name === '{' || name === '[' || name === '(') this.opening(piece, name, i);
    else if (name === '}' || name === ']' || name === ')') this.statement = this.open.pop()?.statement ?? 0;
    this.write(piece.text);
  }

  private write(text: string): void {
    const broken = /[\r\n][^\r\n]*$/.exec(text);
    if (broken !== null) this.lineAt = this.out.length + broken.index + 1;
    this.out += text;
  }

  private newLine(piece: Piece, i: number, name: string): void {
    const before = this.pieces[i - 1];
    if (before !== undefined) {
      const closes = name === '}' || (before.token !== null && nameOf(before.token) === '{');
      this.out += this.lineBreak + (piece.breaks > 1 && !closes ? this.lineBreak : '');
    }
    this.lineAt = this.out.length;
    this.indent = this.indentOf(piece, i, name);
    this.out += ' '.repeat(this.indent);
  }

  private indentOf(piece: Piece, i: number, name: string): number {
    const opened = this.open.at(-1);
    if (opened !== undefined && opened.name !== '{') return this.indentInBrackets(piece, opened, name);
    const body = opened === undefined ? 0 : opened.indent + INDENT;
    if (name === '}') return opened?.indent ?? 0;
    return piece.begins || (piece.token === null && this.nextBegins(i)) ? body : this.statement + GOES_ON;
  }

  /** Rows of a list keep their place beside its bracket, or beside its line where the bracket ends it. */
  private indentInBrackets(piece: Piece, opened: Opened, name: string): number {
    if (opened.hanging && (name === ']' || name === ')')) return opened.indent;
    return Math.max(opened.indent + GOES_ON, this.columnBefore(piece) + opened.moved);
  }

  private columnBefore(piece: Piece): number {
    return piece.start - lineStart(this.text, piece.start);
  }

  private indentBefore(piece: Piece): number {
    const start = lineStart(this.text, piece.start);
    return /[^ \t\uFEFF]/.exec(this.text.slice(start, piece.start + 1))?.index ?? 0;
  }

  /** A comment on a line of its own belongs to what follows it. */
  private nextBegins(i: number): boolean {
    for (let at = i + 1; at < this.pieces.length; at += 1) {
      const { token, begins } = this.pieces[at] as Piece;
      if (token !== null) return begins || nameOf(token) === '}';
    }
    return true;
  }

  private opening(piece: Piece, name: string, i: number): void {
    const hanging = (this.pieces[i + 1]?.breaks ?? 1) > 0;
    const moved = hanging
      ? this.indent - this.indentBefore(piece)
      : this.out.length - this.lineAt - this.columnBefore(piece);
    this.open.push({ name, indent: this.indent, statement: this.statement, moved, hanging });
  }

  private blanks(piece: Piece, before: Piece, i: number): string {
    if (piece.token === null || before.token === null) return this.besideComment(piece, before);
    return blanksBetween({
      before: before.token,
      token: piece.token,
      earlier: this.wordAt(i - 2),
      next: this.wordAt(i + 1),
      newMember: piece.begins && !/^[,{}]$/.test(nameOf(before.token)),
    });
  }

  private wordAt(i: number): Token | undefined {
    return this.pieces[i]?.token ?? undefined;
  }

  /** Comments that stand in a column keep their distance. */
  private besideComment(piece: Piece, before: Piece): string {
    const gap = piece.start - (before.start + this.lengthOf(before));
    const lineComment = piece.token === null && piece.text.startsWith('//');
    return ' '.repeat(lineComment ? Math.max(1, gap) : Math.min(1, gap));
  }

  private lengthOf(piece: Piece): number {
    return piece.token === null ? piece.text.length : piece.token.image.length;
  }
}

/** The line break that the file has most of. */
function commonBreak(text: string): string {
  const two = text.match(/\r\n/g)?.length ?? 0;
  const lines = text.match(/\n/g)?.length ?? 0;
  return two * 2 > lines ? '\r\n' : '\n';
}
