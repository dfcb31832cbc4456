/**
 * The filter between words and parser: decides which new lines and commas separate members, and puts a separator where two members share a line.
 * Braces and brackets are balanced when it runs (see mending.ts). Knows what words may begin or continue a member, nothing of their meaning.
 */
import { behindNewLines, ENDS_VALUE, measuredBy, pathEnd, startsMember } from './heads.ts';
import { insertedBefore, insertedBehind, itemWords, nameOf, retype, type Token, wordSet } from './tokens.ts';

/** Behind one of these a line goes on. */
const GOES_ON: ReadonlySet<string> = wordSet(`
  + - * / ^ = == != < > <= >= .. ± +- | -> , ( [ . and or not otherwise within over by then else if of
  per against as to where step with on because from changed-by solve repeated`);
/** A line that begins with one of these belongs to the one above. */
const CONTINUES: ReadonlySet<string> = wordSet(`
  + - * / ^ = == != < > <= >= .. ± +- | -> ) ] { and or otherwise within over by then else of per
  against as to where step with on because changed-by limits`);

/** What a comma means outside brackets until the member ends. */
type CommaMeans = 'separator' | 'list' | 'unknowns' | 'equations';

export function separate(tokens: readonly Token[]): Token[] {
  return new Separators(tokens).run();
}

class Separators {
  private readonly source: readonly Token[];
  private readonly out: Token[] = [];
  private readonly open: string[] = [];
  private comma: CommaMeans = 'separator';
  /** Where in `out` the statement begins that is being read, and which signs it has outside brackets so far. */
  private from = 0;
  private readonly signs = new Set<string>();
  /** `if`s without their `else`. */
  private ifs = 0;

  constructor(source: readonly Token[]) {
    this.source = source;
  }

  run(): Token[] {
    for (let i = 0; i < this.source.length; i += 1) this.take(i);
    const last = this.out.at(-1);
    if (last !== undefined) this.separator(insertedBehind(last, 'SEP'));
    return this.out;
  }

  private get last(): Token | undefined {
    return this.out[this.out.length - 1];
  }

  private take(i: number): void {
    const token = this.source[i] as Token;
    const name = token.tokenType.name;
    const inBraces = this.open.length === 0 || this.open[this.open.length - 1] === '{';
    if (name === 'SEP') {
      if (inBraces) this.newLine(token, i);
      return;
    }
    if (name === ',' && inBraces && this.open.length > 0 && this.commaSeparates(i)) return this.separator(token);
    const head = (name === ':' || name === '{') && inBraces && this.open.length > 0;
    if (head && this.comma !== 'unknowns') this.separateHead(name);
    if (name === '{' || name === '(' || name === '[') this.open.push(name);
    else if (name === '}') this.separator(insertedBefore(token, 'SEP'));
    if (name === '}' || name === ')' || name === ']') this.open.pop();
    if (inBraces) this.noteComma(name);
    if (name === 'measured' && nameOf(this.source[i + 1]) === '(') retype(token, 'ID');
    if (name === 'UNIT' && inBraces && nameOf(this.last) !== 'unit' && this.namesPath(i)) retype(token, 'ID');
    this.out.push(token);
    if (name === '{' || name === '}') this.beginStatement();
    else if (inBraces) this.signs.add(name);
    if (name === 'if' && inBraces) this.ifs += 1;
    else if (name === 'else' && inBraces) this.ifs -= 1;
  }

  private beginStatement(): void {
    this.from = this.out.length;
    this.signs.clear();
    this.ifs = 0;
  }

  /** `8 row.width: …`, `8 row[3]: …`: what looked like a unit is a name. */
  private namesPath(i: number): boolean {
    const next = nameOf(this.source[i + 1]);
    return next === '.' || next === '[';
  }

  private newLine(token: Token, i: number): void {
    if (nameOf(this.source[i + 1]) === 'SEP') return; // the last of several decides
    const next = i + 1;
    const before = nameOf(this.last);
    if (before === '' || before === 'SEP' || before === '{') return;
    const after = nameOf(this.source[next]);
    const begins = after === '' || after === '}' || startsMember(this.source, next);
    if (before === ',' || before === 'solve' || (GOES_ON.has(before) && !begins)) return;
    if (after === '{' && this.figureAbove()) return this.separator(token);
    if (CONTINUES.has(after) || measuredBy(this.source, next) || this.goesOnIndented(next, begins)) return;
    this.separator(token);
  }

  /** Outside all bodies an indented line belongs to the entry above; within one, what follows a derived value without = or an if without else. */
  private goesOnIndented(next: number, begins: boolean): boolean {
    const token = this.source[next];
    if (token === undefined) return false;
    if (this.open.length === 0) return (token.startColumn ?? 1) > 1 && !itemWords.has(nameOf(token));
    const noFormulaYet = nameOf(this.out[this.from]) === 'derive' && !this.signs.has('=');
    return !begins && (noFormulaYet || this.ifs > 0);
  }

  /** `name: value` above a line that begins with {: the brace has lost its own name. */
  private figureAbove(): boolean {
    return this.open.length > 0 && nameOf(this.out[this.from]) === 'ID' && this.signs.has(':');
  }

  private commaSeparates(i: number): boolean {
    if (this.comma === 'separator') return true;
    if (this.comma === 'unknowns') return false;
    const next = behindNewLines(this.source, i + 1);
    return nameOf(this.source[next]) === '}' || startsMember(this.source, next);
  }

  private noteComma(name: string): void {
    if (name === 'solve') this.comma = 'unknowns';
    else if (name === 'where' && this.comma === 'unknowns') this.comma = 'equations';
    else if (name === 'changed-by' || name === 'against') this.comma = 'list';
    else if (name === '{' || name === '}' || (name === '=' && this.comma === 'list')) this.comma = 'separator';
  }

  private separator(token: Token): void {
    const before = nameOf(this.last);
    if (before === '' || before === 'SEP' || before === '{') return;
    if (token.tokenType.name !== 'SEP') retype(token, 'SEP');
    this.out.push(token);
    this.comma = 'separator';
    this.beginStatement();
  }

  /** `name:` or `name {` begins a member: where a value ends before its path, a separator goes between. */
  private separateHead(sign: string): void {
    let at = this.out.length - 1;
    for (;;) {
      at = this.beforeBrackets(at);
      if (nameOf(this.out[at]) === 'UNIT' && this.isName(at, sign)) retype(this.out[at] as Token, 'ID');
      if (nameOf(this.out[at]) !== 'ID') return;
      if (nameOf(this.out[at - 1]) !== '.') break;
      at -= 2;
    }
    if (at > 0 && ENDS_VALUE.has(nameOf(this.out[at - 1])) && !this.belongsToHead(at, sign)) {
      this.out.splice(at, 0, insertedBefore(this.out[at] as Token, 'SEP'));
      this.comma = 'separator';
      this.beginStatement();
      this.from = at + 1;
    }
  }

  /** `rule even warning {`, `left Side {`: a sign is missing in the head; the two are no members of their own. */
  private belongsToHead(at: number, sign: string): boolean {
    const first = nameOf(this.out[this.from]);
    if (sign === '{' && (first === 'rule' || first === 'measured' || first === 'machining')) return true;
    return first === 'ID' && pathEnd(this.out, this.from) === at;
  }

  /** A unit before `:` or `{` is a name again, but not in `unit in: Length`, `at 21 degC {` or `as 0.0 mm {`. */
  private isName(at: number, sign: string): boolean {
    if (nameOf(this.out[at - 1]) === 'unit') return false;
    if (!/^[A-Za-z][\w-]*$/.test((this.out[at] as Token).image)) return false;
    const beforeFigure = nameOf(this.out[at - 2]);
    return sign === ':' || (beforeFigure !== 'ID' && beforeFigure !== 'as');
  }

  private beforeBrackets(at: number): number {
    if (nameOf(this.out[at]) !== ']') return at;
    let depth = 0;
    for (let k = at; k >= 0; k -= 1) {
      const name = nameOf(this.out[k]);
      if (name === ']') depth += 1;
      else if (name === '[' && --depth === 0) return k - 1;
    }
    return -1;
  }
}
