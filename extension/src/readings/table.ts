/** A table for many readings at once: an empty CSV file beside the text, and the line that reads it, in one change. */
import { tableMethod, type TableAsked, type TableTold } from '@thou/shared/protocol-readings';
import { l10n, Uri, ViewColumn, window, workspace, type Memento, type TextEditor } from 'vscode';
import { editOf } from '../places.ts';
import type { Server } from '../server.ts';
import { askMeasuredBy } from './measured-by.ts';
import { askDue } from './walk.ts';

export async function makeTable(server: Server, memory: Memento, editor: TextEditor): Promise<void> {
  const { document } = editor;
  if (document.isUntitled || workspace.fs.isWritableFileSystem(document.uri.scheme) === false) {
    void window.showWarningMessage(
      l10n.t('Save the file first, in a folder that can be written to: the table lies beside it.'),
    );
    return;
  }
  const due = await askDue(server, editor, null);
  if (!due) return;
  const chosen = await window.showQuickPick(
    due.tables.map(({ label, figure, count }) => ({
      label,
      figure,
      description: figure,
      detail: l10n.t('{0} readings are due', count),
    })),
    {
      title: l10n.t('Table of readings for {0}', due.build),
      placeHolder: l10n.t('Which figure is measured'),
      matchOnDescription: true,
    },
  );
  if (!chosen) return;
  const name = await askName(document.uri, due.build, chosen.figure);
  const by = name === undefined ? undefined : await askMeasuredBy(memory, due);
  if (name === undefined || by === undefined) return;
  const { version } = document;
  const asked: TableAsked = {
    textDocument: { uri: document.uri.toString() },
    build: due.build,
    figure: chosen.figure,
    name,
    ...by,
  };
  const told = await server.ask<TableTold>(tableMethod, asked);
  if (!told || version !== document.version) return;
  if ('problem' in told) {
    void window.showWarningMessage(told.problem);
    return;
  }
  const edit = editOf(document.uri, told.edits);
  const file = beside(document.uri, name);
  edit.createFile(file, { contents: new TextEncoder().encode(told.csv), overwrite: false });
  if (await workspace.applyEdit(edit)) await window.showTextDocument(file, { viewColumn: ViewColumn.Beside });
  else void window.showWarningMessage(l10n.t('{0} could not be written.', name));
}

async function askName(text: Uri, build: string, figure: string): Promise<string | undefined> {
  const last =
    figure
      .replaceAll(/\[[^\]]*\]/g, '')
      .split('.')
      .at(-1) ?? 'readings';
  return window.showInputBox({
    title: l10n.t('Table of readings for {0}: name of the file', build),
    value: `${build.replaceAll(/[^\w-]+/g, '-')}-${last}.csv`,
    ignoreFocusOut: true,
    validateInput: async (name) => {
      if (!/^[\p{L}\p{N}_][\p{L}\p{N} _.-]*\.csv$/u.test(name))
        return l10n.t('A name such as readings.csv, without a folder.');
      return (await isThere(beside(text, name))) ? l10n.t('There is a file with this name.') : undefined;
    },
  });
}

function beside(text: Uri, name: string): Uri {
  return Uri.joinPath(text, '..', name);
}

async function isThere(file: Uri): Promise<boolean> {
  return workspace.fs.stat(file).then(
    () => true,
    () => false,
  );
}
