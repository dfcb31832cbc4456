/**
 * What is done about a place where the parser stopped: the statement with the mistake is named once, and mended or left out, so that the rest is read
 * as if it were not there. Where its value is not finished, `unknown("…")` stands for it: the name stays known. The tree has no holes.
 */
import { describe, missingRule, ruleName, type ParserError } from './messages.ts';
import type { TextProblem } from './problem.ts';
import { endOf, nameOf, STAND_IN, standIn, type Token } from './tokens.ts';

export interface Repair {
  readonly tokens: readonly Token[];
  readonly problem: TextProblem;
  /** Where the statement reaches in the text: one message is enough for it. */
  readonly start: number;
  readonly end: number;
}

/** Mends the statement in which the parser stopped, or takes it out. */
export function repair(tokens: readonly Token[], error: ParserError): Repair {
  const stop = stopOf(tokens, error.token);
  const statement = statementAt(tokens, stop);
  const ruleHead = clauseWithoutRule(tokens, stop, statement);
  const bad = ruleHead ?? statement;
  const problem =
    ruleHead === null ? describe(error, tokens[bad.from], tokens[stop + 1]) : missingRule(tokens[bad.from] as Token);
  const sign = ruleHead === null ? valueSign(tokens, bad, stop, error) : null;
  const kept = sign === null ? [] : tokens.slice(bad.from, sign + 1);
  const place = sign === null ? undefined : tokens[sign];
  const unfinished =
    sign === null || place === undefined || isUnfinished(tokens, sign + 1) ? [] : unfinishedValue(place);
  const mended = unfinished.length === 0 ? [] : [...kept, ...unfinished];
  return {
    tokens: [...tokens.slice(0, bad.from), ...mended, ...tokens.slice(bad.to)],
    problem,
    start: tokens[bad.from]?.startOffset ?? 0,
    end: bad.to > bad.from ? endOf(tokens[bad.to - 1] as Token) : problem.end,
  };
}

/** What holds statements: in a Body a value stands behind `:`, in the others behind `=`. */
const BODIES: ReadonlySet<string> = new Set(['Body', 'Declarations', 'Where', 'Rule', 'File']);

interface Statement {
  /** The first word, and the place behind the last. */
  readonly from: number;
  readonly to: number;
}

/** The place of the word at which the parser stopped; at the end of all where it ran out of words. */
function stopOf(tokens: readonly Token[], found: Token): number {
  const at = tokens.indexOf(found);
  return at < 0 ? tokens.length : at;
}

/** The innermost statement around `stop`; a separator or closing brace belongs to the statement that it ends. */
function statementAt(tokens: readonly Token[], stop: number): Statement {
  let from = stop;
  let depth = 0;
  while (from > 0) {
    const name = nameOf(tokens[from - 1]);
    if (name === '}') depth += 1;
    else if (name === '{' && depth === 0) break;
    else if (name === '{') depth -= 1;
    else if (name === 'SEP' && depth === 0) break;
    from -= 1;
  }
  return { from, to: statementEnd(tokens, from, stop) };
}

function statementEnd(tokens: readonly Token[], from: number, stop: number): number {
  let depth = 0;
  let at = from;
  for (; at < tokens.length; at += 1) {
    const name = nameOf(tokens[at]);
    if (name === '{') depth += 1;
    else if (name === '}' && depth === 0 && at > from) break;
    else if (name === '}') depth = Math.max(0, depth - 1);
    else if (name === 'SEP' && depth === 0 && at > from && at >= stop) break;
  }
  return at;
}

/** `rows-ordered: warning { when … }`: the clauses are right, the word `rule` is missing before them. */
function clauseWithoutRule(tokens: readonly Token[], stop: number, statement: Statement): Statement | null {
  if (stop !== statement.from || !['when', 'because', 'adjust'].includes(nameOf(tokens[stop]))) return null;
  let open = stop - 1;
  for (let depth = 0; open >= 0; open -= 1) {
    const name = nameOf(tokens[open]);
    if (name === '}') depth += 1;
    else if (name === '{' && depth === 0) break;
    else if (name === '{') depth -= 1;
  }
  const head = [tokens[open - 3], tokens[open - 2], tokens[open - 1]].map(nameOf).join(' ');
  if (head !== 'ID : ID') return null;
  return { from: open - 3, to: statementEnd(tokens, open - 3, open) };
}

/** The sign behind which the value stands that is not finished: `:` of a figure, `=` of a formula, the word `when`. */
function valueSign(tokens: readonly Token[], statement: Statement, stop: number, error: ParserError): number | null {
  const first = nameOf(tokens[statement.from]);
  if (first === 'axis' || first === 'dimension') return null;
  const body = error.context.ruleStack.map(ruleName).findLast((rule) => BODIES.has(rule));
  const sign = first === 'when' ? 'when' : first === 'ID' && body === 'Body' ? ':' : '=';
  let depth = 0;
  for (let at = statement.from; at < Math.min(stop, statement.to); at += 1) {
    const name = nameOf(tokens[at]);
    if (name === sign && depth === 0) return at;
    if (name === '(' || name === '[' || name === '{') depth += 1;
    else if (name === ')' || name === ']' || name === '}') depth -= 1;
  }
  return null;
}

function isUnfinished(tokens: readonly Token[], at: number): boolean {
  return nameOf(tokens[at]) === 'ID' && tokens[at]?.image === STAND_IN;
}

/** `unknown("this line is not finished")`, standing at the sign behind which the value is missing: see the values of such words in parser.ts. */
function unfinishedValue(sign: Token): Token[] {
  return ['ID', '(', 'STRING', ')'].map((name) => standIn(sign, name));
}
