/** The sheet beside the text: what the server sends, the ways between sheet and text, and that both agree after any edit. */
import { describe, expect, it } from 'vitest';
import { readLibrary } from '../../../language/src/command-line/library.ts';
import { figureAt, placeOnSheet, sheetOf } from '../../../language/src/services/sheet.ts';
import { library } from '../../reference/library.ts';
import { samples, workspaceOf } from './open.ts';

const { cautions, drawings } = readLibrary();
const guide = { library, cautions, drawings };
const uri = 'file:///tarn-427.thou';
const text = samples.get('tarn-427.thou')!;
const textDocument = { uri };

function lineOf(needle: string): number {
  return text.slice(0, text.indexOf(needle)).split('\n').length - 1;
}

describe('the sheet that is sent', () => {
  const workspace = workspaceOf(samples);

  it('is of the build that was asked for, else of the first', () => {
    const first = sheetOf(workspace, guide, { textDocument, build: null, kind: 'whole' })!;
    expect(first.build).toBe(first.builds[0]);
    expect(first.html).toContain(`data-build="${first.build}"`);
    for (const build of first.builds) {
      const told = sheetOf(workspace, guide, { textDocument, build, kind: 'bench' })!;
      expect(told.build).toBe(build);
      expect(told.html).toContain('class="sheet bench"');
    }
  });

  it('is none where there is no build, and the whole where the kind is unknown', () => {
    const empty = workspaceOf({ 'a.thou': 'use prelude 1\n' });
    expect(sheetOf(empty, guide, { textDocument: { uri: 'file:///a.thou' }, build: null, kind: 'whole' })).toBeNull();
    expect(sheetOf(workspace, guide, { textDocument, build: 'nobody', kind: 'x' })!.html).toContain(
      'class="sheet whole"',
    );
  });

  it('leads from every figure that it shows to a place in a text', () => {
    const { html, build } = sheetOf(workspace, guide, { textDocument, build: null, kind: 'whole' })!;
    const figures = new Set([...html.matchAll(/data-(?:cell|path)="([^"]+)"/g)].map((match) => match[1]!));
    expect(figures.size).toBeGreaterThan(100);
    for (const figure of figures)
      expect(placeOnSheet(workspace, { textDocument, build, figure }), figure).not.toBeNull();
    const findings = [...html.matchAll(/data-finding="([^"]+)"/g)].map((match) =>
      match[1]!.replaceAll('&quot;', '"').replaceAll('&#39;', "'"),
    );
    expect(findings.length).toBeGreaterThan(0);
    for (const finding of findings)
      expect(placeOnSheet(workspace, { textDocument, build, finding }), finding).not.toBeNull();
  });

  it('and from the text to the figure', () => {
    const line = lineOf('redline:');
    const found = figureAt(workspace, uri, { line, character: text.split('\n')[line]!.indexOf('redline') + 2 });
    expect(found).toEqual({ build: 'tarn-427', figure: 'redline' });
    expect(placeOnSheet(workspace, { textDocument, build: 'tarn-427', figure: 'redline' })).toMatchObject({
      uri,
      range: { start: { line } },
    });
  });

  it('answers nothing to names that nobody knows', () => {
    expect(placeOnSheet(workspace, { textDocument, build: 'tarn-427', figure: '__proto__' })).toBeNull();
    expect(placeOnSheet(workspace, { textDocument, build: 'tarn-427', finding: 'nothing' })).toBeNull();
    expect(placeOnSheet(workspace, { textDocument, build: 'nobody', figure: 'redline' })).toBeNull();
  });
});

/** Numbers that come out the same every time. */
function* drawn(seed: number): Generator<number, never> {
  for (let state = seed; ;) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    yield state / 2 ** 32;
  }
}

describe('sheet and text', () => {
  it('agree after any edit: the sheet is that of a fresh look', () => {
    const chance = drawn(427);
    const next = (): number => chance.next().value;
    const workspace = workspaceOf(samples);
    let now = text;
    for (let edit = 0; edit < 3; edit++) {
      const figures = [...now.matchAll(/\d+\.\d+/g)];
      const figure = figures[Math.floor(next() * figures.length)]!;
      const other = next() < 0.2 ? '' : (Number(figure[0]) * (0.99 + 0.02 * next())).toFixed(4);
      now = now.slice(0, figure.index) + other + now.slice(figure.index + figure[0].length);
      workspace.open(uri, now);
      const fresh = workspaceOf(new Map([...samples, ['tarn-427.thou', now]]));
      const asked = { textDocument, build: null, kind: 'whole' };
      expect(sheetOf(workspace, guide, asked), `edit ${edit}: ${figure[0]} → ${other}`).toEqual(
        sheetOf(fresh, guide, asked),
      );
    }
  });
});
