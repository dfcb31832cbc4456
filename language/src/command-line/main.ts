// Entry of the command line: finds the command, runs it, turns what happened into an exit code. Never shows a stack.
import { nearest } from '@thou/shared/number/nearest';
import { readArguments } from './arguments.ts';
import { commands, help, helpFor } from './commands.ts';
import type { Streams } from './command.ts';
import { readLibrary } from './library.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless, outputOf } from './terminal.ts';
import { version } from './version.ts';

/** Runs what was typed at the terminal. */
export async function start(): Promise<void> {
  process.exitCode = await main(process.argv.slice(2), {
    out: outputOf(process.stdout),
    err: outputOf(process.stderr),
  });
}

export async function main(typed: readonly string[], streams: Streams): Promise<number> {
  try {
    return await run(typed, streams);
  } catch (problem) {
    streams.err.write(problem instanceof Refusal ? `thou: ${harmless(problem.message)}\n` : failedInside(problem));
    return exitCode.couldNotRun;
  }
}

async function run([name, ...rest]: readonly string[], streams: Streams): Promise<number> {
  if (name === '--version' || name === '-v')
    return say(streams, `thou ${version()}, trade library edition ${readLibrary().text.edition}\n`);
  if (name === undefined) {
    streams.err.write(help());
    return exitCode.couldNotRun;
  }
  if (name === '--help' || name === '-h') return say(streams, help());
  if (name === 'help') return say(streams, rest[0] === undefined ? help() : helpFor(commandNamed(rest[0])));
  const command = commandNamed(name);
  if (rest.includes('--help') || rest.includes('-h')) return say(streams, helpFor(command));
  return command.run(readArguments(rest, command.options, command.name), streams);
}

function say({ out }: Streams, text: string): number {
  out.write(text);
  return exitCode.holds;
}

function commandNamed(name: string): (typeof commands)[number] {
  const command = commands.find((one) => one.name === name);
  if (command) return command;
  const near = nearest(
    name,
    commands.map((one) => one.name),
    1,
  )[0];
  throw new Refusal(
    `There is no command "${name}"${near === undefined ? '.' : `; did you mean "${near}"?`} "thou help" lists them.`,
  );
}

/** A mistake of Thou itself: one line for the reader, the trail only for those who ask for it. */
function failedInside(problem: unknown): string {
  const code = problem instanceof Error ? problem.name : typeof problem;
  const trail = process.env['THOU_TRACE'] === '1' && problem instanceof Error ? `${problem.stack}\n` : '';
  return `thou: Thou failed inside; please report this, with the file if you can. [inside.${code}] (THOU_TRACE=1 shows where)\n${trail}`;
}
