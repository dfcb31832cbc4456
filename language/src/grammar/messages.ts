/** What the parser stumbled over, in a machinist's words: one problem, at the word that is wrong or behind which something is missing. */
import type { ParseResult } from 'langium';
import { nearest } from '@thou/shared/number/nearest';
import { textError, type TextProblem, type TextProblemCode } from './problem.ts';
import { endOf, memberWords, nameOf, reservedWords, type Token, wordSet } from './tokens.ts';

export type ParserError = ParseResult['parserErrors'][number];

/** What chevrotain asks for: the name of the kind that was due, read again by `describe`. */
export const errorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }: { expected: { name: string } }): string => expected.name,
  buildNotAllInputParsedMessage: (): string => '',
  buildNoViableAltMessage: (): string => '',
  buildEarlyExitMessage: (): string => '',
};

/** `first`: the word that the statement begins with; `next`: the one behind the word at which the parser stopped. */
export function describe(error: ParserError, first: Token | undefined, next: Token | undefined): TextProblem {
  const found = error.token;
  const before = (error as { previousToken?: Token }).previousToken;
  const rule = ruleName(error.context.ruleStack.at(-1) ?? '');
  const due = error.name === 'MismatchedTokenException' ? error.message : '';
  const reserved = reservedWord(found, due, rule);
  if (reserved !== null) return reserved;
  const open = before !== undefined && /^[)\]}]$/.test(due) ? cutShort(before, found) : null;
  if (open !== null) return problemAt(open.code, open.message, found, before);
  const cut = next === undefined ? null : cutShort(found, next);
  if (cut !== null && next !== undefined) return problemAt(cut.code, cut.message, next, found);
  const told = tell(due, rule, found, before);
  return (told.code === 'syntax.missing-colon' && mistyped(first)) || problemAt(told.code, told.message, found, before);
}

interface Message {
  readonly code: TextProblemCode;
  readonly message: string;
}

/** The parser marks the names of its rules. */
export function ruleName(rule: string): string {
  return rule.replace(/\u200B$/, '');
}

/** What is due behind a word or sign that leads something in: where the wrong thing follows, that is what is wrong. */
function cutShort(lead: Token, next: Token): Message | null {
  const name = nameOf(lead);
  const follows = nameOf(next);
  const after = ` after ${shortened(lead.image)}`;
  if (TEXT_LEADS.has(name) && follows !== 'STRING')
    return { code: 'syntax.missing-text', message: `a text in quotes is missing${after}` };
  if (name === 'on' && follows !== 'DATE')
    return { code: 'syntax.missing-date', message: `a date, such as 2026-03-14, is missing${after}` };
  if (NAME_LEADS.has(name) && follows !== 'ID' && follows !== 'STRING')
    return { code: 'syntax.missing-name', message: `a name is missing${after}` };
  if (VALUE_LEADS.has(name) && !BEGINS_VALUE.has(follows)) return missingValue('', next, after);
  return null;
}

const TEXT_LEADS: ReadonlySet<string> = new Set(['because', 'from']);
const NAME_LEADS: ReadonlySet<string> = new Set(['with', 'of', 'per', '.']);
const VALUE_LEADS: ReadonlySet<string> = wordSet(`
  + - * / ^ ± +- .. == != < > <= >= = : , | and or not otherwise within then else step over by where
  to`);
const BEGINS_VALUE: ReadonlySet<string> = wordSet(`
  NUMBER ID STRING DATE ( [ - < > <= >= not if from repeated solve`);

function mistyped(first: Token | undefined): TextProblem | null {
  const [word] = first === undefined || nameOf(first) !== 'ID' ? [] : nearest(first.image, memberWords, 1);
  if (first === undefined || word === undefined) return null;
  const [start, end] = [first.startOffset, endOf(first)];
  const message = `behind ${first.image} a : with a value, or a { with a body, is missing; or is the word ${word} meant?`;
  return textError('syntax.missing-colon', message, start, end, {
    title: `Write ${word}`,
    edits: [{ start, end, text: word }],
  });
}

/** For the clauses of a rule in what is not called one. */
export function missingRule(name: Token): TextProblem {
  const start = name.startOffset;
  const message = `the word rule is missing before ${name.image}: when, because and adjust belong to a rule`;
  const fix = { title: 'Write rule', edits: [{ start, end: start, text: 'rule ' }] };
  return textError('syntax.missing-word', message, start, endOf(name), fix);
}

const VALUE_RULES: ReadonlySet<string> = new Set([
  'Expr',
  'Binary',
  'Unary',
  'Power',
  'Primary',
  'Prefixed',
  'Entry',
  'Quantity',
]);

function tell(due: string, rule: string, found: Token, before: Token | undefined): Message {
  const after = before === undefined || isBreak(before) ? '' : ` after ${shortened(before.image)}`;
  const rest = isBreak(found) || found.image === '' ? '' : shortened(found.image);
  if (nameOf(found) === 'to' && before !== undefined && ['NUMBER', 'UNIT'].includes(nameOf(before)))
    return {
      code: 'syntax.not-understood',
      message: 'from one figure to another is written with two points: 4.030..4.031 in',
    };
  if (due === '' && VALUE_RULES.has(rule)) return missingValue(rest, found, after);
  if (rule === 'Given' || (due === ':' && rule !== 'Solve')) {
    return { code: 'syntax.missing-colon', message: `: with a value, or { with a body, is missing${after}` };
  }
  if (due === 'ID' && (rule === 'TypeName' || rule === 'Type')) {
    return {
      code: 'syntax.missing-type',
      message: `what kind of value it is, such as Length or Mass, is missing${after}`,
    };
  }
  if (due === 'ID') return { code: 'syntax.missing-name', message: `a name is missing${after}` };
  if (due === 'STRING') return { code: 'syntax.missing-text', message: `a text in quotes is missing${after}` };
  if (due === 'DATE') return { code: 'syntax.missing-date', message: `a date, such as 2026-03-14, is missing${after}` };
  if (due === 'NUMBER') return { code: 'syntax.missing-value', message: `a figure is missing${after}` };
  if (due === 'UNIT') return { code: 'syntax.missing-value', message: `a unit is missing${after}` };
  if (/^[a-z]/.test(due)) return { code: 'syntax.missing-word', message: `the word ${due} is missing${after}` };
  if (due !== '' && !['}', 'SEP', 'EOF'].includes(due))
    return { code: 'syntax.missing-sign', message: `${due} is missing${after}` };
  return unfinished(rule, rest, after);
}

function missingValue(rest: string, found: Token, after: string): Message {
  const cut = rest === '' || /^(?:[,)\]}:=]|->)$/.test(nameOf(found)) || reservedWords.has(nameOf(found));
  if (cut) return { code: 'syntax.missing-value', message: `a figure or a name is missing${after}` };
  return { code: 'syntax.missing-value', message: `a figure or a name is missing before ${rest}` };
}

/** Rules that stop before they are whole, by the words a reader knows them by. */
const UNFINISHED: ReadonlyMap<string, Message> = new Map([
  ['Name', { code: 'syntax.missing-name', message: 'a name is missing' }],
  ['Type', { code: 'syntax.missing-type', message: 'what kind of value it is, such as Length or Mass, is missing' }],
  ['Use', { code: 'syntax.missing-text', message: 'what is used is missing: "parts.thou" or prelude 1' }],
  ['Axis', { code: 'syntax.missing-sign', message: '= with the places on the axis is missing' }],
]);

function unfinished(rule: string, rest: string, after: string): Message {
  const known = UNFINISHED.get(rule);
  if (known !== undefined) return { code: known.code, message: `${known.message}${after}` };
  if (rest === '') return { code: 'syntax.not-understood', message: `something is missing${after}` };
  return {
    code: 'syntax.not-understood',
    message: `${rest} makes no sense${after}: a sign, a comma or a new line is missing, or it is one too many`,
  };
}

function reservedWord(found: Token, due: string, rule: string): TextProblem | null {
  const nameDue = due === 'ID' || rule === 'Name';
  if (!nameDue || !reservedWords.has(nameOf(found))) return null;
  const message = `${found.image} is a word of the language and cannot be a name`;
  return textError('syntax.reserved-word', message, found.startOffset, endOf(found));
}

/** On the wrong word; where the line ends instead, on the word behind which something is missing. */
function problemAt(code: TextProblemCode, message: string, found: Token, before: Token | undefined): TextProblem {
  const onFound =
    Number.isFinite(found.startOffset) &&
    !isBreak(found) &&
    found.image !== '' &&
    found.startLine === (before?.startLine ?? found.startLine);
  const place = onFound || before === undefined || !Number.isFinite(before.startOffset) ? found : before;
  const start = Number.isFinite(place.startOffset) ? place.startOffset : 0;
  return textError(code, message, start, Math.max(start, start + place.image.length));
}

function isBreak(token: Token): boolean {
  const name = nameOf(token);
  return name === 'SEP' || name === 'EOF';
}

function shortened(image: string): string {
  const line = image.replace(/[\r\n]+/g, ' ');
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}
