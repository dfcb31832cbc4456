/** Reductions as a person would write them in a loop: what each starts from, and the line that takes one figure more in. */

export const starts: ReadonlyMap<string, string> = new Map([
  ['sum', '0'],
  ['mean', '0'],
  ['count', '0'],
  ['min', 'Infinity'],
  ['max', '-Infinity'],
  ['spread', '-Infinity'],
  ['any', '0'],
  ['all', '1'],
]);
const largest = (kept: string, x: string): string => `${kept} = Math.max(${kept}, ${x});`;
const smallest = (kept: string, x: string): string => `${kept} = Math.min(${kept}, ${x});`;
const added = (kept: string, x: string): string => `${kept} += ${x};`;
/** One more figure taken in; `least` only for what keeps both ends. */
export const steps: ReadonlyMap<string, (kept: string, x: string, least: string) => string> = new Map([
  ['sum', added],
  ['mean', added],
  ['count', () => ''],
  ['min', smallest],
  ['max', largest],
  ['any', largest],
  ['all', smallest],
  [
    'spread',
    (kept: string, x: string, least: string) => `const x = ${x}; ${largest(kept, 'x')} ${smallest(least, 'x')}`,
  ],
]);
