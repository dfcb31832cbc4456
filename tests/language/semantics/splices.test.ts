/** Texts of the cases cut and spliced at random: whatever comes out is read to its end, with every place inside the text. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { cases, projectOf } from './check.ts';

const texts = cases
  .filter(({ topic }) => !topic.startsWith('prelude'))
  .flatMap(({ files }) => files.filter(({ name }) => name.endsWith('.thou')).map(({ text }) => text));
const words = texts.map((text) => text.split(/(\s+|[()[\]{}:,.=+*/|-])/).filter((word) => word !== ''));

const spliced = fc
  .tuple(
    fc.nat(words.length - 1),
    fc.array(fc.tuple(fc.nat(400), fc.nat(3), fc.nat(words.length - 1), fc.nat(400), fc.nat(4)), {
      minLength: 1,
      maxLength: 4,
    }),
  )
  .map(([start, edits]) => {
    const text = [...words[start]!];
    for (const [at, cut, from, place, length] of edits) {
      const source = words[from]!;
      const begin = place % source.length;
      text.splice(at % text.length, cut, ...source.slice(begin, begin + length));
      if (text.length === 0) break;
    }
    return text.join('');
  });

it('any splice of the cases is read to its end', () => {
  fc.assert(
    fc.property(spliced, (text) => {
      for (const problem of projectOf(new Map([['main.thou', text]])).check('main.thou').problems) {
        expect(problem.message).not.toMatch(/\{[\w-]+\}|undefined|\[object/);
        expect(problem.start).toBeGreaterThanOrEqual(0);
        expect(problem.end).toBeLessThanOrEqual(text.length);
        for (const { edits } of problem.fixes)
          for (const edit of edits) expect(edit.end).toBeLessThanOrEqual(text.length);
      }
    }),
    { seed: 427, numRuns: 1_000 },
  );
});
