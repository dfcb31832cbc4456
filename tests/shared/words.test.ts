// The reserved words are those of the grammar, and none of them is a unit.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { reservedWords } from '@thou/shared/words';
import { standardUnits } from '@thou/shared/unit/unit';
import { otherNames } from '@thou/shared/unit/standard';

const grammar = readFileSync(new URL('../../language/src/grammar/thou.langium', import.meta.url), 'utf8');

/** Every quoted word of the grammar's rules; the lines of terminals and comments hold none. */
function keywords(): string[] {
  const rules = grammar
    .split('\n')
    .filter((line) => !/^\s*(hidden\s+)?terminal\b/.test(line))
    .map((line) => line.replace(/\/\/.*$/, ''))
    .join('\n');
  return [...new Set([...rules.matchAll(/'([A-Za-z][A-Za-z-]*)'/g)].map(([, word]) => word!))];
}

describe('reserved words', () => {
  it('are exactly the words of the grammar', () => {
    expect(keywords().length).toBeGreaterThan(30);
    expect([...reservedWords].sort()).toEqual(keywords().sort());
  });

  it('are no unit, nor what somebody may write for one', () => {
    expect([...reservedWords].filter((word) => standardUnits.get(word) !== undefined)).toEqual([]);
    expect([...reservedWords].filter((word) => otherNames.has(word))).toEqual([]);
  });
});
