/** A fix as a comparison of the text with what it would be; taken, or not, when it has been looked at. */
import { fixesMethod, type FixesAsked, type FixTold } from '@thou/shared/protocol-checks';
import { commands, Disposable, l10n, Uri, window, workspace, type TextDocument } from 'vscode';
import { applyChanges, type Stretch } from '../places.ts';
import type { Server } from '../server.ts';
import { textScheme, type Texts } from './texts.ts';

interface Shown {
  readonly fix: FixTold;
  readonly document: TextDocument;
  readonly version: number;
}

export class FixPreview {
  private readonly server: Server;
  private readonly texts: Texts;
  private readonly shown = new Map<string, Shown>();
  private readonly listener: Disposable;

  constructor(server: Server, texts: Texts) {
    this.server = server;
    this.texts = texts;
    this.listener = workspace.onDidCloseTextDocument(({ uri }) => void this.shown.delete(uri.toString()));
  }

  dispose(): void {
    this.listener.dispose();
  }

  async open(document: TextDocument, range: Stretch): Promise<void> {
    const { version } = document;
    const asked: FixesAsked = { textDocument: { uri: document.uri.toString() }, range };
    const fixes = (await this.server.ask<readonly FixTold[]>(fixesMethod, asked)) ?? [];
    if (fixes.length === 0) {
      void window.showInformationMessage(l10n.t('There is no fix for what stands here.'));
      return;
    }
    const fix = await chosen(fixes);
    if (!fix || version !== document.version) return;
    const after = this.texts.put(document.uri.path.split('/').pop() ?? 'build.thou', fix.text);
    this.shown.set(after.toString(), { fix, document, version });
    await commands.executeCommand('vscode.diff', document.uri, after, fix.title, { preview: true });
  }

  /** Of the preview that shows. */
  async take(): Promise<void> {
    const uri = this.previewed();
    const shown = uri && this.shown.get(uri.toString());
    if (!uri || !shown) return;
    const { fix, document, version } = shown;
    if (document.isClosed || document.version !== version) {
      void window.showWarningMessage(l10n.t('The text has changed since this was worked out: ask for the fix again.'));
      return;
    }
    if (await applyChanges(document.uri, fix.edits)) {
      await commands.executeCommand('workbench.action.closeActiveEditor');
      await window.showTextDocument(document);
    }
  }

  private previewed(): Uri | null {
    const input: unknown = window.tabGroups.activeTabGroup.activeTab?.input;
    const { modified } = (input ?? {}) as { modified?: unknown };
    return modified instanceof Uri && modified.scheme === textScheme ? modified : null;
  }
}

async function chosen(fixes: readonly FixTold[]): Promise<FixTold | undefined> {
  if (fixes.length === 1) return fixes[0];
  const items = fixes.map((fix) => ({ label: fix.title, detail: fix.follows.join(' · '), fix }));
  const one = await window.showQuickPick(items, {
    title: l10n.t('Which fix is to be looked at'),
    placeHolder: l10n.t('Nothing is changed by looking'),
  });
  return one?.fix;
}
