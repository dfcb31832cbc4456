/** What a check that is so or not so has compared stands in its finding. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../language/src/report/findings.ts';
import { runEdited } from './run.ts';

const lineOf = (members: string, id: string, label: string): string | undefined => {
  const { outcome } = runEdited(`use prelude 1\nbuild b {\nlayout: inline-4\n${members}\n}\n`).builds[0]!;
  const told = findingsOf(outcome, { placeOf: () => null, nameOf: () => '' }).find(({ check }) => check.id === id);
  return told?.lines.find((line) => line.label === label)?.text;
};
const figuresOf = (members: string, id: string): string | undefined => lineOf(members, id, 'Figures');

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

test('a limit that is itself left out is told with its sign', () => {
  const order = 'layout: inline-4 { firing-order: [1, 4, 3, 2] }';
  expect(lineOf(order, 'layout.one-fires-at-a-time', 'Limits')).toMatch(/^> 0\.0 deg, /);
  const ground = 'crank { least-main-journal: 50 mm, main-journal: 49 mm }';
  expect(lineOf(ground, 'crank.main-journal-can-be-ground', 'Limits')).toMatch(/^≥ 50\.000 mm, /);
});

test('what a cut only makes worse is not offered to be cut', () => {
  const ground = 'crank { least-main-journal: 50 mm, main-journal: 49 mm }';
  expect(lineOf(ground, 'crank.main-journal-can-be-ground', 'What to do')).toBe(
    'order another size, or take another part: a cut only makes it worse',
  );
  const gap =
    'block.bore: 80 mm\nmeasured { ring.gap[top]: [0.20, 0.40, 0.40, 0.40] mm }\nduty: street, redline: 6000 rpm\ncrank.stroke: 80 mm, rod.length: 130 mm';
  expect(lineOf(gap, 'top-ring-gap', 'What to do')).toBe('change ring gap (a cut only makes it larger)');
});
