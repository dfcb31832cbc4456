/** Every finding leads to the page of its code: on the disk, or where the editor says that it shows the pages itself. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { Editor, modern } from './client.ts';

const text = 'use prelude 1\nbuild one { layout: single, nonsense: 3 mm, block.bore: 80 }\n';
let editor: Editor;
afterEach(() => editor.stop());

async function addresses(): Promise<(string | undefined)[]> {
  const uri = editor.uri('one.thou');
  await editor.open(uri, text);
  const { diagnostics } = await editor.until(uri, (told) => told.diagnostics.length > 2, 0);
  expect(diagnostics.every(({ code }) => code !== undefined)).toBe(true);
  return diagnostics.map(({ codeDescription }) => codeDescription?.href);
}

test('on the disk, where other editors open it', async () => {
  editor = await Editor.start();
  for (const href of await addresses()) {
    expect(href).toMatch(/^file:.*\/problems\/[\w.-]+\.md$/);
    expect(existsSync(fileURLToPath(href!)), href).toBe(true);
  }
});

test('in the editor itself, where it shows the pages', async () => {
  editor = await Editor.start({ asked: { pages: 'thou-doc:/problems/' } });
  for (const href of await addresses()) expect(href).toMatch(/^thou-doc:\/problems\/[\w.-]+\.md$/);
});

test('nothing is said of a page to an editor that could not follow it', async () => {
  editor = await Editor.start({ capabilities: { ...modern, textDocument: {} } });
  expect(new Set(await addresses())).toEqual(new Set([undefined]));
});
