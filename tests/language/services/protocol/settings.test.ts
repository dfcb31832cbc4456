/** Settings over a real process: asked for by file and folder, changed while the server runs. */
import { afterEach, expect, test } from 'vitest';
import { Editor, modern } from './client.ts';

const build = 'use prelude 1\nbuild one { layout: single, block.bore: 80 mm, nonsense: 3 mm }\n';
let editor: Editor;
afterEach(() => editor.stop());

test('one folder may see less than the other, and a change shows without a word in the text', async () => {
  const from = new Map([['quiet', 'error']]);
  const folderOf = (scope = ''): string => /(quiet|loud)/.exec(scope)?.[1] ?? '';
  editor = await Editor.start({
    files: { 'quiet/a.thou': build, 'quiet/unseen.thou': build, 'loud/b.thou': build },
    folders: ['quiet', 'loud'],
    settings: (scope) => ({ findings: { from: from.get(folderOf(scope)) ?? 'hint' } }),
  });
  const [a, b, unseen] = [editor.uri('quiet/a.thou'), editor.uri('loud/b.thou'), editor.uri('quiet/unseen.thou')];
  await editor.open(a, build);
  await editor.open(b, build);
  await editor.until(b, ({ diagnostics }) => diagnostics.some(({ severity }) => severity !== 1), 0);
  await editor.until(
    a,
    ({ diagnostics }) => diagnostics.length > 0 && diagnostics.every(({ severity }) => severity === 1),
    0,
  );
  await editor.until(
    unseen,
    ({ diagnostics }) => diagnostics.length > 0 && diagnostics.every(({ severity }) => severity === 1),
    0,
  );
  // what is open is asked about by itself, what is not by its folder, once
  expect(new Set(editor.asked)).toEqual(new Set([a, b, editor.uri('quiet')]));
  expect(editor.asked).toHaveLength(3);

  from.delete('quiet');
  from.set('loud', 'error');
  const since = editor.told.length;
  await editor.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
  await editor.until(a, ({ diagnostics }) => diagnostics.some(({ severity }) => severity !== 1), since);
  await editor.until(b, ({ diagnostics }) => diagnostics.every(({ severity }) => severity === 1), since);
});

test('an editor that cannot be asked says them at the start and when they change', async () => {
  const { workspace, ...rest } = modern;
  editor = await Editor.start({
    files: { 'a.thou': build },
    capabilities: { ...rest, workspace: { ...workspace, configuration: false } },
  });
  const a = editor.uri('a.thou');
  await editor.open(a, build);
  await editor.until(a, ({ diagnostics }) => diagnostics.some(({ severity }) => severity !== 1), 0);
  await editor.connection.sendNotification('workspace/didChangeConfiguration', {
    settings: { thou: { findings: { from: 'error' } } },
  });
  await editor.until(
    a,
    ({ diagnostics }) => diagnostics.length > 0 && diagnostics.every(({ severity }) => severity === 1),
    0,
  );
  expect(editor.asked).toEqual([]);
});
