/** What a check that is so or not so has compared stands in its finding. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../language/src/report/findings.ts';
import { runEdited } from './run.ts';

const figuresOf = (members: string, id: string): string | undefined => {
  const { outcome } = runEdited(`use prelude 1\nbuild b {\nlayout: inline-4\n${members}\n}\n`).builds[0]!;
  const told = findingsOf(outcome, { placeOf: () => null, nameOf: () => '' }).find(({ check }) => check.id === id);
  return told?.lines.find(({ label }) => label === 'Figures')?.text;
};

test('two texts, each with its name', () => {
  const bolts = 'match[head-bolts] { one-side: "M10x1.25", other-side: "M10x1.5" }';
  expect(figuresOf(bolts, 'match.goes-together')).toBe('match one side M10x1.25, match other side M10x1.5');
});
test('a choice', () => {
  const cracked = 'crack-test[block] { method: wet-magnetic, tested-on: 2026-01-01, crack: cracked }';
  expect(figuresOf(cracked, 'crack-test.crack-not-fitted')).toBe('crack test crack cracked');
});
test('not where one of them is missing', () => {
  expect(figuresOf('crack-test[block] { method: dye }', 'crack-test.crack-tested')).toBeUndefined();
});
