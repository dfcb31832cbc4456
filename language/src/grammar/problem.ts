/** What can be wrong with a text before anything in it is understood: the closed list of codes, and the shape of one report. */

export const textProblems = {
  'syntax.file-too-large': 'The file is larger than 2 MB; nothing of it is read.',
  'syntax.not-a-text': 'The file holds NUL bytes, so it is not a text.',
  'syntax.merge-conflict': 'Markers of an unfinished merge stand in the file; what is between them is not read.',
  'syntax.unclosed-comment': 'A comment that begins with /* has no */.',
  'syntax.unclosed-text': 'A text in quotes has no closing quote on its line.',
  'syntax.unknown-character': 'A character that has no meaning here, often pasted from a word processor.',
  'syntax.mixed-number': 'A whole number and a fraction are joined by a dash: 4-1/2 in.',
  'syntax.comma-in-number': 'A comma inside a number: decimals take a point, thousands are written without a mark.',
  'syntax.inch-mark': 'An inch mark instead of the unit in.',
  'syntax.missing-blank': 'A number and its unit are written without a blank, or a sum without blanks behind a unit.',
  'syntax.bare-point': 'A number ends with a point and no figure behind it.',
  'syntax.margin-order': 'A margin with its lower side first: the upper one goes first, +0.0005/-0.',
  'syntax.split-unit': 'A unit in two words, such as ft lb.',
  'syntax.plus-minus': '+/- instead of ± or +-.',
  'syntax.no-such-day': 'A date that no calendar has: 2026-02-30.',
  'syntax.unclosed-brace': 'A { has no } of its own.',
  'syntax.unclosed-bracket': 'A ( or [ has no closing partner.',
  'syntax.missing-brace': 'A } closes a body whose { is missing.',
  'syntax.stray-closer': 'A closing brace or bracket has nothing to close.',
  'syntax.wrong-closer': 'A ( is closed by ], or a [ by ).',
  'syntax.too-deep': 'Brackets, or one expression inside another, are nested more than 64 deep.',
  'syntax.too-long': 'One expression has more than 1,000 terms.',
  'syntax.unknown-item': 'What stands at the left edge of the file begins with none of the words that may stand there.',
  'syntax.item-place': 'A part, build or other entry does not start a line at the left edge.',
  'syntax.missing-value': 'A figure, a name or another value is missing.',
  'syntax.missing-name': 'A name is missing.',
  'syntax.missing-type': 'The kind of value is missing: Length, Count, Mass …',
  'syntax.missing-colon': 'Behind a name, a : with a value or a { with a body is missing.',
  'syntax.missing-sign': 'A sign such as =, :, ( or { is missing.',
  'syntax.missing-word': 'A word such as of, where or because is missing.',
  'syntax.missing-text': 'A text in quotes is missing.',
  'syntax.missing-date': 'A date is missing: 2026-03-14.',
  'syntax.reserved-word': 'A word of the language stands where a name is due.',
  'syntax.not-understood': 'What stands here does not continue what stands before it.',
} as const satisfies Readonly<Record<string, string>>;

export type TextProblemCode = keyof typeof textProblems;

export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Offsets count UTF-16 units: from the start of the block in a ParsedBlock, from the start of the file in a SourceFile. */
export interface TextProblem {
  readonly code: TextProblemCode;
  readonly message: string;
  readonly severity: 'error' | 'warning' | 'advice' | 'hint';
  readonly start: number;
  readonly end: number;
  readonly fix?: { readonly title: string; readonly edits: readonly TextEdit[] };
}

export function textError(
  code: TextProblemCode,
  message: string,
  start: number,
  end: number,
  fix?: TextProblem['fix'],
): TextProblem {
  return { code, message, severity: 'error', start, end, ...(fix ? { fix } : {}) };
}
