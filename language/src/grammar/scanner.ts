/**
 * Text to words, figures, units and signs, in one pass whose work is proportional to the text. Comments are set aside.
 * Every new line is kept: which of them count is settled by the separators. Knows nothing of rules or names.
 */
import { kindOf, kinds, reservedWords, type Token, type TokenKind } from './tokens.ts';
import { textError, type TextProblem } from './problem.ts';
import { lineEnd } from './positions.ts';
import { pastedCharacter } from './slips.ts';

export interface Comment {
  readonly start: number;
  readonly end: number;
}
export interface Scan {
  readonly tokens: Token[];
  readonly comments: readonly Comment[];
  readonly problems: TextProblem[];
}

const NAME = /[A-Za-z_][A-Za-z0-9_]*(?:-[A-Za-z0-9_]+)*/y;
const DATE = /\d{4}-\d{2}-\d{2}(?![\d-])/y;
const MIXED = /\d+ +\d+\/\d+(?!\d|\.\d)/y;
const FRACTION = /\d+\/\d+(?!\d|\.\d)(?![ \t]*\^)/y;
const DECIMAL = /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?/y;
const MARGIN = /\+(?:\d+(?:\.\d+)?|\.\d+)[ \t]*\/[ \t]*-[ \t]*(?:\d+(?:\.\d+)?|\.\d+)/y;
const STRING = /"(?:[^"\\\r\n]|\\[^\r\n])*"?/y;
const BLANK = /[ \t\f\v\uFEFF]+/y;
const SIGN = /\.\.|->|<=|>=|==|!=|\+-|[-±+*/^=<>|{}(),?:.[\]]/y;
const FACTOR = '[A-Za-zµμ°%Ω€£$][A-Za-z0-9°µμ]*(?:-[A-Za-z]+)*(?:\\^-?\\d+|[²³⁴])?';
const UNIT = new RegExp(`(?:1(?=/)|${FACTOR})(?:[*·/](?:${FACTOR}|\\(${FACTOR}(?:[*·]${FACTOR})*\\)))*`, 'y');

/** Words that follow a figure and are no unit: what a machining does to a property. */
const FEATURES: ReadonlySet<string> = new Set(['grows', 'falls', 'bought', 'set', 'ticked']);
const TAKES_UNIT: ReadonlySet<string> = new Set(['NUMBER', ']', 'MARGIN', '->', 'unit']);

export function scan(text: string): Scan {
  return new Scanner(text).run();
}

class Scanner {
  private readonly text: string;
  private at = 0;
  private line = 1;
  private lineStart = 0;
  private previous: Token | undefined;
  private readonly tokens: Token[] = [];
  private readonly comments: Comment[] = [];
  private readonly problems: TextProblem[] = [];

  constructor(text: string) {
    this.text = text;
  }

  run(): Scan {
    while (this.at < this.text.length) this.step();
    return { tokens: this.tokens, comments: this.comments, problems: this.problems };
  }

  private step(): void {
    const code = this.text.charCodeAt(this.at);
    if (code === 10 || code === 13) return this.newLine(code);
    const blank = this.match(BLANK);
    if (blank !== null) {
      this.at += blank.length;
      return;
    }
    if (code === 47 && this.comment()) return;
    const unit = this.unit();
    if (unit !== null) return this.push('UNIT', unit);
    if (code === 34) return this.quoted();
    const number = this.number(code);
    if (number !== null) return this.push(number.kind, number.image);
    const name = this.match(NAME);
    if (name !== null) return this.push(reservedWords.has(name) ? name : 'ID', name);
    const sign = this.match(SIGN);
    if (sign !== null) return this.push(sign, sign);
    this.unknown();
  }

  private match(pattern: RegExp): string | null {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text);
    return found === null ? null : found[0];
  }

  private push(name: string, image: string, length = image.length): void {
    const kind: TokenKind = kinds.get(name) ?? kindOf('ID');
    const column = this.at - this.lineStart + 1;
    const token: Token = {
      image,
      startOffset: this.at,
      endOffset: this.at + image.length - 1,
      startLine: this.line,
      endLine: this.line,
      startColumn: column,
      endColumn: column + image.length - 1,
      tokenType: kind,
      tokenTypeIdx: kind.tokenTypeIdx ?? -1,
    };
    this.tokens.push(token);
    this.previous = token;
    this.at += length;
  }

  private newLine(code: number): void {
    this.push('SEP', code === 13 && this.text.charCodeAt(this.at + 1) === 10 ? '\r\n' : this.text.charAt(this.at));
    this.line += 1;
    this.lineStart = this.at;
  }

  private comment(): boolean {
    const next = this.text.charCodeAt(this.at + 1);
    if (next !== 47 && next !== 42) return false;
    const start = this.at;
    if (next === 47) {
      this.at = lineEnd(this.text, start);
    } else {
      const close = this.text.indexOf('*/', start + 2);
      if (close < 0) this.problems.push(unclosedComment(start));
      this.at = close < 0 ? this.text.length : close + 2;
      this.countLines(start, this.at);
    }
    this.comments.push({ start, end: this.at });
    return true;
  }

  private countLines(start: number, end: number): void {
    for (let i = start; i < end; i += 1) {
      const code = this.text.charCodeAt(i);
      if (code === 10 || (code === 13 && this.text.charCodeAt(i + 1) !== 10)) {
        this.line += 1;
        this.lineStart = i + 1;
      }
    }
  }

  /** A unit stands right behind a figure, a list, a margin, `->` or the word `unit`, on the same line, and is no word of the language. */
  private unit(): string | null {
    const before = this.previous;
    if (before === undefined || !TAKES_UNIT.has(before.tokenType.name)) return null;
    if (before.tokenType.name === 'NUMBER' && this.tokens.at(-2)?.tokenType.name === '^') return null;
    if (before.tokenType.name === 'NUMBER' && before.endOffset === this.at - 1 && this.text.charCodeAt(this.at) === 34)
      return '"';
    const unit = this.match(UNIT);
    if (unit === null) return null;
    const name = this.match(NAME);
    if (name === null) return unit;
    if (reservedWords.has(name) || FEATURES.has(name)) return null;
    if (name === 'at' && /^at[ \t]+-?[\d.]/.test(this.text.slice(this.at, this.at + 12))) return null;
    // `8 HB-6125` is a name; no unit has a dash before a figure
    return name.length > unit.length ? null : unit;
  }

  private number(code: number): { kind: string; image: string } | null {
    const before = this.previous?.tokenType.name;
    if (code === 43) {
      const margin = before === 'NUMBER' || before === 'UNIT' ? this.match(MARGIN) : null;
      return margin === null ? null : { kind: 'MARGIN', image: margin };
    }
    if (code !== 46 && (code < 48 || code > 57)) return null;
    const date = this.match(DATE);
    if (date !== null) return { kind: 'DATE', image: date };
    const mixed = this.match(MIXED);
    if (mixed !== null) return { kind: 'NUMBER', image: mixed };
    const fraction = before === '*' || before === '/' || before === '^' ? null : this.match(FRACTION);
    const image = fraction ?? this.match(DECIMAL);
    return image === null ? null : { kind: 'NUMBER', image };
  }

  private quoted(): void {
    const image = this.match(STRING) ?? '"';
    if (image.length < 2 || !image.endsWith('"') || escapedQuote(image))
      this.problems.push(unclosedText(this.at, image.length));
    this.push('STRING', image);
  }

  private unknown(): void {
    const found = pastedCharacter(this.text, this.at);
    const last = this.problems.at(-1);
    if (last?.code === 'syntax.unknown-character' && last.end === this.at && found.reads === null) {
      this.problems[this.problems.length - 1] = { ...last, end: this.at + found.length };
    } else {
      this.problems.push(found.problem);
    }
    if (found.reads !== null) this.push(found.reads.kind, found.reads.image, found.length);
    else this.at += found.length;
  }
}

/** `"abc\"`: the last quote belongs to the text. */
function escapedQuote(image: string): boolean {
  const slashes = /\\*(?="$)/.exec(image);
  return slashes !== null && slashes[0].length % 2 === 1;
}

function unclosedComment(start: number): TextProblem {
  return textError(
    'syntax.unclosed-comment',
    'this comment is never closed: everything behind it is left out. Write */ where it ends',
    start,
    start + 2,
  );
}

function unclosedText(start: number, length: number): TextProblem {
  return textError(
    'syntax.unclosed-text',
    'this text is never closed: a text ends with " on the line where it begins',
    start,
    start + length,
    {
      title: 'Close the text at the end of the line',
      edits: [{ start: start + length, end: start + length, text: '"' }],
    },
  );
}
