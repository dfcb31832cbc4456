// The table of commands: it runs them and writes their help.
import { chanceCommand } from './chance.ts';
import { check } from './check.ts';
import { compareCommand } from './compare.ts';
import { diffCommand } from './diff.ts';
import { explainCommand } from './explain.ts';
import { format } from './fmt.ts';
import { manualCommand } from './manual.ts';
import { serveCommand } from './serve.ts';
import { sheet } from './sheet.ts';
import { solveCommand } from './solve.ts';
import { sweepCommand } from './sweep.ts';
import type { Command } from './command.ts';

export const commands: readonly Command[] = [
  check,
  sheet,
  explainCommand,
  compareCommand,
  diffCommand,
  solveCommand,
  sweepCommand,
  chanceCommand,
  format,
  manualCommand,
  serveCommand,
];

const exitCodes = 'Exit code: 0 all holds, 1 something is wrong or out of limits, 2 could not run.';

export function help(): string {
  const width = Math.max(...commands.map(({ name, takes }) => `${name} ${takes}`.length));
  return [
    'thou: what follows from a build specification, and what does not hold',
    '',
    ...commands.map(({ name, takes, summary }) => `  thou ${`${name} ${takes}`.padEnd(width)}  ${summary}`),
    '',
    '"thou help COMMAND" tells its options; "thou --version" the version.',
    exitCodes,
    '',
  ].join('\n');
}

export function helpFor({ name, takes, summary, options, note }: Command): string {
  const heads = options.map((option) => {
    const short = option.short === undefined ? '' : `-${option.short}, `;
    const behind = option.takes === undefined ? '' : ` ${option.words ? option.words.join('|') : option.takes}`;
    return `${short}--${option.name}${behind}`;
  });
  const width = Math.max(0, ...heads.map((head) => head.length));
  return [
    `thou ${name} ${takes}`.trimEnd(),
    '',
    `  ${summary}`,
    ...(note === undefined ? [] : [`  ${note}`]),
    '',
    ...options.map(({ text }, at) => `  ${heads[at]!.padEnd(width)}  ${text}`),
    ...(options.length === 0 ? [] : ['']),
    exitCodes,
    '',
  ].join('\n');
}
