// What a command is, and what they share.
import type { Arguments, Option } from './arguments.ts';
import type { Output } from './terminal.ts';

export interface Streams {
  readonly out: Output;
  readonly err: Output;
}

export interface Command {
  readonly name: string;
  /** What stands behind the name: `FILE NAME`. */
  readonly takes: string;
  readonly summary: string;
  readonly options: readonly Option[];
  readonly note?: string;
  run(args: Arguments, streams: Streams): Promise<number> | number;
}

export const rootOption: Option = {
  name: 'root',
  takes: 'FOLDER',
  text: 'files may be used from inside this folder (else: the repository of the file, or this folder)',
};
