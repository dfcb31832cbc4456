/** Ways to begin: a sample, an empty build, a chapter of the trade library, the first steps. */
import { chaptersMethod, type Chapter } from '@thou/shared/protocol';
import {
  commands,
  l10n,
  SnippetString,
  Uri,
  ViewColumn,
  window,
  workspace,
  type Disposable,
  type ExtensionContext,
} from 'vscode';
import type { Server } from './server.ts';

export function beginningCommands({ extension, extensionUri }: ExtensionContext, server: Server): Disposable[] {
  const sample = Uri.joinPath(extensionUri, 'media/walkthrough/first-steps.thou');
  return [
    commands.registerCommand('thou.openSample', () => openSample(sample)),
    commands.registerCommand('thou.newBuild', newBuild),
    commands.registerCommand(inText, runInText),
    commands.registerCommand('thou.openLibrary', () => openLibrary(server)),
    commands.registerCommand('thou.getStarted', () =>
      commands.executeCommand('workbench.action.openWalkthrough', `${extension.id}#thou.start`, false),
    ),
  ];
}

/** For the first steps alone: they stand beside the text, and what they run has to run in it. */
const inText = 'thou.inText';

async function runInText(command: unknown): Promise<void> {
  const editor = window.visibleTextEditors.find(({ document }) => document.languageId === 'thou');
  if (typeof command !== 'string' || !editor) return;
  const { document, viewColumn } = editor;
  // the first steps tick a step off by it, and then take the focus, which would shut whatever the command opens
  await commands.executeCommand('setContext', `thou.walked.${command}`, true);
  await new Promise((ticked) => setTimeout(ticked, tickingOff));
  await window.showTextDocument(document, viewColumn);
  await commands.executeCommand(command);
}

/** In milliseconds. */
const tickingOff = 400;

/** As a text that lies nowhere yet: whatever is done to it harms no file. Beside the first steps, where those show. */
async function openSample(sample: Uri): Promise<void> {
  const content = new TextDecoder().decode(await workspace.fs.readFile(sample));
  const viewColumn = window.activeTextEditor ? ViewColumn.Active : ViewColumn.Beside;
  await window.showTextDocument(await workspace.openTextDocument({ language: 'thou', content }), viewColumn);
}

async function newBuild(): Promise<void> {
  const editor = await window.showTextDocument(await workspace.openTextDocument({ language: 'thou' }));
  await editor.insertSnippet(new SnippetString(['use prelude 1', '', 'build ${1:name} {', '  $0', '}', ''].join('\n')));
}

async function openLibrary(server: Server): Promise<void> {
  const chapters = (await server.ask<readonly Chapter[]>(chaptersMethod, {})) ?? [];
  const items = chapters.map(({ title, file, uri }) => ({ label: title, description: file, uri }));
  const chosen = await window.showQuickPick(items, {
    title: l10n.t('Chapters of the trade library'),
    matchOnDescription: true,
  });
  if (chosen) await window.showTextDocument(Uri.parse(chosen.uri));
}
