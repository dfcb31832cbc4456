// What is wrong with a text itself, by file and line: what a comparison of two states tells of them.
import type { Mistake } from '@thou/shared/result/diff';
import { positions } from '../grammar/file.ts';
import type { Problem } from '../semantics/problems/places.ts';

/** Of weight "error" alone. */
export function mistakesIn(
  problems: readonly Problem[],
  textOf: (uri: string) => string,
  nameOf: (uri: string) => string,
): Omit<Mistake, 'in'>[] {
  return problems
    .filter(({ severity }) => severity === 'error')
    .map(({ uri, start, code, message }) => ({
      file: nameOf(uri),
      line: positions(textOf(uri)).at(start).line + 1,
      code,
      message: message.replaceAll('\n', ' '),
    }));
}
