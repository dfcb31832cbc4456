// Text on its way to a terminal: control characters of files made visible, colour only where a person looks.
import { styleText } from 'node:util';
import type { Style } from '../report/style.ts';
import { plainStyle } from '../report/style.ts';

export interface Output {
  /** A person looks at it. */
  readonly isTerminal: boolean;
  readonly style: Style;
  write(text: string): void;
}

// C0 and C1 controls but the new line, and the marks that turn the direction of reading
const controls = /(?!\n)[\p{Cc}\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu;

/** A text of a file without any power over the terminal: `\u{1b}` for an escape; a tab becomes a blank. */
export function harmless(text: string): string {
  return text.replace(controls, (character) =>
    character === '\t' ? ' ' : `\\u{${character.charCodeAt(0).toString(16)}}`,
  );
}

/** The same for every text of a model. */
export function harmlessAll<T>(thing: T): T {
  if (typeof thing === 'string') return harmless(thing) as T;
  if (Array.isArray(thing)) return thing.map(harmlessAll) as T;
  if (typeof thing !== 'object' || thing === null) return thing;
  return Object.fromEntries(Object.entries(thing).map(([key, value]) => [key, harmlessAll(value)])) as T;
}

export function outputOf(stream: NodeJS.WriteStream): Output {
  stream.on('error', (problem: NodeJS.ErrnoException) => {
    // the reader closed the pipe: `thou sheet … | head` is no failure
    if (problem.code !== 'EPIPE') throw problem;
  });
  const isTerminal = stream.isTTY === true;
  return { isTerminal, style: isTerminal ? colours({ stream }) : plainStyle, write: (text) => void stream.write(text) };
}

/** The style of a stream again, where the stream itself is not at hand: in another thread. */
export function styleAs(painted: boolean): Style {
  return painted ? colours({ validateStream: false }) : plainStyle;
}

export function isPainted({ warn }: Style): boolean {
  return warn('x') !== 'x';
}

/** How far a stream shows colours, and whether its reader wants any, is found out by Node itself. */
function colours(where: Parameters<typeof styleText>[2]): Style {
  const painted = (format: Parameters<typeof styleText>[0]) => (text: string) => styleText(format, text, where);
  return { title: painted('bold'), bad: painted('red'), warn: painted('yellow'), faint: painted('dim') };
}
