/** The whole loop over a real process: what is typed comes back as diagnostics, with its version, in the right columns. */
import { rmSync } from 'node:fs';
import { afterEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { Editor, modern, type StartOptions } from './client.ts';

let editor: Editor;
afterEach(() => editor.tidy());

async function start(options: StartOptions = {}): Promise<Editor> {
  editor = await Editor.start(options);
  return editor;
}

const build = (bore: string): string => `use prelude 1\n\nbuild jig {\n  block.bore: ${bore}\n}\n`;

/** Beside what is only missing. */
function mistakes({ diagnostics }: { diagnostics: Diagnostic[] }): unknown[] {
  return diagnostics.filter(({ code }) => code !== 'missing').map(({ code }) => code);
}

describe('edit and answer', () => {
  test('each version is answered, and the mended text is clean', async () => {
    const { connection } = await start();
    const uri = editor.uri('jig.thou');
    await editor.open(uri, build('4.125 inn'), 7);
    const first = await editor.until(uri, ({ version }) => version === 7, 0);
    expect(first.diagnostics.map(({ code, range, source, severity }) => ({ code, range, source, severity }))).toEqual(
      expect.arrayContaining([
        {
          code: 'unit.unknown',
          source: 'thou',
          severity: 1,
          range: { start: { line: 3, character: 20 }, end: { line: 3, character: 23 } },
        },
      ]),
    );
    const version = await editor.change(uri, {
      range: { start: { line: 3, character: 22 }, end: { line: 3, character: 23 } },
      text: '',
    });
    const mended = await editor.until(uri, (told) => told.version === version, 0);
    expect(version).toBe(8);
    expect(mistakes(mended)).toEqual([]);
    // and the answer is that of a fresh look
    const other = editor.uri('other.thou');
    await editor.open(other, build('4.125 in'));
    const fresh = await editor.until(other, () => true, 0);
    expect(mended.diagnostics).toEqual(fresh.diagnostics);
    expect(connection).toBeDefined();
  });

  test('many edits at once end with the last', async () => {
    await start();
    const uri = editor.uri('jig.thou');
    await editor.open(uri, build('4 in'));
    let version = 1;
    for (let i = 0; i < 30; i++) {
      const at = { line: 3, character: 14 };
      version = await editor.change(uri, { range: { start: at, end: at }, text: i % 2 === 0 ? '"' : ' ' });
    }
    version = await editor.change(uri, { text: build('4 in') });
    const told = await editor.until(uri, (one) => one.version === version, 0);
    expect(mistakes(told)).toEqual([]);
    const versions = editor.told.filter((one) => one.uri === uri).map((one) => one.version ?? 0);
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
  });

  test('a code has its page, a related place its file', async () => {
    await start();
    const uri = editor.uri('jig.thou');
    await editor.open(uri, 'use prelude 1\n\nbuild jig {\n}\n\nbuild jig {\n}\n');
    const { diagnostics } = await editor.until(uri, () => true, 0);
    const twice = diagnostics.find(({ code }) => code === 'name.taken');
    expect(twice?.codeDescription?.href).toMatch(/\/docs\/problems\/name\.taken\.md$/);
    expect(twice?.relatedInformation).toEqual([
      {
        message: 'first here',
        location: { uri, range: { start: { line: 2, character: 6 }, end: { line: 2, character: 9 } } },
      },
    ]);
  });

  test('an editor that can less is told less', async () => {
    await start({ capabilities: {} });
    const uri = editor.uri('jig.thou');
    await editor.open(uri, 'use prelude 1\n\nbuild jig {\n}\n\nbuild jig {\n}\n');
    const { diagnostics } = await editor.until(uri, () => true, 0);
    const twice = diagnostics.find(({ code }) => code === 'name.taken');
    expect(Object.keys(twice ?? {}).sort()).toEqual(['code', 'message', 'range', 'severity', 'source']);
    expect(editor.registered).toEqual([]);
  });

  test('at most a hundred of a file, and how many more', async () => {
    await start();
    const uri = editor.uri('jig.thou');
    const lines = Array.from({ length: 130 }, (_, i) => `  wrong-${i}: 1 in`);
    await editor.open(uri, `use prelude 1\n\nbuild jig {\n${lines.join('\n')}\n}\n`);
    const { diagnostics } = await editor.until(uri, () => true, 0);
    expect(diagnostics).toHaveLength(101);
    expect(diagnostics.at(-1)?.message).toMatch(/^and \d+ more$/);
    expect(diagnostics.filter(({ code }) => code === 'given.unused')).toEqual([]);
  });
});

describe('columns count as editors count', () => {
  const figures = '  block.bore: 4 inn';
  test.each([
    ['plus-minus', '/* ± */', 7],
    ['degree and cube', '/* °³ */', 8],
    ['emoji, two units wide', '/* 🔧 */', 8],
    ['a letter with its accent apart', '/* e\u0301 */', 8],
  ])('%s', async (_, comment, width) => {
    await start();
    const uri = editor.uri('jig.thou');
    await editor.open(uri, `use prelude 1\r\n\r\nbuild jig {\r\n${comment}${figures}\r\n}\r\n`);
    const { diagnostics } = await editor.until(uri, () => true, 0);
    expect(diagnostics.find(({ code }) => code === 'unit.unknown')?.range).toEqual({
      start: { line: 3, character: width + 16 },
      end: { line: 3, character: width + 19 },
    });
    // an edit in those columns hits the same letters
    const version = await editor.change(uri, {
      range: { start: { line: 3, character: width + 18 }, end: { line: 3, character: width + 19 } },
      text: '',
    });
    expect(mistakes(await editor.until(uri, (told) => told.version === version, 0))).toEqual([]);
  });
});

describe('files beside each other', () => {
  const library = (value: string): string => `use prelude 1\n\npart shelf-block: Block {\n  bore: ${value}\n}\n`;
  const user =
    'use prelude 1\nuse "shelf.thou"\n\nbuild jig {\n  layout: single\n  block: shelf-block\n  expect block.bore within 4.0..4.2 in\n}\n';

  test('a change in one shows in those that use it, open or not', async () => {
    await start({ files: { 'shelf.thou': library('4.1 in'), 'unseen.thou': user } });
    const [shelf, jig, unseen] = ['shelf.thou', 'jig.thou', 'unseen.thou'].map((name) => editor.uri(name)) as [
      string,
      string,
      string,
    ];
    await editor.open(jig, user);
    await editor.open(shelf, library('4.1 in'));
    expect(mistakes(await editor.until(jig, () => true, 0))).toEqual([]);
    const since = editor.told.length;
    await editor.change(shelf, { text: library('4.3 in') });
    expect(
      mistakes(await editor.until(jig, ({ diagnostics }) => diagnostics.some(({ code }) => code === 'expect'), since)),
    ).toContain('expect');
    await editor.until(unseen, ({ diagnostics }) => diagnostics.some(({ code }) => code === 'expect'), since);
    const order = editor.told.slice(since).map(({ uri }) => uri);
    expect(order.indexOf(shelf)).toBeLessThan(order.indexOf(jig));
    expect(order.indexOf(jig)).toBeLessThan(order.indexOf(unseen));
  });

  test('broken or deep text in one never stops the others', async () => {
    await start({ files: { 'bad.thou': `build x {\n  a: ${'('.repeat(20_000)}\n` } });
    const jig = editor.uri('jig.thou');
    const bad = editor.uri('bad.thou');
    await editor.open(jig, build('4 in'));
    const clean = await editor.until(jig, () => true, 0);
    for (const text of [
      '{'.repeat(50_000),
      `build x { a: ${'1 + '.repeat(9000)} 1 }`,
      '\0',
      '<<<<<<< a\n',
      '/*'.repeat(20_000),
    ]) {
      const since = editor.told.length;
      await editor.open(bad, text);
      await editor.until(bad, ({ diagnostics }) => diagnostics.length > 0, since);
      const version = await editor.change(jig, { text: build('4 inn') });
      expect(mistakes(await editor.until(jig, (told) => told.version === version, since))).toEqual(['unit.unknown']);
      const mended = await editor.change(jig, { text: build('4 in') });
      expect((await editor.until(jig, (told) => told.version === mended, since)).diagnostics).toEqual(
        clean.diagnostics,
      );
      await editor.close(bad);
    }
    const since = editor.told.length;
    await editor.open(bad, build('4 in'));
    expect((await editor.until(bad, ({ version }) => version === 1, since)).diagnostics).toEqual(clean.diagnostics);
  });

  test('what happens on disk is seen, unless the editor holds the file', async () => {
    await start({ files: { 'jig.thou': user, 'shelf.thou': library('4.3 in') } });
    const jig = editor.uri('jig.thou');
    await editor.until(jig, ({ diagnostics }) => diagnostics.some(({ code }) => code === 'expect'), 0);
    editor.write('shelf.thou', library('4.1 in'));
    let since = editor.told.length;
    await editor.happened('shelf.thou', 2);
    await editor.until(jig, ({ diagnostics }) => diagnostics.every(({ code }) => code !== 'expect'), since);
    // held in the editor: the disk does not count
    await editor.open(jig, build('4 inn'));
    await editor.until(jig, ({ version }) => version === 1, since);
    editor.write('jig.thou', build('4 in'));
    since = editor.told.length;
    await editor.happened('jig.thou', 2);
    const version = await editor.change(jig, { text: build('4 inn ') });
    expect(mistakes(await editor.until(jig, (told) => told.version === version, since))).toEqual(['unit.unknown']);
    // gone from the disk, gone from the list
    since = editor.told.length;
    await editor.happened('shelf.thou', 3);
    await editor.close(jig);
    await editor.until(jig, ({ diagnostics }) => mistakes({ diagnostics }).length === 0, since);
  });

  test('a file in use that is deleted is missed at once, in an open text too', async () => {
    const text = 'use prelude 1\nuse "shelf.thou"\n';
    await start({ files: { 'jig.thou': text, 'shelf.thou': 'part shelf-block: Block {}\n' } });
    const jig = editor.uri('jig.thou');
    await editor.open(jig, text);
    expect(mistakes(await editor.until(jig, () => true, 0))).toEqual([]);
    const since = editor.told.length;
    rmSync(`${editor.folder}/shelf.thou`);
    await editor.happened('shelf.thou', 3);
    await editor.until(jig, (told) => mistakes(told).includes('use.not-found'), since);
  });

  test('a table that is read counts as well', async () => {
    const text =
      'use prelude 1\n\nbuild jig {\n  layout: single\n  measured on 2026-01-02 {\n    block.bore: from "bores.csv"\n  }\n}\n';
    await start({ files: { 'jig.thou': text, 'bores.csv': 'cylinder,bore [inn]\n1,4.1\n' } });
    const jig = editor.uri('jig.thou');
    await editor.open(jig, text);
    const before = await editor.until(jig, () => true, 0);
    expect(mistakes(before).filter((code) => String(code).startsWith('csv.'))).not.toEqual([]);
    const since = editor.told.length;
    editor.write('bores.csv', 'cylinder,bore [in]\n1,4.1\n');
    await editor.happened('bores.csv', 2);
    await editor.until(jig, (told) => mistakes(told).every((code) => !String(code).startsWith('csv.')), since);
  });
});

describe('closing', () => {
  test('an untitled text takes its squiggles along', async () => {
    await start();
    const uri = 'untitled:Untitled-1';
    await editor.open(uri, build('4 inn'));
    await editor.until(uri, ({ diagnostics }) => diagnostics.length > 0, 0);
    const since = editor.told.length;
    await editor.close(uri);
    expect((await editor.until(uri, () => true, since)).diagnostics).toEqual([]);
  });

  test('so does a file that was deleted, and one that no folder holds', async () => {
    await start({ files: { 'in/jig.thou': build('4 inn'), 'out/jig.thou': build('4 inn') }, folders: ['in'] });
    const [inside, outside] = [editor.uri('in/jig.thou'), editor.uri('out/jig.thou')];
    await editor.open(outside, build('4 inn'));
    await editor.until(inside, ({ diagnostics }) => diagnostics.length > 0, 0);
    await editor.until(outside, ({ diagnostics }) => diagnostics.length > 0, 0);
    const since = editor.told.length;
    await editor.close(outside);
    expect((await editor.until(outside, () => true, since)).diagnostics).toEqual([]);
    rmSync(`${editor.folder}/in/jig.thou`);
    await editor.happened('in/jig.thou', 3);
    expect((await editor.until(inside, () => true, since)).diagnostics).toEqual([]);
  });

  test('what was typed and thrown away is forgotten', async () => {
    await start({ files: { 'jig.thou': build('4 in') } });
    const uri = editor.uri('jig.thou');
    await editor.open(uri, build('4 inn'));
    await editor.until(uri, (told) => mistakes(told).length > 0, 0);
    const since = editor.told.length;
    await editor.close(uri);
    await editor.until(uri, (told) => mistakes(told).length === 0 && told.version === undefined, since);
  });

  test('the other side of a comparison is no second copy', async () => {
    await start();
    await editor.open('git:/a/jig.thou?HEAD', build('4 inn'));
    const uri = editor.uri('jig.thou');
    await editor.open(uri, build('4 inn'));
    await editor.until(uri, () => true, 0);
    expect(editor.told.filter((one) => one.uri.startsWith('git:'))).toEqual([]);
  });
});

test('nothing is said on the error stream', async () => {
  await start({ capabilities: modern });
  const uri = editor.uri('jig.thou');
  await editor.open(uri, build('4 in'));
  await editor.until(uri, () => true, 0);
  expect(editor.errors).toBe('');
});
