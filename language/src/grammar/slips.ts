/**
 * Figures and signs as people write them by habit, each with a message of its own and a fix: 4-1/2 in, 4,125 in, 4.125", 4.125in, a pasted ≤.
 * They are read as meant, so that one slip costs one message. Knows words and figures only.
 */
import { noSuchDay, plusMinus, splitUnit } from './habits.ts';
import { textError, type TextProblem } from './problem.ts';
import { endOf, kindOf, nameOf, retype, type Token } from './tokens.ts';

/** The same figures after the slips in them are mended; a figure without slips comes back as it is. */
export function plainNumber(image: string): string {
  const mixed = /^(\d+)-(\d+\/\d+)$/.exec(image);
  if (mixed) return `${mixed[1]} ${mixed[2]}`;
  return image.includes(',') ? withoutComma(image) : image;
}

/** `-0/+0.0005` read as `+0.0005/-0`. */
export function plainMargin(image: string): string {
  const turned = /^-(.*)\/\+(.*)$/.exec(image);
  return turned ? `+${turned[2]}/-${turned[1]}` : image;
}

/** 7,000 and 1,250,000 mark thousands; 4,125 and 0,05 a decimal, unless only noughts follow the comma. */
function withoutComma(image: string): string {
  const groups = image.split(',');
  const thousands =
    groups.length > 2 || (/^[1-9]\d{0,2}$/.test(groups[0] ?? '') && /^\d00(\.\d+)?$/.test(groups[1] ?? ''));
  return thousands ? groups.join('') : image.replace(',', '.');
}

/** Mends what it finds and gives the words without the slips. */
export function mendSlips(text: string, tokens: readonly Token[], problems: TextProblem[]): Token[] {
  const mended: Token[] = [];
  let depth = 0;
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const name = token.tokenType.name;
    if (name === '(' || name === '[') depth += 1;
    else if (name === ')' || name === ']') depth = Math.max(0, depth - 1);
    mended.push(token);
    if (name === 'NUMBER') i += numberSlip(text, tokens, i, depth, mended, problems);
    else if (name === 'UNIT') {
      unitSlip(tokens[i - 1], token, problems);
      i += splitUnit(text, tokens, i, problems);
    } else if (name === '+') i += plusMinus(text, tokens, i, problems);
    else if (name === 'DATE') noSuchDay(token, problems);
    if (name === 'NUMBER' || name === 'UNIT') i += turnedMargin(text, tokens, i + 1, mended, problems);
  }
  return mended;
}

/** How many tokens behind the figure at `i` belong to the slip. */
function numberSlip(
  text: string,
  tokens: readonly Token[],
  i: number,
  depth: number,
  mended: Token[],
  problems: TextProblem[],
): number {
  const number = tokens[i] as Token;
  const [sign, second, third] = [tokens[i + 1], tokens[i + 2], tokens[i + 3]];
  if (sign === undefined) return 0;
  if (!touches(number, sign)) return nameBehindFigure(tokens, i, mended, problems);
  if (nameOf(sign) === '.' && (second === undefined || !touches(sign, second))) {
    problems.push(
      slip('syntax.bare-point', 'a number ends with a figure, not with a point', number, sign, number.image),
    );
    return 1;
  }
  if (second === undefined || nameOf(second) !== 'NUMBER' || !touches(sign, second)) return 0;
  if (nameOf(sign) === '-' && second.image.includes('/') && nameOf(third) === 'UNIT') {
    widen(text, number, second);
    const plain = plainNumber(number.image);
    problems.push(
      slip(
        'syntax.mixed-number',
        `a whole number and a fraction are joined by a blank: ${plain}`,
        number,
        second,
        plain,
      ),
    );
    return 2;
  }
  if (nameOf(sign) !== ',' || depth > 0) return 0;
  let last = i + 2;
  while (
    nameOf(tokens[last + 1]) === ',' &&
    nameOf(tokens[last + 2]) === 'NUMBER' &&
    touches(tokens[last] as Token, tokens[last + 1]) &&
    touches(tokens[last + 1] as Token, tokens[last + 2])
  )
    last += 2;
  const end = tokens[last] as Token;
  widen(text, number, end);
  const plain = plainNumber(number.image);
  const message = `a number has no comma in it: decimals take a point (4.125), thousands no mark (7000). Read as ${plain}`;
  problems.push(slip('syntax.comma-in-number', message, number, end, plain));
  return last - i;
}

/** `4 in-1 in`: a unit that runs into what is subtracted. */
function nameBehindFigure(tokens: readonly Token[], i: number, mended: Token[], problems: TextProblem[]): number {
  const name = tokens[i + 1] as Token;
  const parts = /^([A-Za-z]+)-(\d+)$/.exec(name.image);
  if (nameOf(name) !== 'ID' || parts === null || [':', '{', '['].includes(nameOf(tokens[i + 2]))) return 0;
  const [, unit = '', figure = ''] = parts;
  problems.push(
    slip(
      'syntax.missing-blank',
      'subtracting behind a unit needs a blank on both sides of the -',
      name,
      name,
      `${unit} - ${figure}`,
    ),
  );
  mended.push(
    part(name, 0, unit, 'UNIT'),
    part(name, unit.length, '-', '-'),
    part(name, unit.length + 1, figure, 'NUMBER'),
  );
  return 1;
}

function unitSlip(before: Token | undefined, unit: Token, problems: TextProblem[]): void {
  if (before === undefined || !touches(before, unit)) return;
  if (unit.image === '"') {
    problems.push(slip('syntax.inch-mark', 'inches are written as in 4.125 in, not with "', unit, unit, ' in'));
  } else if (nameOf(before) !== ']' && nameOf(before) !== '->' && !/^[%°]/.test(unit.image)) {
    const message = `a blank is missing between ${before.image} and its unit ${unit.image}`;
    problems.push(slip('syntax.missing-blank', message, unit, unit, ` ${unit.image}`));
  }
}

/** `-0/+0.0005` from `at` on. */
function turnedMargin(
  text: string,
  tokens: readonly Token[],
  at: number,
  mended: Token[],
  problems: TextProblem[],
): number {
  if (nameOf(tokens[at]) !== '-') return 0;
  const run = tokens.slice(at, at + 5);
  if (run.map(nameOf).join(' ') !== '- NUMBER / + NUMBER') return 0;
  if (run.some((token, k) => k > 0 && !touches(run[k - 1] as Token, token))) return 0;
  const [first, last] = [run[0] as Token, run[4] as Token];
  widen(text, first, last);
  retype(first, 'MARGIN');
  mended.push(first);
  const plain = plainMargin(first.image);
  problems.push(slip('syntax.margin-order', `the upper margin goes first: ${plain}`, first, last, plain));
  return 5;
}

function touches(left: Token, right: Token | undefined): boolean {
  return right !== undefined && endOf(left) === right.startOffset;
}

function widen(text: string, first: Token, last: Token): void {
  first.image = text.slice(first.startOffset, endOf(last));
  Object.assign(first, { endOffset: last.endOffset, endColumn: last.endColumn });
}

function part(token: Token, from: number, image: string, name: string): Token {
  const kind = kindOf(name);
  const startOffset = token.startOffset + from;
  const startColumn = (token.startColumn ?? 1) + from;
  return {
    ...token,
    image,
    startOffset,
    endOffset: startOffset + image.length - 1,
    startColumn,
    endColumn: startColumn + image.length - 1,
    tokenType: kind,
    tokenTypeIdx: kind.tokenTypeIdx ?? -1,
  };
}

function slip(code: TextProblem['code'], message: string, first: Token, last: Token, text: string): TextProblem {
  const [start, end] = [first.startOffset, Math.max(endOf(first), endOf(last))];
  return textError(code, message, start, end, { title: `Write ${text.trim()}`, edits: [{ start, end, text }] });
}

/** What a word processor makes of a sign, and the sign that is meant. */
const PASTED: ReadonlyMap<string, string> = new Map([
  ['−', '-'],
  ['–', '-'],
  ['—', '-'],
  ['×', '*'],
  ['·', '*'],
  ['÷', '/'],
  ['≤', '<='],
  ['≥', '>='],
  ['≠', '!='],
  ['…', '..'],
  [';', ','],
]);

/** The character at `at`, which begins no word, figure or sign; `reads` is the sign that it is read as. */
export function pastedCharacter(
  text: string,
  at: number,
): { problem: TextProblem; length: number; reads: { kind: string; image: string } | null } {
  const curly = /[“”„]([^“”„"\r\n]*)[“”"]/y;
  curly.lastIndex = at;
  const quoted = curly.exec(text);
  const character = String.fromCodePoint(text.codePointAt(at) ?? 0);
  const length = quoted ? quoted[0].length : character.length;
  const meant = quoted ? `"${quoted[1]}"` : /\s/.test(character) ? ' ' : (PASTED.get(character) ?? null);
  const fix =
    meant === null
      ? undefined
      : { title: `Write ${meant === ' ' ? 'a blank' : meant}`, edits: [{ start: at, end: at + length, text: meant }] };
  const message =
    meant === null
      ? `${shown(character)} means nothing here`
      : `${shown(character)} is not used here: write ${meant === ' ' ? 'a plain blank' : meant}`;
  return {
    problem: textError('syntax.unknown-character', message, at, at + length, fix),
    length,
    reads: meant === null || meant === ' ' ? null : { kind: quoted ? 'STRING' : meant, image: meant },
  };
}

/** A character as it can be shown in a message: what is invisible by its number. */
function shown(character: string): string {
  const code = character.codePointAt(0) ?? 0;
  const visible =
    code > 32 && !(code >= 127 && code < 161) && !/\s/.test(character) && !(code >= 0xd800 && code < 0xe000);
  return visible ? character : `the invisible character U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
}
