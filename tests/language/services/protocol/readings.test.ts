/** Readings and checks over the real streams: what any editor may ask for, in the protocol's own spelling. */
import { execFileSync } from 'node:child_process';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CodeLens } from 'vscode-languageserver-protocol';
import type { BuildFile, BuildTold, CommitsTold, FixTold, TextTold } from '@thou/shared/protocol-checks';
import type { DueReadings, PasteTold, ReadingTold, TableTold } from '@thou/shared/protocol-readings';
import { Editor, modern } from './client.ts';

const engine = `use prelude 1
build one {
  layout: inline-4
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket { bore: 82 mm, thickness: 0.9 mm }
  quench-limits: 1.2..1.8 mm
  measured on 2026-03-02 { block.bore: }
}
`;

let editor: Editor;
let uri: string;

beforeAll(async () => {
  editor = await Editor.start({
    files: { 'one.thou': engine, 'parts.thou': 'use prelude 1\npart R: Rod { length: 140 mm }\n' },
    capabilities: { ...modern, experimental: { commands: { commands: ['thou.showFindings'] } } },
  });
  uri = editor.uri('one.thou');
  const git = (...words: readonly string[]): unknown =>
    execFileSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@b.example', ...words], { cwd: editor.folder });
  git('init', '-q');
  git('add', '.');
  git('commit', '-qm', 'As it came');
  await editor.open(uri, engine.replace('thickness: 0.9', 'thickness: 0.8'));
});

afterAll(() => editor.stop());

function ask<T>(method: string, more: object): Promise<T> {
  return editor.connection.sendRequest(method, { textDocument: { uri }, ...more });
}

test('a block of cells becomes a list; what does not fit is refused', async () => {
  const lines = engine.split('\n');
  const line = lines.findIndex((text) => text.includes('block.bore:'));
  const at = { line, character: lines[line]!.indexOf('bore:') + 'bore:'.length };
  const range = { start: at, end: at };
  const told = await ask<PasteTold>('thou/paste', { range, text: '80,01\r\n80,02\r\n80,00\r\n79,99\r\n' });
  expect(told).toMatchObject({ text: ' [80.01, 80.02, 80.00, 79.99] mm', problem: null });
  expect(await ask<PasteTold>('thou/paste', { range, text: '80.01\n80.02' })).toMatchObject({
    text: null,
    problem: expect.stringMatching(/^2 cells/) as string,
  });
  expect(await ask('thou/paste', { range, text: 'no figures' })).toBeNull();
});

test('what is due, one reading of it, and a table', async () => {
  const due = await ask<DueReadings>('thou/due', { build: null, position: { line: 3, character: 2 } });
  expect(due.build).toBe('one');
  const by = { build: 'one', date: '2026-03-04', hand: 'B. K.', instrument: null };
  const [first] = due.readings;
  const told = await ask<ReadingTold>('thou/reading', { ...by, figure: first!.figure, typed: '79.95' });
  expect(told).toMatchObject({ problem: null });
  expect(told.edits[0]!.newText).toContain('measured on 2026-03-04 by "B. K." {');
  const table = await ask<TableTold>('thou/table', { ...by, figure: 'block.bore', name: 'bores.csv' });
  expect(table).toMatchObject({ csv: 'cylinder,bore [mm]\n1,\n2,\n3,\n4,\n' });
});

test('files with builds, how their checks stand, fixes with the text as it would be, what stands above a build', async () => {
  const files = await ask<BuildFile[]>('thou/buildFiles', {});
  expect(files.map((file) => [file.uri, file.builds.map(({ name }) => name)])).toEqual([[uri, ['one']]]);
  const [one] = await ask<BuildTold[]>('thou/standing', {});
  expect(one!.checks.find(({ id }) => id === 'quench-clearance')).toMatchObject({ state: 'holds' });
  const fixes = await ask<FixTold[]>('thou/fixes', { range: one!.where.range });
  expect(Array.isArray(fixes)).toBe(true);
  const [lens] = await ask<CodeLens[]>('textDocument/codeLens', {});
  const shown = await editor.connection.sendRequest<CodeLens>('codeLens/resolve', lens);
  expect(shown.command).toMatchObject({
    title: expect.stringMatching(/^\d+ hold · \d+ out · \d+ to measure$/) as string,
    command: 'thou.showFindings',
    arguments: [uri, 'one'],
  });
});

test('earlier commits, and what changed since one', async () => {
  expect(editor.result.capabilities.experimental).toMatchObject({ commits: true });
  const told = await ask<CommitsTold>('thou/commits', {});
  if ('problem' in told) throw new Error(told.problem);
  expect(told.commits.map(({ subject }) => subject)).toEqual(['As it came']);
  const changes = await ask<TextTold>('thou/changes', { since: told.commits[0]!.name });
  if ('problem' in changes) throw new Error(changes.problem);
  expect(changes.text).toMatch(/head-gasket\[1\]\.thickness +0\.9 mm .* 0\.8 mm/);
  expect(await ask('thou/changes', { since: 'HEAD' })).toHaveProperty('problem');
});
