/** Checks one by one for lists and tests, fixes that are looked at first, what stands above a build, and earlier commits. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CodeLens } from 'vscode-languageserver-protocol';
import { settingsIn } from '@thou/shared/settings';
import type { BuildTold, FixTold } from '@thou/shared/protocol-checks';
import { past } from '../../../language/src/command-line/past.ts';
import { buildsIn } from '../../../language/src/services/checks/builds.ts';
import { changesSince } from '../../../language/src/services/checks/commits.ts';
import { fixesFeature } from '../../../language/src/services/checks/fixes.ts';
import { buildLenses, lensFeature, partLenses, resolved } from '../../../language/src/services/checks/lens.ts';
import { standingOf } from '../../../language/src/services/checks/standing.ts';
import type { Asked } from '../../../language/src/services/feature.ts';
import { breathe, workspaceOf } from './open.ts';

const uri = 'file:///one.thou';
const engine = `use prelude 1
part G: Gasket { thickness: 0.9 mm }
/// As it was drawn.
build one {
  layout: single
  redline: 7000 rpm
  over-speed: 7400 rpm
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket: G { bore: 82 mm }
  quench-limits: 1.2..1.8 mm
  expect redline within <= 7200 rpm
  expect over-speed within <= 7200 rpm
  expect over-speed within <= 7200 rpm
}
variant thin of one { head-gasket.thickness: 0.5 mm }
`;
const workspace = workspaceOf({ 'one.thou': engine });
const asked = (more: object = {}): Asked =>
  ({ workspace, breathe, client: {}, settings: () => Promise.resolve(settingsIn({})), ...more }) as unknown as Asked;

describe('how checks stand', () => {
  let one: BuildTold | undefined;
  let thin: BuildTold | undefined;
  beforeAll(async () => {
    [one, thin] = await standingOf(workspace, uri, breathe);
  });

  test('each check once, under a name that stays, with its state, its words and its place', () => {
    expect([one!.name, thin!.name]).toEqual(['one', 'thin']);
    const ids = one!.checks.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.filter((id) => id.startsWith('expect over-speed'))).toHaveLength(2);
    const quench = one!.checks.find(({ id }) => id === 'quench-room' || /quench/.test(id))!;
    expect(quench).toMatchObject({ state: 'out', stateWords: 'out of limits' });
    expect(quench.words).toMatch(/^Quench is 1\.900 mm: 0\.100 mm over the greatest, 1\.800 mm\.\n/);
    expect(thin!.checks.find(({ id }) => id === quench.id)).toMatchObject({ state: 'holds' });
    expect(one!.checks.find(({ id }) => id.startsWith('expect redline'))).toMatchObject({ state: 'holds' });
    for (const { where, words } of one!.checks) {
      expect(where.uri).toBe(uri);
      expect(words).not.toBe('');
    }
    expect(one!.findings).toContain(quench.id);
    expect(one!.findings.every((id) => ids.includes(id))).toBe(true);
  });

  test('what is due, by its name and its place in this file', () => {
    const bore = one!.toMeasure.find(({ figure }) => figure === 'block.bore')!;
    expect(bore.label).toBe('Block bore');
    expect(engine.split('\n')[bore.where.range.start.line]).toContain('bore: 80.0 mm');
    for (const { where } of [...one!.toMeasure, ...one!.toOrder]) expect(where.uri).toBe(uri);
  });

  test('names stay when something else is edited', async () => {
    const edited = workspaceOf({ 'one.thou': engine.replace('7000 rpm', '7100 rpm') });
    const [first] = await standingOf(edited, uri, breathe);
    expect(first!.checks.map(({ id }) => id)).toEqual(one!.checks.map(({ id }) => id));
  });
});

test('files without a build are none for tests', () => {
  expect(buildsIn(workspace, uri)).toMatchObject({
    builds: [
      { name: 'one', range: { start: { line: 3 }, end: { line: 16 } } },
      { name: 'thin', range: { start: { line: 17 }, end: { line: 17 } } },
    ],
  });
  expect(buildsIn(workspaceOf({ 'parts.thou': 'use prelude 1\npart A: Rod { }\n' }), 'file:///parts.thou')).toBeNull();
  for (const at of workspace.known()) if (workspace.isOfLibrary(at)) expect(buildsIn(workspace, at)).toBeNull();
});

test('a text that changes meanwhile is told as it is then', async () => {
  const moving = workspaceOf({ 'one.thou': engine });
  let times = 0;
  const told = await standingOf(moving, uri, () => {
    if (times++ === 0) moving.open(uri, engine.replace('build one', '\n\nbuild one'));
    return Promise.resolve();
  });
  expect(told.map(({ where }) => where.range.start.line)).toEqual([5, 19]);
});

describe('above a build', () => {
  test('stands how it does, worked out when it is shown; only editors that have the command are sent it', async () => {
    const lenses = buildLenses(workspace, uri);
    expect(lenses.map(({ range, command }) => [range.start.line, command])).toEqual([
      [3, undefined],
      [17, undefined],
    ]);
    const words = /^\d+ hold · [23] out · \d+ to measure$/;
    const plain = await resolved(lenses[0]!, asked());
    expect(plain.command).toEqual({ title: expect.stringMatching(words) as string, command: '' });
    const client = { experimental: { commands: { commands: ['thou.showFindings'] } } };
    const linked = await resolved(lenses[0]!, asked({ client }));
    expect(linked.command).toEqual({
      title: expect.stringMatching(words) as string,
      command: 'thou.showFindings',
      arguments: [uri, 'one'],
    });
  });

  test('a build that is gone has nothing above it', async () => {
    const [lens] = buildLenses(workspace, uri);
    const gone = workspaceOf({ 'one.thou': 'use prelude 1\n' });
    expect((await resolved(lens!, asked({ workspace: gone }))).command?.title).toBe('');
  });

  test('parts tell where they are used, if that is asked for', async () => {
    const [part] = partLenses(workspace, uri);
    expect((await resolved(part!, asked())).command!.title).toBe('used in 1 place');
    const list = (codeLens: object) =>
      lensFeature.requests[0]!.handle(
        { textDocument: { uri } },
        asked({ settings: () => Promise.resolve(settingsIn({ codeLens })) }),
      ) as Promise<CodeLens[]>;
    expect(await list({})).toHaveLength(2);
    expect(await list({ parts: true })).toHaveLength(3);
    expect(await list({ build: false })).toHaveLength(0);
  });
});

test('a fix is shown with all that comes of it, and changes nothing by that', async () => {
  const line = engine.split('\n').findIndex((text) => text.includes('thickness: 0.9'));
  const at = { line, character: engine.split('\n')[line]!.indexOf('0.9') };
  const fixes = (await fixesFeature.requests[0]!.handle(
    { textDocument: { uri }, range: { start: at, end: at } },
    asked(),
  )) as FixTold[];
  expect(workspace.source(uri)!.text).toBe(engine);
  for (const { title, text, edits } of fixes) {
    expect(title).not.toBe('');
    expect(text).not.toBe(engine);
    expect(edits.length).toBeGreaterThan(0);
    const tried = workspaceOf({ 'one.thou': text });
    expect(tried.result(uri).problems.filter(({ code }) => code.startsWith('syntax'))).toEqual([]);
  }
  const quench = engine.split('\n').findIndex((text) => text.includes('deck-height'));
  const deck = { line: quench, character: engine.split('\n')[quench]!.indexOf('206') };
  const more = (await fixesFeature.requests[0]!.handle(
    { textDocument: { uri }, range: { start: deck, end: deck } },
    asked(),
  )) as FixTold[];
  expect(fixes.length + more.length).toBeGreaterThan(0);
});

describe('since an earlier commit', () => {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-past-')));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const git = (...words: readonly string[]): string =>
    execFileSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@b.example', ...words], {
      cwd: folder,
      encoding: 'utf8',
    });
  const there = pathToFileURL(join(folder, 'one.thou')).href;
  const put = (text: string, subject: string): void => {
    writeFileSync(join(folder, 'one.thou'), text);
    git('add', '.');
    git('commit', '-qm', subject);
  };

  test('the commits of a file are listed, and what changed since one is told; settings of the repository run nothing', () => {
    git('init', '-q');
    put(engine, 'First "drawing"');
    put(engine.replace('thickness: 0.9', 'thickness: 0.8'), 'Thinner\n\nlong story');
    writeFileSync(join(folder, 'other.txt'), '');
    git('add', '.');
    git('commit', '-qm', 'Something else');
    const ran = join(folder, 'ran');
    for (const [key, value] of [
      ['core.fsmonitor', `touch ${ran}`],
      ['gpg.program', `touch ${ran}`],
      ['log.showSignature', 'true'],
      ['diff.external', `touch ${ran}`],
      ['core.pager', `touch ${ran}`],
    ])
      git('config', key!, value!);
    const commits = past.commitsOf(there);
    if ('problem' in commits) throw new Error(commits.problem);
    expect(commits.map(({ subject }) => subject)).toEqual(['Thinner', 'First "drawing"']);
    expect(commits[0]!.when).toMatch(/^\d{4}-\d{2}-\d{2} \d{2}:\d{2}$/);
    const own = workspaceOf({});
    own.open(there, engine.replace('thickness: 0.9', 'thickness: 0.7'));
    const told = changesSince(own, past, there, commits[1]!.name);
    expect(told).toMatchObject({ text: expect.stringContaining('0.9') as string });
    expect((told as { text: string }).text).toMatch(/0\.7/);
    expect((told as { text: string }).text).not.toContain('Mistakes in the text');
    own.change(there, engine.replace('7000 rpm', '7000 mm'));
    expect(changesSince(own, past, there, commits[1]!.name)).toMatchObject({
      text: expect.stringMatching(/Mistakes in the text[^]*:6 +new +redline/) as string,
    });
    expect(() => realpathSync(ran)).toThrow();
  });

  test('what is no commit, no repository or was not there is said', () => {
    const own = workspaceOf({});
    own.open(there, engine);
    for (const since of ['--output=x', 'HEAD', '', 'f'.repeat(40)])
      expect(changesSince(own, past, there, since), since).toHaveProperty('problem');
    expect(past.commitsOf('untitled:one')).toHaveProperty('problem');
    const outside = realpathSync(mkdtempSync(join(tmpdir(), 'thou-none-')));
    expect(past.commitsOf(pathToFileURL(join(outside, 'a.thou')).href)).toHaveProperty('problem');
    rmSync(outside, { recursive: true });
  });
});
