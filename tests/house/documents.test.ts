/** What stands in the documents as an example of the language is read and worked out by it. */
import { expect, test } from 'vitest';
import { run } from '../reference/run.ts';
import { textOf } from './walls.ts';

const examples = ['README.md', 'DEVELOPERS.md'].flatMap((file) =>
  [...textOf(file).matchAll(/```thou\n([^]*?)```/g)].map((match, i) => ({
    name: `${file}, example ${i + 1}`,
    text: match[1]!,
  })),
);

test('there is an example to look at', () => {
  expect(examples.length).toBeGreaterThan(0);
});

test.each(examples)('$name has no slip and gives figures', ({ text }) => {
  const { slips, builds } = run(text);
  expect(slips).toEqual([]);
  expect(builds.length).toBeGreaterThan(0);
  for (const build of builds) expect(build.figures('compression').every(Number.isFinite)).toBe(true);
});

test('an example with a slip would be found', () => {
  expect(run(examples[0]!.text.replace('bore:', 'boar:')).slips).not.toEqual([]);
});
