/** Commands whose answer is a text: a figure explained, ways back from a target, builds beside each other. */
import type { ReportAsked } from '@thou/shared/protocol';
import { commands, l10n, window, type Disposable, type TextEditor } from 'vscode';
import type { ReportDocuments } from './documents.ts';

export function reportCommands(documents: ReportDocuments): Disposable[] {
  return [
    commands.registerTextEditorCommand('thou.explain', (editor) => documents.show(explanationAt(editor))),
    commands.registerTextEditorCommand('thou.solve', (editor) => workBack(documents, editor)),
    commands.registerTextEditorCommand('thou.compare', (editor) => documents.show(about(editor, 'comparison'))),
  ];
}

function about({ document }: TextEditor, sort: ReportAsked['sort']): ReportAsked {
  return { textDocument: { uri: document.uri.toString() }, sort, build: null };
}

function explanationAt(editor: TextEditor): ReportAsked {
  const { line, character } = editor.selection.active;
  return { ...about(editor, 'explanation'), position: { line, character } };
}

async function workBack(documents: ReportDocuments, editor: TextEditor): Promise<void> {
  const goal = await window.showInputBox({
    title: l10n.t('Work back from a target'),
    prompt: l10n.t('What is wanted, as it would stand in the file. Several are parted by a semicolon.'),
    placeHolder: 'name = 0.040 in',
    ignoreFocusOut: true,
  });
  const goals = (goal ?? '')
    .split(';')
    .map((one) => one.trim())
    .filter((one) => one !== '');
  if (goals.length === 0) return;
  const { line, character } = editor.selection.active;
  await documents.show({ ...about(editor, 'ways'), position: { line, character }, goals });
}
