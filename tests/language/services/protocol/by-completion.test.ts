/**
 * The design's own example written from an empty file as a hand does, letter by letter, with a word taken from the list as soon as it stands
 * there: how many letters a word takes, and that no word has to be known by heart. What is invented while one writes, names, figures and texts, is typed.
 */
import { cpSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CompletionItem, CompletionList, TextEdit } from 'vscode-languageserver-protocol';
import { nameOf } from '../../../../language/src/grammar/tokens.ts';
import { scan } from '../../../../language/src/grammar/scanner.ts';
import { Editor, top } from './client.ts';

const example = 'fell-427.thou';
const text = readFileSync(join(top, 'samples', example), 'utf8').replace(/[ \t]*\/\/.*$/gm, '');

let editor: Editor;
beforeAll(async () => {
  editor = await Editor.start();
  cpSync(join(top, 'samples'), editor.folder, { recursive: true });
  rmSync(join(editor.folder, example));
  await editor.happened('parts.thou', 1);
  await editor.happened('shop.thou', 1);
});
afterAll(() => editor.tidy());

/** So many rows of a list are seen without scrolling. */
const seen = 12;

interface Word {
  readonly start: number;
  readonly word: string;
}

/** Words of the text, paths part by part, with the quotes where they stand in some. */
function words(): Word[] {
  return scan(text).tokens.flatMap(({ startOffset, image, ...token }) =>
    nameOf({ startOffset, image, ...token } as never) === 'STRING' || !/^[A-Za-z°%]/.test(image)
      ? []
      : [{ start: startOffset, word: image }],
  );
}

/** What an editor has behind the cursor: it closes what was opened. */
function closing(before: string): string {
  const open: string[] = [];
  for (const { image } of scan(before).tokens) {
    if (image === '{' || image === '[') open.unshift(image === '{' ? '}' : ']');
    else if (image === '}' || image === ']') open.shift();
  }
  return open.map((one) => (one === '}' ? '\n}' : one)).join('');
}

async function listAt(uri: string, before: string): Promise<CompletionItem[]> {
  await editor.change(uri, { text: before + closing(before) });
  const lines = before.split('\n');
  const position = { line: lines.length - 1, character: lines.at(-1)!.length };
  const list = await editor.connection.sendRequest<CompletionList | null>('textDocument/completion', {
    textDocument: { uri },
    position,
  });
  return (list?.items ?? [])
    .filter(({ textEdit, filterText, label }) => {
      const typed = lines.at(-1)!.slice((textEdit as TextEdit).range.start.character);
      return (filterText ?? label).toLowerCase().startsWith(typed.toLowerCase());
    })
    .sort((a, b) => (a.sortText! < b.sortText! ? -1 : 1));
}

/** Names that the writer gives; `prelude` comes with `use`, in one row. */
const invented = /^(FT-1110F|fell-427|thin-gasket|prelude)$/;

test('every word that is not invented is in the list after two letters at most', { timeout: 300_000 }, async () => {
  const uri = editor.uri(example);
  await editor.open(uri, '');
  const late: string[] = [];
  let written = 0;
  let typed = 0;
  for (const { start, word } of words()) {
    if (invented.test(word) && !/(of|:) *$/.test(text.slice(0, start))) continue;
    let letters = 0;
    for (; letters < word.length; letters++) {
      const items = await listAt(uri, text.slice(0, start + letters));
      const isIt = ({ label }: CompletionItem): boolean =>
        label === word || (label.includes(' ') && text.startsWith(label, start));
      if (items.slice(0, seen).some(isIt)) break;
    }
    const line = text.slice(text.lastIndexOf('\n', start - 1) + 1, start).trimStart();
    if (letters > 2) late.push(`${line}${word}`);
    written += word.length;
    typed += letters;
  }
  expect(late).toEqual([]);
  // a letter in eight: most words stand in the list before one is typed
  expect(typed / written).toBeLessThan(1 / 8);
  // and what was written is the example
  const version = await editor.change(uri, { text });
  const { diagnostics } = await editor.until(uri, (told) => told.version === version, 0);
  expect(diagnostics.filter(({ severity }) => severity === 1)).toEqual([]);
});
