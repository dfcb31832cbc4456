/** Renaming across files, what is refused and why, files that move, and colours by meaning. */
import type { TextEdit } from 'vscode-languageserver-protocol';
import { describe, expect, it } from 'vitest';
import { toOffset, toPosition } from '../../../language/src/services/positions.ts';
import { asWorkspaceEdit, prepareRename, renamed } from '../../../language/src/services/rename.ts';
import { semanticTokens, tokenSorts } from '../../../language/src/services/semantic-tokens.ts';
import { editsForRenames } from '../../../language/src/services/will-rename.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { hostileTexts, samples, workspaceOf } from './open.ts';

const uri = 'file:///fell-427.thou';
const fell = samples.get('fell-427.thou')!;

function applied(workspace: Workspace, file: string, edits: readonly TextEdit[]): string {
  const positions = workspace.positionsOf(file);
  return edits
    .map(({ range, newText }) => ({
      start: toOffset(positions, range.start),
      end: toOffset(positions, range.end),
      newText,
    }))
    .sort((a, b) => b.start - a.start)
    .reduce(
      (text, { start, end, newText }) => text.slice(0, start) + newText + text.slice(end),
      workspace.source(file)!.text,
    );
}

const at = (workspace: Workspace, file: string, word: string): ReturnType<typeof toPosition> =>
  toPosition(workspace.positionsOf(file), workspace.source(file)!.text.indexOf(word) + 1);

function edits(workspace: Workspace, word: string, to: string): ReadonlyMap<string, readonly TextEdit[]> {
  const found = renamed(workspace, uri, at(workspace, uri, word), to);
  if (found === null || 'refused' in found) throw new Error(found?.refused ?? 'nothing');
  return found;
}

const refusal = (found: unknown): string => (found as { refused?: string } | null)?.refused ?? '';

describe('rename', () => {
  it('renames a part of a shared file wherever it is fitted, and nothing else', () => {
    const workspace = workspaceOf(samples);
    const found = edits(workspace, 'HB-6125', 'HB-6200');
    expect([...found.keys()].sort()).toContain('file:///parts.thou');
    const problems = workspace.result(uri).problems.length;
    for (const [file, own] of found) workspace.open(file, applied(workspace, file, own));
    expect(workspace.result(uri).problems.length).toBe(problems);
    expect(workspace.source(uri)!.text).toContain('rod: HB-6200 ');
    // the maker's number is a text, no name
    expect(workspace.source('file:///parts.thou')!.text).toContain('number: "HB-6125"');
    expect(workspace.source('file:///parts.thou')!.text).toContain('part HB-6200: Rod');
  });

  it('writes a name that is no plain word in quotes', () => {
    const workspace = workspaceOf(samples);
    expect(applied(workspace, uri, edits(workspace, 'FT-1110F', 'FT 1110').get(uri)!)).toContain('piston: "FT 1110" {');
  });

  it.each([
    ['block { bore', 'plate', 'belongs to the trade library'],
    ['FT-1110F', 'of', ''],
    ['FT-1110F', 'a"b', 'no quotes'],
    ['FT-1110F', 'HB-6125', 'cannot be called'],
    ['thin-gasket', 'fell-427', 'cannot be called'],
    ['parts.thou', 'other.thou', 'Rename the file itself'],
  ])('%s to %s: %s', (word, to, why) => {
    const workspace = workspaceOf(samples);
    const before = workspace.result(uri).problems;
    const found = renamed(workspace, uri, at(workspace, uri, word), to);
    if (why !== '') expect(refusal(found)).toContain(why);
    expect(workspace.source(uri)!.text).toBe(fell);
    expect(workspace.result(uri).problems).toEqual(before);
    expect(workspace.isOpen(uri)).toBe(false);
  });

  it('says beforehand what will not be renamed', () => {
    const workspace = workspaceOf(samples);
    expect(refusal(prepareRename(workspace, uri, at(workspace, uri, 'stroke:')))).toContain('trade library');
    expect(prepareRename(workspace, uri, at(workspace, uri, 'thin-gasket'))).toMatchObject({
      placeholder: 'thin-gasket',
    });
  });

  it('leaves a sound workspace when it is applied as it comes, seen beforehand or not', { timeout: 240_000 }, () => {
    const workspace = workspaceOf(samples);
    const found = edits(workspace, 'HB-6125', 'HB-6200');
    const able = { workspace: { workspaceEdit: { documentChanges: true, changeAnnotationSupport: {} } } };
    const { documentChanges, changeAnnotations } = asWorkspaceEdit(found, uri, able, (file) =>
      file === uri ? 7 : null,
    );
    const slips = (): number[] => workspace.known().map((file) => workspace.result(file).problems.length);
    const before = slips();
    // what an editor applies when the reader changes no tick: all that needs no word of theirs
    for (const change of documentChanges!) {
      if (!('edits' in change)) throw new Error('not an edit of a text');
      const own = change.edits.filter(
        (edit) => !('annotationId' in edit) || changeAnnotations![edit.annotationId]!.needsConfirmation !== true,
      );
      workspace.open(change.textDocument.uri, applied(workspace, change.textDocument.uri, own as TextEdit[]));
    }
    expect(slips()).toEqual(before);
    expect(workspace.source('file:///parts.thou')!.text).toContain('part HB-6200: Rod');
    expect(changeAnnotations!['shared']!.description).toContain('Other builds');
    expect(documentChanges).toContainEqual(expect.objectContaining({ textDocument: { uri, version: 7 } }));
    expect(Object.keys(asWorkspaceEdit(found, uri, {}, () => null).changes!)).toEqual([...found.keys()]);
  });
});

describe('files that move', () => {
  it('takes along the lines that name them', () => {
    const workspace = workspaceOf(samples);
    const found = editsForRenames(workspace, [
      { oldUri: 'file:///parts.thou', newUri: 'file:///shelf/parts.thou' },
      { oldUri: 'file:///fell-bores.csv', newUri: 'file:///bores/fell.csv' },
    ]);
    const after = applied(workspace, uri, found.get(uri)!);
    expect(after).toContain('use "shelf/parts.thou"');
    expect(after).toContain('from "bores/fell.csv"');
  });

  it('knows that a folder moves with all in it', () => {
    const workspace = workspaceOf(samples);
    const found = editsForRenames(workspace, [{ oldUri: 'file:///parts', newUri: 'file:///shelf' }]);
    for (const [file, own] of found) expect(applied(workspace, file, own)).toContain('use "shelf/');
    expect(found.size).toBeGreaterThan(0);
  });

  it('mends the lines of a file that moves itself', () => {
    const workspace = workspaceOf(samples);
    const found = editsForRenames(workspace, [{ oldUri: uri, newUri: 'file:///jobs/fell.thou' }]);
    expect(applied(workspace, uri, found.get(uri)!)).toContain('use "../parts.thou"');
  });
});

describe('colours by meaning', () => {
  const sortsIn = (text: string): string[] => {
    const workspace = workspaceOf(samples);
    workspace.open(uri, text);
    const { data } = semanticTokens(workspace, uri)!;
    const lines = text.split('\n');
    const found: string[] = [];
    let [line, column] = [0, 0];
    for (let i = 0; i < data.length; i += 5) {
      line += data[i]!;
      column = data[i] === 0 ? column + data[i + 1]! : data[i + 1]!;
      found.push(`${lines[line]!.slice(column, column + data[i + 2]!)} ${tokenSorts[data[i + 3]!]!.id}`);
    }
    return found;
  };

  it('tells figures, parts, choices, units, places and builds apart', () => {
    const sorts = sortsIn(fell);
    for (const due of [
      'fell-427 buildName',
      'duty figure',
      'circuit place',
      'rpm unitName',
      'block mount',
      'HB-6125 partName',
      'outer place',
      'compression derived',
    ])
      expect(sorts).toContain(due);
  });

  it('answers for a range with the words of it alone', () => {
    const workspace = workspaceOf(samples);
    const range = { start: { line: 12, character: 0 }, end: { line: 14, character: 0 } };
    const part = semanticTokens(workspace, uri, range)!;
    expect(part.data.length).toBeGreaterThan(0);
    expect(part.data.length).toBeLessThan(semanticTokens(workspace, uri)!.data.length);
  });
});

it('answers for half-typed texts', () => {
  for (const [path, text] of hostileTexts()) {
    const workspace = workspaceOf(samples);
    const file = `file:///${path}`;
    workspace.open(file, text);
    expect(semanticTokens(workspace, file)!.data.length % 5).toBe(0);
    for (let offset = 0; offset < text.length; offset += 101) {
      const place = toPosition(workspace.positionsOf(file), offset);
      const found = prepareRename(workspace, file, place);
      if (found && !('refused' in found)) expect(found.placeholder).not.toBe('');
    }
  }
});
