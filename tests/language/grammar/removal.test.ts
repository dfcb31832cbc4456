/** One word taken out at every place of whole files: few messages, the first one where the word is missing. */
import { describe, expect, it } from 'vitest';
import { parseFile, positions } from '../../../language/src/grammar/file.ts';
import { scan } from '../../../language/src/grammar/scanner.ts';
import { nameOf } from '../../../language/src/grammar/tokens.ts';
import { fixtures } from './fixtures.ts';

interface Removal {
  readonly messages: number;
  /** The first message stands on the line of the word before, of the gap, or of the word behind. */
  readonly rightLine: boolean;
  readonly what: string;
}

function removals(name: string, text: string): Removal[] {
  const words = scan(text).tokens.filter((token) => nameOf(token) !== 'SEP');
  return words.map((word, i) => {
    const cut = text.slice(0, word.startOffset) + text.slice(word.startOffset + word.image.length);
    const { problems } = parseFile('test.thou', cut);
    const line = problems[0] === undefined ? null : positions(cut).at(problems[0].start).line + 1;
    const from = words[i - 1]?.startLine ?? 1;
    const to = words[i + 1]?.startLine ?? Infinity;
    return {
      messages: problems.length,
      rightLine: line === null || (line >= from && line <= to),
      what: `${name}:${String(word.startLine)} without ${word.image}`,
    };
  });
}

describe('a word is missing', () => {
  const all = fixtures.flatMap(({ name, text }) => removals(name, text));
  const told = all.filter(({ messages }) => messages > 0);

  it('costs at most 1.3 messages on average, and never more than 3', () => {
    const average = told.reduce((sum, { messages }) => sum + messages, 0) / told.length;
    console.log(`${all.length} removals, ${told.length} with a message, ${average.toFixed(3)} messages each`);
    expect(told.length).toBeGreaterThan(1000);
    expect(average).toBeLessThanOrEqual(1.3);
    expect(told.filter(({ messages }) => messages > 3)).toEqual([]);
  });

  it('is told on the right line in 90 of 100 places at least', () => {
    const right = told.filter(({ rightLine }) => rightLine).length / told.length;
    console.log(`${(right * 100).toFixed(1)} % on the right line`);
    expect(right).toBeGreaterThanOrEqual(0.9);
  });

  it('is told on its own line where a value is cut off behind its sign', () => {
    for (const { name, text } of fixtures) {
      const lines = text.split('\n');
      lines.forEach((line, i) => {
        const sign = /^(\s*[a-z-]+(?:\.[a-z-]+)*:)\s+\S/.exec(line);
        // in a list the next row may be the value
        if (sign?.[1] === undefined || /[{[]/.test(line) || line.endsWith(',')) return;
        const cut = [...lines.slice(0, i), sign[1], ...lines.slice(i + 1)].join('\n');
        const { problems } = parseFile('test.thou', cut);
        const places = positions(cut);
        expect([name, i, problems.map((problem) => places.at(problem.start).line)]).toEqual([name, i, [i]]);
      });
    }
  });
});
