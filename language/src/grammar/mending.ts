/**
 * Braces and brackets that do not match, mended before the parser sees them, one message each. In a text whose brackets match nothing is touched.
 * Where a closing one is missing is judged by indentation, as a person would. Knows brackets and lines, and where a member begins.
 */
import { bracketsMatch, CLOSER, surpluses } from './brackets.ts';
import { ENDS_VALUE, headAt, memberWordAt, pathEnd, startsMember } from './heads.ts';
import { textError, type TextProblem } from './problem.ts';
import { endOf, insertedBehind, itemWords, nameOf, retype, type Token } from './tokens.ts';

/** After so many mistakes nobody counts brackets any more: the rest is dropped or closed without looking for the best place. */
const MOST_SEARCHES = 50;

export function mendBrackets(tokens: readonly Token[], problems: TextProblem[]): readonly Token[] {
  return bracketsMatch(tokens) ? tokens : new Mending(tokens, problems, surpluses(tokens)).run();
}

interface Opened {
  readonly token: Token;
  readonly indent: number;
}

class Mending {
  private readonly source: readonly Token[];
  private readonly problems: TextProblem[];
  private readonly out: Token[] = [];
  private readonly open: Opened[] = [];
  /** Column of the first word of each line. */
  private readonly indents = new Map<number, number>();
  private readonly surpluses: ReadonlyMap<string, number>;
  private missingClosers: number;
  private missingOpeners: number;
  private searches = 0;

  constructor(source: readonly Token[], problems: TextProblem[], surpluses: ReadonlyMap<string, number>) {
    this.source = source;
    this.problems = problems;
    this.surpluses = surpluses;
    this.missingClosers = Math.max(0, this.surplus('{'));
    this.missingOpeners = Math.max(0, -this.surplus('{'));
    for (const token of source) {
      const line = token.startLine ?? 1;
      if (nameOf(token) !== 'SEP' && !this.indents.has(line)) this.indents.set(line, token.startColumn ?? 1);
    }
  }

  run(): Token[] {
    for (let i = 0; i < this.source.length; i += 1) this.take(i);
    while (this.open.length > 0) this.closeTop();
    return this.out;
  }

  private surplus(opener: string): number {
    return this.surpluses.get(opener) ?? 0;
  }

  private top(): string {
    return nameOf(this.open.at(-1)?.token);
  }

  private take(i: number): void {
    const token = this.source[i] as Token;
    const name = token.tokenType.name;
    if (name !== 'SEP' && this.beginsLine(i)) this.beginLine(token, i);
    if (name === '{') this.closeBrackets();
    if (CLOSER.has(name)) this.open.push({ token, indent: this.indentOf(token) });
    else if (name === '}') return this.closingBrace(token, i);
    else if (name === ')' || name === ']') return this.closingBracket(token, name);
    this.out.push(token);
  }

  private beginsLine(i: number): boolean {
    return i > 0 && nameOf(this.source[i - 1]) === 'SEP';
  }

  private indentOf(token: Token): number {
    return this.indents.get(token.startLine ?? 1) ?? 1;
  }

  /** What an unclosed bracket or brace above must not swallow. */
  private beginLine(token: Token, i: number): void {
    const column = token.startColumn ?? 1;
    const name = nameOf(token);
    while (this.top() === '[' || this.top() === '(') {
      const listed = /^[,[(]$/.test(nameOf(this.out[this.lastWordAt()]));
      const outside = column <= this.outermostIndent();
      const begins = memberWordAt(this.source, i) || name === '}' || (headAt(this.source, i) && (!listed || outside));
      if (!begins) break;
      this.closeTop();
    }
    while (this.missingClosers > 0 && this.top() === '{') {
      const opened = this.open.at(-1) as Opened;
      const inside = name === '}' ? column >= opened.indent : column > opened.indent;
      if (inside || opened.token.startLine === token.startLine || !(name === '}' || startsMember(this.source, i)))
        break;
      this.missingClosers -= 1;
      this.closeTop();
    }
  }

  /** The indentation of the line with the first bracket that is open within the innermost brace. */
  private outermostIndent(): number {
    let at = this.open.length - 1;
    while (at > 0 && nameOf(this.open[at - 1]?.token) !== '{') at -= 1;
    return this.open[at]?.indent ?? 0;
  }

  private lastWordAt(): number {
    let at = this.out.length - 1;
    while (at > 0 && nameOf(this.out[at]) === 'SEP') at -= 1;
    return at;
  }

  /** Closes the innermost open one behind the last word, with its message. */
  private closeTop(): void {
    const opened = this.open.pop() as Opened;
    const name = nameOf(opened.token);
    const closer = CLOSER.get(name) ?? '}';
    const at = this.lastWordAt();
    const last = this.out[at] ?? opened.token;
    const end = endOf(last);
    const code = name === '{' ? 'syntax.unclosed-brace' : 'syntax.unclosed-bracket';
    const fix = {
      title: `Write ${closer}`,
      edits: [{ start: end, end, text: name === '{' ? ` ${closer}` : closer }],
    };
    const message = `this ${name} is never closed: ${closer} is missing`;
    this.problems.push(textError(code, message, opened.token.startOffset, endOf(opened.token), fix));
    this.out.splice(at + 1, 0, insertedBehind(last, closer));
  }

  private closeBrackets(): void {
    while (this.top() === '(' || this.top() === '[') this.closeTop();
  }

  private closingBrace(token: Token, i: number): void {
    this.closeBrackets();
    const opened = this.open.at(-1);
    const foreign = opened === undefined || (this.missingOpeners > 0 && this.foreign(opened, token, i));
    if (!foreign) {
      return this.close(token);
    }
    this.missingOpeners = Math.max(0, this.missingOpeners - 1);
    if (this.insertOpener(token, i)) this.out.push(token);
    else this.stray(token);
  }

  /** A closing brace that fits the body it would close neither by its line nor by its indentation. */
  private foreign(opened: Opened, token: Token, i: number): boolean {
    if (opened.token.startLine === token.startLine) return false;
    return this.beginsLine(i) ? (token.startColumn ?? 1) !== opened.indent : true;
  }

  /** Finds the head whose { is missing: on the same line, or the last line above with the indentation of the }. */
  private insertOpener(token: Token, i: number): boolean {
    if ((this.searches += 1) > MOST_SEARCHES) return false;
    const at = this.beginsLine(i) ? this.headAbove(token) : this.headOnLine(token);
    const head = at === null ? undefined : this.out[at];
    if (at === null || head === undefined) return false;
    const end = endOf(head);
    const message = `a { is missing behind ${head.image}: the } below has nothing to close`;
    const fix = { title: 'Write {', edits: [{ start: end, end, text: ' {' }] };
    this.problems.push(textError('syntax.missing-brace', message, head.startOffset, end, fix));
    this.out.splice(at + 1, 0, insertedBehind(head, '{'));
    return true;
  }

  private headAbove(token: Token): number | null {
    const column = token.startColumn ?? 1;
    for (let at = this.out.length - 1; at >= 0; at -= 1) {
      const word = this.out[at] as Token;
      if (nameOf(word) === 'SEP' || !this.firstOnLine(at)) continue;
      const indent = word.startColumn ?? 1;
      if (indent > column) continue;
      const end = this.lineEnd(at);
      const head = nameOf(word) === 'ID' || memberWordAt(this.out, at) || itemWords.has(nameOf(word));
      return indent === column && head && ENDS_VALUE.has(nameOf(this.out[end])) && nameOf(this.out[end]) !== '}'
        ? end
        : null;
    }
    return null;
  }

  private firstOnLine(at: number): boolean {
    return at === 0 || nameOf(this.out[at - 1]) === 'SEP';
  }

  private lineEnd(at: number): number {
    let end = at;
    while (end + 1 < this.out.length && nameOf(this.out[end + 1]) !== 'SEP') end += 1;
    return end;
  }

  /** `plate width: 4.125 in }`: the body begins where a second member would begin on the line. */
  private headOnLine(token: Token): number | null {
    let start = this.out.length;
    while (start > 0 && nameOf(this.out[start - 1]) !== 'SEP' && this.out[start - 1]?.startLine === token.startLine)
      start -= 1;
    const where = this.out.findIndex((word, at) => at >= start && nameOf(word) === 'where');
    if (where >= 0 && nameOf(this.out[where + 1]) !== '{') return where;
    const path = pathEnd(this.out, start);
    // `plate width: …` and `plate: FT-1110 mass: …`
    const first = nameOf(this.out[path]) === ':' ? pathEnd(this.out, path + 1) : path;
    for (let at = start + 1; at < this.out.length; at += 1) {
      const begins = headAt(this.out, at) || memberWordAt(this.out, at);
      if (begins && ENDS_VALUE.has(nameOf(this.out[at - 1])) && (at === first || nameOf(this.out[start]) !== 'ID'))
        return at - 1;
    }
    return null;
  }

  private closingBracket(token: Token, name: string): void {
    const opener = name === ')' ? '(' : '[';
    const top = this.top();
    if (top === opener) return this.close(token);
    if (top !== '(' && top !== '[') return this.strayBracket(token, name);
    if (this.surplus(top) <= 0) return this.stray(token);
    if (this.surplus(opener) < 0) return this.wrongCloser(token, name);
    this.closeTop();
    if (this.top() === opener) this.close(token);
    else this.stray(token);
  }

  private close(token: Token): void {
    this.open.pop();
    this.out.push(token);
  }

  private wrongCloser(token: Token, name: string): void {
    const opened = this.open.pop() as Opened;
    const due = CLOSER.get(nameOf(opened.token)) ?? ')';
    const message = `the ${nameOf(opened.token)} before is closed by ${due}, not by ${name}`;
    const fix = { title: `Write ${due}`, edits: [{ start: token.startOffset, end: endOf(token), text: due }] };
    this.problems.push(textError('syntax.wrong-closer', message, token.startOffset, endOf(token), fix));
    retype(token, due);
    this.out.push(token);
  }

  /** A list whose [ is missing begins behind the first : or = of its member, or behind the first name of the line. */
  private strayBracket(token: Token, name: string): void {
    const at = name === ']' && (this.searches += 1) <= MOST_SEARCHES ? this.listStart() : null;
    const before = at === null ? undefined : this.out[at];
    if (at === null || before === undefined) return this.stray(token);
    const first = nameOf(before) === 'ID' ? undefined : this.out[at + 1];
    const place = first?.startOffset ?? endOf(before);
    const fix = { title: 'Write [', edits: [{ start: place, end: place, text: '[' }] };
    const message = `a [ is missing: the ] behind it has nothing to close`;
    const shown = before.startLine === token.startLine ? token : before;
    this.problems.push(textError('syntax.unclosed-bracket', message, shown.startOffset, endOf(shown), fix));
    this.out.splice(at + 1, 0, insertedBehind(before, '['));
    this.out.push(token);
  }

  private listStart(): number | null {
    let start = this.lastWordAt() + 1;
    while (start > 0 && !this.endsStatement(start - 1)) start -= 1;
    for (let at = start; at < this.out.length; at += 1) {
      const name = nameOf(this.out[at]);
      if (name === 'repeated' || name === '=') return at;
      if (name === ':' && nameOf(this.out[at + 1]) === 'repeated') return at + 1;
      if (name === ':' || name === '[' || name === '(') return name === ':' ? at : null;
    }
    return nameOf(this.out[start]) === 'ID' ? pathEnd(this.out, start) - 1 : null;
  }

  private endsStatement(at: number): boolean {
    const name = nameOf(this.out[at]);
    if (name === '{' || name === '}') return true;
    return name === 'SEP' && !/^[,[=]$/.test(nameOf(this.out[at - 1]));
  }

  private stray(token: Token): void {
    const fix = { title: `Remove ${token.image}`, edits: [{ start: token.startOffset, end: endOf(token), text: '' }] };
    const message = `this ${token.image} has nothing to close`;
    this.problems.push(textError('syntax.stray-closer', message, token.startOffset, endOf(token), fix));
  }
}
