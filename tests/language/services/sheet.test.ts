/** The sheet beside the text: what the server sends, the ways between sheet and text, and that both agree after any edit. */
import { describe, expect, it } from 'vitest';
import { readLibrary } from '../../../language/src/command-line/library.ts';
import { figureAt, placeOnSheet, sheetOf } from '../../../language/src/services/sheet.ts';
import type { SheetAsked, SheetTold } from '../../../shared/src/protocol.ts';
import { library } from '../../reference/library.ts';
import { samples, workspaceOf } from './open.ts';

const { cautions, drawings, sheets } = readLibrary();
const guide = { library, cautions, drawings, sheets };
const uri = 'file:///tarn-427.thou';
const text = samples.get('tarn-427.thou')!;
const textDocument = { uri };

function asked(kind: string, build: string | null = null): SheetAsked {
  return { textDocument, build, kind, open: null, have: {} };
}

function htmlOf(told: SheetTold | null): string {
  return (told?.pieces ?? []).map(({ html }) => html ?? '').join('\n');
}

function lineOf(needle: string): number {
  return text.slice(0, text.indexOf(needle)).split('\n').length - 1;
}

describe('the sheet that is sent', () => {
  const workspace = workspaceOf(samples);

  it('is of the build that was asked for, else of the first', () => {
    const first = sheetOf(workspace, guide, asked('whole'))!;
    expect(first.build).toBe(first.builds[0]);
    for (const build of first.builds.slice(0, 2)) {
      const told = sheetOf(workspace, guide, asked('bench', build))!;
      expect(told.build).toBe(build);
      expect(htmlOf(told)).toContain(`Bench sheet: ${build}`);
    }
  });

  it('is none where there is no build, and the first where the kind is unknown', () => {
    const empty = workspaceOf({ 'a.thou': 'use prelude 1\n' });
    expect(sheetOf(empty, guide, { ...asked('whole'), textDocument: { uri: 'file:///a.thou' } })).toBeNull();
    expect(sheetOf(workspace, guide, asked('x', 'nobody'))!.kind).toBe('whole');
  });

  it('leads from every figure that it shows to a place in a text', () => {
    const told = sheetOf(workspace, guide, asked('whole'))!;
    const [html, { build }] = [htmlOf(told), told];
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

  it('leaves out the inside of what is folded, and what the asker has', () => {
    const closed = sheetOf(workspace, guide, { ...asked('whole'), open: ['chapter-block'] })!;
    const piece = (told: SheetTold, id: string) => told.pieces.find((one) => one.id === id)!;
    expect(piece(closed, 'chapter-block').html).toContain('data-row="block.bore"');
    expect(piece(closed, 'chapter-crank').html).not.toContain('data-row');
    expect(piece(closed, 'chapter-crank').html).toContain('<details class="fold"><summary>');
    const have = Object.fromEntries(closed.pieces.map(({ id, of }) => [id, of]));
    const again = sheetOf(workspace, guide, { ...asked('whole'), open: ['chapter-block', 'chapter-crank'], have })!;
    expect(again.pieces.filter(({ html }) => html !== null).map(({ id }) => id)).toEqual(['chapter-crank']);
  });

  it('and from the text to the figure', () => {
    const line = lineOf('redline:');
    const found = figureAt(workspace, guide, uri, { line, character: text.split('\n')[line]!.indexOf('redline') + 2 });
    expect(found).toEqual({ build: 'tarn-427', figure: 'redline', piece: 'chapter-layout.thou' });
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

/** A small build, so that many edits are quick. */
const small = `use prelude 1
build kestrel {
  layout: vee-8-cross
  block { bore: 4.125 in, deck-height: 9.240 in }
  crank { stroke: 4.000 in, rod-journal: 2.0995 in }
  rod { length: 6.125 in, big-end-housing: 2.2249 in, shell: 0.0617 in }
  piston { compression-height: 1.110 in, dish: 16.5 cc, skirt: 4.1205 in }
  head.chamber: 66.0 cc
  head-gasket { bore: 4.155 in, thickness: 0.039 in }
  machining "Order 1" on 2026-02-20 { block.bore: 4.1250..4.1255 in }
  measured "Back" on 2026-03-01 {
    block.bore: [4.1252, 4.1253, 4.1251, 4.1252, 4.1252, 4.1254, 4.1252, 4.1256] in
    head.chamber: [66.1, 66.0, 65.8, 66.0, 66.2, 66.0, 66.0, 65.9] cc
  }
  expect compression within 10.40..10.80
}
`;

describe('sheet and text', () => {
  it('agree after any edit: what was sent, piece by piece, is the sheet of a fresh look', () => {
    const chance = drawn(427);
    const next = (): number => chance.next().value;
    const at = 'file:///small.thou';
    const workspace = workspaceOf(new Map([['small.thou', small]]));
    const page = new Map<string, { of: string; html: string }>();
    let now = small;
    let sent = 0;
    for (let edit = 0; edit < 8; edit++) {
      const figures = [...now.matchAll(/\d+\.\d+/g)];
      const figure = figures[Math.floor(next() * figures.length)]!;
      const other = next() < 0.15 ? '' : (Number(figure[0]) * (0.995 + 0.01 * next())).toFixed(4);
      now = now.slice(0, figure.index) + other + now.slice(figure.index + figure[0].length);
      workspace.open(at, now);
      const kind = ['whole', 'whole', 'machine-shop', 'bench'][edit % 4]!;
      const params = { ...asked(kind), textDocument: { uri: at } };
      const have = Object.fromEntries([...page].map(([id, { of }]) => [id, of]));
      const told = sheetOf(workspace, guide, { ...params, have })!;
      sent += told.pieces.filter(({ html }) => html !== null).length;
      const shown = told.pieces.map(({ id, of, html }) => ({ id, of, html: html ?? page.get(id)!.html }));
      page.clear();
      for (const { id, of, html } of shown) page.set(id, { of, html });
      const fresh = sheetOf(workspaceOf(new Map([['small.thou', now]])), guide, params)!;
      expect(shown, `edit ${edit}: ${figure[0]} → ${other}`).toEqual(fresh.pieces);
      if (other === '') now = small;
    }
    expect(sent).toBeGreaterThan(8);
  });
});
