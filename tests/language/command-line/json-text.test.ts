/** What is laid out for a person reads back as what it was. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { jsonText } from '../../../language/src/command-line/json-text.ts';

test('whatever it holds, a text of JSON reads back as JSON.stringify would have it', () => {
  fc.assert(
    fc.property(fc.jsonValue({ depthSize: 'medium' }), (thing) => {
      expect(JSON.parse(jsonText(thing))).toEqual(JSON.parse(JSON.stringify(thing)));
    }),
    { numRuns: 500, seed: 20261126 },
  );
});

test('rows of figures stand on one line, commas in a text stay as they are, what is not given is left out', () => {
  const thing = { figures: [1, null, [2.5, true]], words: ['a,b', 'c'], none: undefined, empty: {} };
  expect(jsonText(thing)).toBe(`{
  "figures": [
    1,
    null,
    [2.5, true]
  ],
  "words": [
    "a,b",
    "c"
  ],
  "empty": {}
}
`);
});
