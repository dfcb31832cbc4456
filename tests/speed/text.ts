/** Texts of a wanted length, made of the sample builds: what a file of a busy shop looks like. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

export const samples = new URL('../../samples/', import.meta.url).pathname;

/** A file of about `lines` lines: builds like the sample, each under a name of its own, with the parts that they share. */
export function fileOf(lines: number): string {
  const text = readFileSync(join(samples, 'tarn-427.thou'), 'utf8');
  const start = text.search(/^(\/\/\/[^\n]*\n)*build /m);
  const [head, builds] = [text.slice(0, start), text.slice(start)];
  const perCopy = builds.split('\n').length;
  const copies = Math.max(1, Math.round((lines - head.split('\n').length) / perCopy));
  const renamed = (copy: number): string =>
    builds.replace(
      /^(build|variant) ([\w-]+)( of ([\w-]+))?/gm,
      (_, word: string, name: string, of: string | undefined, base: string | undefined) =>
        `${word} ${name}-${copy}${of ? ` of ${base}-${copy}` : ''}`,
    );
  return head + Array.from({ length: copies }, (_, copy) => renamed(copy + 1)).join('\n');
}
