/** Texts that tell of a file, for readers and for language models. */
import { expect, test } from 'vitest';
import type { ReportAnswer, ReportAsked, ReportTold, ToolTold } from '@thou/shared/protocol';
import { answered } from './asking.ts';
import { marked, workspaceOf } from './open.ts';

/** Three steps from what is given to what is expected, without the trade. */
const rig = `component Rig {
  /// As given.
  thickness: Length as 0.000 in
  stack: Length as 0.000 in = thickness * 2
  derive gap: Length as 0.000 in = stack + 0.010 in
  derive play: Length as 0.000 in = gap - stack
  rule room: warning { expect gap within 0.040..0.050 in, because "it has to move", adjust thickness }
}
extend Engine { rig: Rig }
`;
const job = `use prelude 1
use "rig.thou"
build one { rig.thickness: 0.020 in }
variant two of one { rig.thickness: 0.010 in }
`;
const uri = 'file:///job.thou';
const workspace = workspaceOf({ 'job.thou': job, 'rig.thou': rig, 'parts/empty.thou': 'use prelude 1\n' });

function report(asked: Partial<ReportAsked>, over = workspace): Promise<ReportAnswer> {
  const whole = { textDocument: { uri }, build: null, ...asked };
  return answered(over, 'thou/report', whole) as Promise<ReportAnswer>;
}
async function told(asked: Partial<ReportAsked>): Promise<ReportTold> {
  const answer = await report(asked);
  if ('problem' in answer) throw new Error(answer.problem);
  return answer;
}
async function problem(asked: Partial<ReportAsked>): Promise<string> {
  const answer = await report(asked);
  return 'problem' in answer ? answer.problem : '';
}
const after = (text: string, title: string): string[] =>
  text
    .slice(text.indexOf(`\n${title}\n`) + title.length + 2)
    .split('\n\n')[0]!
    .trimEnd()
    .split('\n');

test('a figure is taken apart to what was given, and followed to what is checked, each step set in', async () => {
  const { text, title, build } = await told({ sort: 'explanation', figure: 'rig.gap' });
  expect([title, build]).toEqual(['rig.gap', 'one']);
  expect(text).toMatch(/^rig\.gap = 0\.050 in\n/);
  expect(after(text, 'Made of')).toEqual([
    expect.stringMatching(/^ {2}rig\.stack = 0\.040 in: worked out \(.*rig\.thou:4\)$/),
    expect.stringMatching(/^ {4}rig\.thickness = 0\.020 in: given, one \(.*job\.thou:3\)$/),
  ]);
  expect(after(text, 'Used by')).toEqual([
    expect.stringMatching(/^ {2}Rule: Rig gap is 0\.050 in: holds on paper\.$/),
    '  rig.play = 0.010 in',
  ]);
});

test('what is used in several ways is followed once', async () => {
  const { text } = await told({ sort: 'explanation', figure: 'rig.thickness' });
  expect(after(text, 'Used by')).toEqual([
    '  rig.stack = 0.040 in',
    '    rig.gap = 0.050 in',
    expect.stringContaining('      Rule: Rig gap'),
    '      rig.play = 0.010 in',
    '    rig.play = 0.010 in',
  ]);
});

test('each line leads to where the thing is written', async () => {
  const { text, links } = await told({ sort: 'explanation', figure: 'rig.gap' });
  const lines = text.split('\n');
  const leads = links.map(({ line, start, end, target }) => [
    lines[line]!.slice(start, end),
    `${target.uri.split('/').pop()}:${target.range.start.line + 1}`,
  ]);
  expect(leads).toEqual([
    ['rig.gap', 'rig.thou:5'],
    ['rig.stack', 'rig.thou:4'],
    ['rig.thickness', 'job.thou:3'],
    ['Rule', 'rig.thou:7'],
    ['rig.play', 'rig.thou:6'],
  ]);
});

test.each([
  ['build one { rig.thick|ness: 0.020 in }', 'rig.thickness'],
  ['build one { rig.thickness: 0.0|20 in }', 'rig.thickness'],
  ['build one { rig { thickness: 0.0|20 in } }', 'rig.thickness'],
  ['build one { rig.thickness: 0.020 in, expect rig.g|ap within 0.03..0.06 in }', 'rig.gap'],
  ['build one { block.bore-reading: [1: [[80.01, 80.|02]]] mm }', 'block.bore-reading'],
  ['bu|ild one { }', null],
])('the figure at the cursor of %s', async (line, figure) => {
  const { text, offset } = marked(`use prelude 1\nuse "rig.thou"\n${line}\n`);
  const before = text.slice(0, offset).split('\n');
  const position = { line: before.length - 1, character: before.at(-1)!.length };
  const answer = await report({ sort: 'explanation', position }, workspaceOf({ 'job.thou': text, 'rig.thou': rig }));
  if (figure === null) expect(answer).toEqual({ problem: expect.stringContaining('Put the cursor on') });
  else expect('problem' in answer ? answer.problem : answer.figure?.replaceAll(/\[[^\]]*\]/g, '')).toBe(figure);
});

test('the build is the one at the cursor, or the one that is named', async () => {
  const position = { line: 3, character: 28 };
  expect(await told({ sort: 'explanation', position })).toMatchObject({ build: 'two', figure: 'rig.thickness' });
  expect((await told({ sort: 'explanation', build: 'two', figure: 'rig.gap' })).text).toMatch(/^rig\.gap = 0\.030 in/);
  expect(await problem({ sort: 'toMeasure', build: 'three' })).toMatch(/no build "three"; it has one, two/);
  expect(await problem({ sort: 'explanation', figure: 'rig.gpa' })).toMatch(/no figure "rig.gpa".*rig\.gap/);
});

test('findings, the gravest first, and how each build stands', async () => {
  const { text } = await told({ sort: 'findings' });
  expect(text).toMatch(/^one: .*hold/m);
  expect(text).toMatch(/^two, a variant of one: 1 out of limits/m);
  expect(text).toMatch(/^warning, line 4: In two: Rig gap is 0\.030 in: 0\.010 in under the least, 0\.040 in/m);
});

test('ways back from a target, and builds beside each other', async () => {
  const { text } = await told({ sort: 'ways', goals: ['rig.gap = 0.046 in'] });
  expect(text).toMatch(/rig\.thickness 0\.020 → 0\.018 in/);
  expect(await problem({ sort: 'ways', goals: [] })).toMatch(/Say what is wanted/);
  expect(await problem({ sort: 'ways', goals: ['rig.gap = 1 cc'] })).toMatch(/In "rig\.gap = 1 cc"/);
  expect(await problem({ sort: 'ways', goals: ['rig.gap = 0.046 in'], turn: ['rig.play'] })).toMatch(
    /worked out from others/,
  );
  expect((await told({ sort: 'comparison' })).text).toMatch(/one +two/);
});

function asked(tool: string, input: unknown, active: string | null = null): Promise<string> {
  return (answered(workspace, 'thou/tool', { tool, input, active }) as Promise<ToolTold>).then(({ text }) => text);
}

test('a language model is answered in words, whatever it asks', async () => {
  expect(await asked('thou_check', { file: 'job.thou' })).toMatch(/two, a variant of one: 1 out of limits/);
  expect(await asked('thou_explain', { figure: 'rig.gap' }, uri)).toMatch(/^rig\.gap = 0\.050 in/);
  expect(await asked('thou_to_measure', { file: './job.thou', build: 'two' })).toMatch(/^two\n/);
  expect(await asked('thou_solve', { file: 'job.thou', goals: 'rig.gap = 0.046 in', turn: ['rig.thickness'] })).toMatch(
    /0\.018 in/,
  );
  expect(await asked('thou_check', {})).toMatch(/^Say which file: .*job\.thou/);
  expect(await asked('thou_check', { file: '/etc/passwd' })).toMatch(/^There is no file "\/etc\/passwd"; there are/);
  expect(await asked('thou_check', { file: 'stack-up.thou' })).toMatch(/^There is no file/);
  expect(await asked('thou_explain', ['x'], uri)).toMatch(/Say which figure/);
  expect(await asked('thou_explain', { figure: '__proto__' }, uri)).toMatch(/no figure "__proto__"|cannot be read/);
  expect(await asked('thou_write', {}, uri)).toBe('There is no tool "thou_write".');
});

test('an answer has an end', async () => {
  const many = Array.from({ length: 3000 }, (_, at) => `  nothing-${at}: 3 mm`).join('\n');
  const large = workspaceOf({ 'large.thou': `use prelude 1\nbuild large {\n${many}\n}\n` });
  const { text } = (await answered(large, 'thou/tool', { tool: 'thou_check', input: {}, active: null })) as ToolTold;
  expect(text.length).toBeLessThan(20_100);
  expect(text).toMatch(/\n\d{3,} more lines are left out\.\n$/);
});
