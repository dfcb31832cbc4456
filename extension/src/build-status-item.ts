/** "n hold · n out · n to measure" beside the language's name: of the build that the cursor stands in. */
import type { BuildStanding, BuildStatus } from '@thou/shared/protocol';
import { Disposable, l10n, languages, LanguageStatusSeverity, window, type LanguageStatusItem } from 'vscode';
import { thouDocuments } from './documents.ts';

export class BuildStatusItem {
  private readonly item: LanguageStatusItem;
  private readonly told = new Map<string, BuildStatus>();
  private readonly listeners: Disposable;

  constructor() {
    this.item = languages.createLanguageStatusItem('thou.build', thouDocuments);
    this.item.name = l10n.t('Thou: checks of the build');
    this.item.command = { command: 'thou.showLog', title: l10n.t('Show log') };
    this.listeners = Disposable.from(
      window.onDidChangeActiveTextEditor(() => this.show()),
      window.onDidChangeTextEditorSelection(() => this.show()),
    );
  }

  tell(status: BuildStatus): void {
    this.told.set(status.uri, status);
    this.show();
  }

  busy(text: string): void {
    this.told.clear();
    this.item.busy = true;
    this.item.severity = LanguageStatusSeverity.Information;
    this.item.text = text;
    this.item.detail = '';
  }

  settled(): void {
    this.item.busy = false;
    this.show();
  }

  failed(text: string): void {
    this.item.busy = false;
    this.item.severity = LanguageStatusSeverity.Error;
    this.item.text = text;
    this.item.detail = '';
  }

  dispose(): void {
    this.listeners.dispose();
    this.item.dispose();
  }

  private show(): void {
    const editor = window.activeTextEditor;
    if (this.item.busy || !editor) return;
    const builds = this.told.get(editor.document.uri.toString())?.builds ?? [];
    const line = editor.selection.active.line;
    const build = builds.find(({ lines: [first, last] }) => first <= line && line <= last) ?? builds[0];
    this.item.severity = build && build.out > 0 ? LanguageStatusSeverity.Warning : LanguageStatusSeverity.Information;
    this.item.text = build ? inWords(build) : l10n.t('No build in this file');
    this.item.detail = build?.name ?? '';
  }
}

function inWords({ hold, out, atRisk, toMeasure }: BuildStanding): string {
  const parts = [l10n.t('{0} hold', hold), l10n.t('{0} out', out)];
  if (atRisk > 0) parts.push(l10n.t('{0} at risk', atRisk));
  return [...parts, l10n.t('{0} to measure', toMeasure)].join(' · ');
}
