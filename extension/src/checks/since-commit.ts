/** What changed in a file since an earlier commit, as a text to be read; where the server can read commits. */
import {
  changesMethod,
  commitsMethod,
  type ChangesAsked,
  type CommitsAsked,
  type CommitsTold,
  type TextTold,
} from '@thou/shared/protocol-checks';
import { l10n, window, workspace, type TextDocument } from 'vscode';
import type { Server } from '../server.ts';
import type { Texts } from './texts.ts';

export async function compareWithCommit(server: Server, texts: Texts, { uri }: TextDocument): Promise<void> {
  // a repository that nobody trusts is not asked
  if (!workspace.isTrusted) return;
  const textDocument = { uri: uri.toString() };
  const asked: CommitsAsked = { textDocument };
  const told = await server.ask<CommitsTold>(commitsMethod, asked);
  if (!told || 'problem' in told || told.commits.length === 0) {
    const none = l10n.t('There is no earlier commit of this file.');
    void window.showInformationMessage(told && 'problem' in told ? told.problem : none);
    return;
  }
  const items = told.commits.map(({ name, when, subject }) => ({
    label: subject,
    description: `${when} · ${name.slice(0, 8)}`,
    name,
  }));
  const chosen = await window.showQuickPick(items, {
    title: l10n.t('Compare with an earlier commit'),
    placeHolder: l10n.t('Commits in which this file was changed'),
    matchOnDescription: true,
  });
  if (!chosen) return;
  const since: ChangesAsked = { textDocument, since: chosen.name };
  const changes = await server.ask<TextTold>(changesMethod, since);
  if (!changes) return;
  if ('problem' in changes) {
    void window.showWarningMessage(changes.problem);
    return;
  }
  const name = uri.path.split('/').pop() ?? '';
  const text = texts.put(l10n.t('{0} since {1}', name, chosen.name.slice(0, 8)).replaceAll('/', ' '), changes.text);
  await window.showTextDocument(text, { preview: true });
}
