/** Bringing readings in: pasted, typed one by one, as a table. */
import { commands, Disposable, window, type Memento, type TextEditor } from 'vscode';
import { opened } from '../places.ts';
import type { Server } from '../server.ts';
import { pasteOfFigures } from './paste.ts';
import { makeTable } from './table.ts';
import { walkThrough, type WalkFrom } from './walk.ts';

export function readings(server: Server, memory: Memento): Disposable {
  return Disposable.from(
    pasteOfFigures(server),
    commands.registerCommand('thou.measure', async (from?: unknown) => {
      const start = isFrom(from) ? from : undefined;
      const editor = start ? await opened(start.uri) : activeEditor();
      if (editor) await walkThrough(server, memory, editor, start);
    }),
    commands.registerCommand('thou.makeTable', async () => {
      const editor = activeEditor();
      if (editor) await makeTable(server, memory, editor);
    }),
  );
}

function activeEditor(): TextEditor | null {
  const editor = window.activeTextEditor;
  return editor?.document.languageId === 'thou' ? editor : null;
}

/** What a command is handed is looked at before it is believed: anybody may call it. */
function isFrom(from: unknown): from is WalkFrom {
  if (typeof from !== 'object' || from === null) return false;
  const { uri, build, figure } = from as Record<string, unknown>;
  return typeof uri === 'string' && typeof build === 'string' && typeof figure === 'string';
}
