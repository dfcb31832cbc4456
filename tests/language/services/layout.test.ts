/** Formatting, folding and growing selections, over texts and over every sample, whole and cut off. */
import { settingsIn } from '@thou/shared/settings';
import type { SelectionRange, TextEdit } from 'vscode-languageserver-protocol';
import { describe, expect, it } from 'vitest';
import { format } from '../../../language/src/format/format.ts';
import type { Asked } from '../../../language/src/services/feature.ts';
import { foldingRanges } from '../../../language/src/services/folding.ts';
import { formatting, formattingFeature, rangeFormatting } from '../../../language/src/services/formatting.ts';
import { toOffset, toPosition } from '../../../language/src/services/positions.ts';
import { selectionRanges } from '../../../language/src/services/selection-range.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { hostileTexts, marked, workspaceOf } from './open.ts';

const uri = 'file:///a.thou';
const open = (text: string): Workspace => workspaceOf({ 'a.thou': text });

function applied(workspace: Workspace, edits: readonly TextEdit[]): string {
  const positions = workspace.positionsOf(uri);
  let text = workspace.source(uri)!.text;
  for (const { range, newText } of edits.toReversed())
    text = text.slice(0, toOffset(positions, range.start)) + newText + text.slice(toOffset(positions, range.end));
  return text;
}

describe('formatting', () => {
  it('says once why a text with mistakes is left as it is, and again when the reason is another', async () => {
    const workspace = open('build b { a: ] }\n');
    const said: string[] = [];
    const asked = {
      workspace,
      tell: (message: string) => said.push(message),
      settings: () => Promise.resolve(settingsIn({})),
    } as unknown as Asked;
    const lay = (): unknown => formattingFeature.requests[0]!.handle({ textDocument: { uri } }, asked);
    expect(await lay()).toBeNull();
    expect(await lay()).toBeNull();
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Not laid out: line 1, column \d+: /);
    workspace.change(uri, 'build b { a: 1 in }\n');
    expect(await lay()).not.toBeNull();
    workspace.change(uri, 'build b { a: ] }\n');
    await lay();
    expect(said).toHaveLength(2);
  });

  it('changes blanks only, and leads to what the command line writes', () => {
    const text = '// ± 1 °\r\nbuild  b{a:1 in,c:2 in\r\n\r\n\r\n  d: 3 in // so  \r\n}\r\n';
    const workspace = open(text);
    const edits = formatting(workspace, uri)!;
    expect(format(text)).toEqual({ text: applied(workspace, edits) });
    for (const { newText } of edits) expect(newText).toMatch(/^(\s*|\/\/ so)$/);
  });

  it('leaves a text with a mistake in it alone', () => {
    expect(formatting(open('build b { a: }\n'), uri)).toBeNull();
  });

  it('gives nothing where nothing is to be changed', () => {
    expect(formatting(open('build b { a: 1 in }\n'), uri)).toEqual([]);
  });

  it('touches the lines of a range alone', () => {
    const text = 'build b {\n a:1 in\n c:2 in\n d:3 in\n}\n';
    const workspace = open(text);
    const range = { start: { line: 2, character: 1 }, end: { line: 3, character: 0 } };
    expect(applied(workspace, rangeFormatting(workspace, uri, range)!)).toBe(
      'build b {\n a:1 in\n  c: 2 in\n d:3 in\n}\n',
    );
  });
});

describe('folding', () => {
  it('folds bodies, lists, formulas, comments, regions and runs of use', () => {
    const text = [
      'use prelude 1', // 0
      'use "b.thou"',
      '// one', // 2
      '// two',
      '//#region readings', // 4
      'build b {',
      '  c {', // 6
      '    d: 1 in',
      '  }',
      '  e: [', // 9
      '    1, 2',
      '  ] in',
      '}', // 12
      '// #endregion',
      '/* a', // 14
      ' b */',
      'derive x: Length =', // 16
      '  1 in',
      '  + 2 in', // 18
      '',
    ].join('\n');
    const folds = foldingRanges(open(text), uri)!.map(({ startLine, endLine, kind }) =>
      `${startLine}-${endLine} ${kind ?? ''}`.trim(),
    );
    expect(folds).toEqual([
      '0-1 imports',
      '2-3 comment',
      '4-13 region',
      '5-11',
      '6-7',
      '9-10',
      '14-15 comment',
      '16-18',
    ]);
  });
});

describe('selection', () => {
  it('grows from the word to the file', () => {
    const { text, offset } = marked('build b {\n  c: 1 + d|epth * 2\n}\n');
    const workspace = open(text);
    const positions = workspace.positionsOf(uri);
    const [found] = selectionRanges(workspace, uri, [toPosition(positions, offset)])!;
    const texts: string[] = [];
    for (let at: SelectionRange | undefined = found; at; at = at.parent)
      texts.push(text.slice(toOffset(positions, at.range.start), toOffset(positions, at.range.end)));
    expect(texts.slice(0, 4)).toEqual(['depth', 'depth * 2', '1 + depth * 2', 'c: 1 + depth * 2']);
    expect(texts.at(-1)).toBe(text);
    texts.forEach((one, i) => expect(one.length).toBeGreaterThan(i === 0 ? 0 : texts[i - 1]!.length));
  });
});

it('answers at every place of every sample, whole and cut off', () => {
  for (const [, text] of hostileTexts()) {
    const workspace = open(text);
    const positions = workspace.positionsOf(uri);
    const places = Array.from({ length: Math.ceil(text.length / 97) }, (_, i) => toPosition(positions, i * 97));
    const found = selectionRanges(workspace, uri, places)!;
    expect(found).toHaveLength(places.length);
    expect(
      foldingRanges(workspace, uri)!.every(
        ({ startLine, endLine }) => startLine < endLine && endLine < positions.lineCount,
      ),
    ).toBe(true);
    const edits = formatting(workspace, uri);
    if (edits) expect(format(text)).toEqual({ text: applied(workspace, edits) });
  }
});
