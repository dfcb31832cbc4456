/** Habits of pen and calculator that are more than one word long: a unit in two words, +/- for a margin; and dates that no calendar has. */
import { textError, type TextProblem } from './problem.ts';
import { endOf, nameOf, retype, type Token } from './tokens.ts';

/** Units that people write in two words, by both words without a dot. */
const SPLIT_UNITS: ReadonlyMap<string, string> = new Map([
  ...pairs(['ft', 'foot', 'feet'], 'ft-lbf'),
  ...pairs(['in', 'inch'], 'in-lbf'),
  ['N m', 'N*m'],
]);

function pairs(lengths: readonly string[], unit: string): [string, string][] {
  const forces = ['lb', 'lbs', 'lbf', 'pounds'];
  return lengths.flatMap((length) =>
    forces.flatMap((force): [string, string][] => [
      [`${length} ${force}`, unit],
      [`${force} ${length}`, unit],
    ]),
  );
}

/** A unit as it is meant: the inch mark, and a unit in two words. */
export function plainUnit(image: string): string {
  return image === '"' ? 'in' : (SPLIT_UNITS.get(twoWords(image)) ?? image);
}

function twoWords(image: string): string {
  return image.replace(/[ \t.]+/, ' ');
}

/** How many words behind the unit at `i` belong to it. */
export function splitUnit(text: string, tokens: readonly Token[], i: number, problems: TextProblem[]): number {
  const unit = tokens[i] as Token;
  const dot = nameOf(tokens[i + 1]) === '.' ? 1 : 0;
  const second = tokens[i + 1 + dot];
  if (second === undefined || nameOf(second) !== 'ID' || second.startLine !== unit.startLine) return 0;
  if ([':', '{', '[', '.'].includes(nameOf(tokens[i + 2 + dot]))) return 0;
  const whole = text.slice(unit.startOffset, endOf(second));
  const plain = SPLIT_UNITS.get(twoWords(whole));
  if (plain === undefined) return 0;
  widen(unit, whole, second);
  problems.push(
    fixable(
      'syntax.split-unit',
      `a unit is one word: ${whole} is written ${plain}`,
      unit.startOffset,
      endOf(second),
      plain,
    ),
  );
  return 1 + dot;
}

/** `+/-` at `i`; how many words behind the `+` belong to it. */
export function plusMinus(text: string, tokens: readonly Token[], i: number, problems: TextProblem[]): number {
  const [plus, , minus] = tokens.slice(i, i + 3);
  if (plus === undefined || minus === undefined || text.slice(plus.startOffset, endOf(minus)) !== '+/-') return 0;
  retype(plus, '+-');
  problems.push(
    fixable('syntax.plus-minus', 'a margin to both sides is written ± or +-', plus.startOffset, endOf(minus), '+-'),
  );
  widen(plus, '+-', minus); // read as the sign that is meant
  return 2;
}

export function noSuchDay(date: Token, problems: TextProblem[]): void {
  const [year = 0, month = 0, day = 0] = date.image.split('-').map(Number);
  const meant = new Date(Date.UTC(year, month - 1, day));
  if (meant.getUTCMonth() === month - 1 && meant.getUTCDate() === day) return;
  const message = `no calendar has the day ${date.image}: a date is year, month and day, such as 2026-03-14`;
  problems.push(textError('syntax.no-such-day', message, date.startOffset, endOf(date)));
}

function widen(first: Token, image: string, last: Token): void {
  first.image = image;
  Object.assign(first, { endOffset: last.endOffset, endColumn: last.endColumn });
}

function fixable(code: TextProblem['code'], message: string, start: number, end: number, text: string): TextProblem {
  return textError(code, message, start, end, { title: `Write ${text}`, edits: [{ start, end, text }] });
}
