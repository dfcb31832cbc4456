// Problems as lines: file:line:column, how much it weighs, what it is, its code; with the line of text on a terminal.
import type { ProblemResult } from '@thou/shared/result/contract';
import { positions } from '../grammar/file.ts';
import type { Severity } from '../semantics/plan/outcome.ts';
import type { Problem } from '../semantics/problems/places.ts';
import type { Style } from '../report/style.ts';
import { paragraph } from '../report/table.ts';
import { harmless } from './terminal.ts';

type TextOf = (uri: string) => string;
type NameOf = (uri: string) => string;

export function problemResult(problem: Problem, textOf: TextOf, nameOf: NameOf): ProblemResult {
  const lines = positions(textOf(problem.uri));
  const [from, to] = [lines.at(problem.start), lines.at(problem.end)];
  return {
    file: nameOf(problem.uri),
    line: from.line + 1,
    column: from.column + 1,
    endLine: to.line + 1,
    endColumn: to.column + 1,
    code: problem.code,
    severity: problem.severity,
    message: problem.message.replaceAll('\n', ' '),
    related: problem.related.map(({ uri, start, message }) => ({
      file: nameOf(uri),
      line: positions(textOf(uri)).at(start).line + 1,
      message,
    })),
  };
}

export function problemLines(
  problem: Problem,
  at: ProblemResult,
  text: string,
  excerpt: boolean,
  style: Style,
): string[] {
  const { file, line, column, severity, code, related } = at;
  const paint = severity === 'error' ? style.bad : severity === 'warning' ? style.warn : style.faint;
  const place = style.title(`${harmless(file)}:${line}:${column}`);
  const [first = '', ...rest] = problem.message.split('\n').map(harmless);
  return [
    `${place}  ${paint(severity)}  ${first}  ${style.faint(`[${harmless(code)}]`)}`,
    ...(excerpt ? excerptLines(at, text).map(style.faint) : []),
    ...rest.flatMap((more) => paragraph('    ', more)),
    ...relatedLines(related, at),
  ];
}

/** Places with the same words in one line; what stands in the line that is told of already is not told again. */
function relatedLines(related: ProblemResult['related'], told: ProblemResult): string[] {
  const byWords = new Map<string, string[]>();
  for (const { file, line, message } of related) {
    if (file === told.file && line === told.line) continue;
    byWords.set(message, [...(byWords.get(message) ?? []), `${file}:${line}`]);
  }
  return [...byWords].map(([message, places]) => harmless(`    ${message}: ${[...new Set(places)].join(', ')}`));
}

const excerptWidth = 96;

/** The line of the text with a mark under the place; of a long line the part around it. */
function excerptLines({ line, column, endLine, endColumn }: ProblemResult, text: string): string[] {
  const lines = text.split(/\r\n|\n|\r/);
  const whole = lines[line - 1] ?? '';
  const end = endLine === line ? endColumn - 1 : whole.length;
  const from = column - 1 > excerptWidth - 20 ? column - 21 : 0;
  const shown = (start: number, stop: number): string =>
    harmless(whole.slice(Math.max(from, start), Math.min(from + excerptWidth, stop)));
  const before = shown(from, column - 1);
  const marked = Math.max(1, [...shown(column - 1, Math.max(end, column))].length);
  return [`    ${shown(from, whole.length)}`, `    ${' '.repeat([...before].length)}${'^'.repeat(marked)}`];
}

export const severities: readonly Severity[] = ['error', 'warning', 'advice', 'hint'];

const plural: Readonly<Record<Severity, string>> = {
  error: 'errors',
  warning: 'warnings',
  advice: 'advice',
  hint: 'hints',
};

export function countWords(severity: Severity, count: number): string {
  return `${count} ${count === 1 ? severity : plural[severity]}`;
}
