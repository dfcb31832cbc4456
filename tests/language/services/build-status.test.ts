/** The counts beside the language's name: each build with its lines, its checks as the command line counts them. */
import { expect, test } from 'vitest';
import { buildStandings } from '../../../language/src/services/build-status.ts';
import { hostileTexts, samples, workspaceOf } from './open.ts';

const engine = `use prelude 1
build first {
  redline: 7000 rpm
  over-speed: 7400 rpm
  expect redline within <= 7200 rpm
  expect over-speed within <= 7200 rpm
}

variant second of first {
  redline: 7300 rpm
}
`;

test('each build with its lines and its counts; a variant is counted for itself', () => {
  const standings = buildStandings(workspaceOf({ 'a.thou': engine }), 'file:///a.thou');
  expect(standings.map(({ name, lines, hold, out }) => ({ name, lines, hold, out }))).toEqual([
    { name: 'first', lines: [1, 6], hold: 1, out: 1 },
    { name: 'second', lines: [8, 10], hold: 0, out: 2 },
  ]);
});

test('what is still to be read is counted by figure', () => {
  const [gill] = buildStandings(workspaceOf(samples), 'file:///gill-350.thou');
  expect(gill).toMatchObject({ name: 'gill-350', out: 0 });
  expect(gill!.toMeasure).toBeGreaterThan(0);
});

test('a text cut in the middle is counted without a fuss', () => {
  for (const [path, text] of hostileTexts()) {
    const workspace = workspaceOf(samples);
    workspace.open(`file:///${path}`, text);
    expect(() => buildStandings(workspace, `file:///${path}`)).not.toThrow();
  }
});
