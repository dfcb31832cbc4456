// What was typed behind a command, read against the command's own table of options. Knows no command.
import { parseArgs } from 'node:util';
import { nearest } from '@thou/shared/number/nearest';
import { Refusal } from './refusal.ts';

export interface Option {
  readonly name: string;
  readonly short?: string;
  /** Name of what follows, such as `FOLDER`; none for a switch. */
  readonly takes?: string;
  /** May be given several times. */
  readonly many?: true;
  /** The words that may follow, where only some may. */
  readonly words?: readonly string[];
  readonly text: string;
}

export interface Arguments {
  readonly given: readonly string[];
  has(name: string): boolean;
  value(name: string): string | undefined;
  /** Of an option that may be given several times. */
  values(name: string): readonly string[];
}

export function readArguments(typed: readonly string[], options: readonly Option[], command: string): Arguments {
  const table = Object.fromEntries(
    options.map(({ name, short, takes, many }) => [
      name,
      {
        type: takes === undefined ? ('boolean' as const) : ('string' as const),
        ...(short === undefined ? {} : { short }),
        ...(many ? { multiple: true } : {}),
      },
    ]),
  );
  const { values, positionals, tokens } = parseArgs({
    args: [...typed],
    options: table,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  for (const token of tokens) if (token.kind === 'option') checkOption(token, options, command);
  return {
    given: positionals,
    has: (name) => values[name] === true,
    value: (name) => (typeof values[name] === 'string' ? values[name] : undefined),
    values: (name) => {
      const all = values[name];
      return Array.isArray(all) ? all.filter((one) => typeof one === 'string') : [];
    },
  };
}

function checkOption(
  { name, rawName, value }: { readonly name: string; readonly rawName: string; readonly value?: string | undefined },
  options: readonly Option[],
  command: string,
): void {
  const option = options.find((one) => one.name === name);
  if (!option) {
    const near = nearest(
      name,
      options.map((one) => one.name),
      1,
    )[0];
    throw new Refusal(
      `"thou ${command}" has no option ${rawName}${near === undefined ? '.' : `; did you mean --${near}?`} "thou help ${command}" tells them.`,
    );
  }
  if (option.takes === undefined && value !== undefined)
    throw new Refusal(`The option --${name} takes nothing behind it.`);
  if (option.takes !== undefined && (value === undefined || value === ''))
    throw new Refusal(`The option --${name} needs ${option.takes} behind it.`);
  if (option.words && !option.words.includes(value ?? ''))
    throw new Refusal(`The option --${name} takes ${option.words.join(' or ')}, not "${value}".`);
}
