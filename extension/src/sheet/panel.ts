/** The sheet beside the text: asks the server for it, shows it, and leads from a figure to the text and back. */
import {
  sheetFigureMethod,
  sheetMethod,
  sheetPlaceMethod,
  type SheetAsked,
  type SheetFigure,
  type SheetFigureAsked,
  type SheetPlaceAsked,
  type SheetTold,
} from '@thou/shared/protocol';
import {
  Disposable,
  env,
  l10n,
  Range,
  Selection,
  TextEditorRevealType,
  Uri,
  ViewColumn,
  window,
  workspace,
  type WebviewPanel,
} from 'vscode';
import type { Server } from '../server.ts';
import { framePage } from './page.ts';

export const sheetView = 'thou.sheet';

/** What the page keeps of itself, and what it says. */
interface Shown {
  readonly uri: string;
  readonly build: string | null;
  readonly kind: string;
}
interface Location {
  readonly uri: string;
  readonly range: { readonly start: Place; readonly end: Place };
}
interface Place {
  readonly line: number;
  readonly character: number;
}

/** In milliseconds: a cursor that runs through the text is followed when it rests. */
const rest = 120;

export class SheetPanel {
  private readonly panel: WebviewPanel;
  private readonly server: Server;
  private readonly listeners: Disposable[];
  private shown: Shown;
  private asked = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(panel: WebviewPanel, server: Server, media: Uri, shown: Shown) {
    this.panel = panel;
    this.server = server;
    this.shown = shown;
    panel.webview.options = { enableScripts: true, localResourceRoots: [media] };
    this.listeners = [
      panel.webview.onDidReceiveMessage((message: unknown) => void this.said(message)),
      server.onSaid((uri) => uri === this.shown.uri && void this.update()),
      window.onDidChangeTextEditorSelection(({ textEditor }) => this.follow(textEditor.document.uri.toString())),
    ];
    panel.onDidDispose(() => {
      clearTimeout(this.timer);
      Disposable.from(...this.listeners).dispose();
    });
    const script = panel.webview.asWebviewUri(Uri.joinPath(media, 'sheet.js')).toString();
    panel.webview.html = framePage({
      script,
      source: panel.webview.cspSource,
      nonce: crypto.randomUUID(),
      language: env.language,
      build: l10n.t('Build'),
      sheet: l10n.t('Sheet'),
      waiting: l10n.t('Working it out'),
    });
  }

  /** Of the file that shows; null where it is none of ours. */
  static beside(server: Server, media: Uri): SheetPanel | null {
    const editor = window.activeTextEditor;
    if (editor?.document.languageId !== 'thou') return null;
    const uri = editor.document.uri.toString();
    const panel = window.createWebviewPanel(
      sheetView,
      titleOf(uri),
      { viewColumn: ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true, localResourceRoots: [media] },
    );
    return new SheetPanel(panel, server, media, { uri, build: null, kind: 'whole' });
  }

  private async update(): Promise<void> {
    const turn = ++this.asked;
    const { uri, build, kind } = this.shown;
    const params: SheetAsked = { textDocument: { uri }, build, kind };
    const told = await this.server.ask<SheetTold>(sheetMethod, params);
    if (turn !== this.asked) return;
    if (told) this.shown = { ...this.shown, build: told.build };
    this.panel.title = titleOf(uri);
    const empty = l10n.t('This file has no build that can be read yet.');
    await this.panel.webview.postMessage({ is: 'sheet', shown: this.shown, told: told ?? null, empty });
  }

  private follow(uri: string): void {
    if (uri !== this.shown.uri || !this.panel.visible) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.tellWhere(uri), rest);
  }

  private async tellWhere(uri: string): Promise<void> {
    const editor = window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri);
    if (!editor) return;
    const { line, character } = editor.selection.active;
    const params: SheetFigureAsked = { textDocument: { uri }, position: { line, character } };
    const found = await this.server.ask<SheetFigure>(sheetFigureMethod, params);
    if (!found) return;
    if (found.build !== null && found.build !== this.shown.build) {
      this.shown = { ...this.shown, build: found.build };
      await this.update();
    }
    await this.panel.webview.postMessage({ is: 'here', figure: found.figure });
  }

  /** Messages of the page are looked at before they are believed. */
  private async said(message: unknown): Promise<void> {
    if (typeof message !== 'object' || message === null || !('is' in message)) return;
    if (message.is === 'ready') return this.update();
    if (message.is === 'choose' && 'build' in message && 'kind' in message) {
      const { build, kind } = message;
      if (typeof build !== 'string' || typeof kind !== 'string') return;
      this.shown = { ...this.shown, build, kind };
      return this.update();
    }
    if (message.is !== 'open' || this.shown.build === null) return;
    const asked: SheetPlaceAsked = {
      textDocument: { uri: this.shown.uri },
      build: this.shown.build,
      ...('figure' in message && typeof message.figure === 'string' ? { figure: message.figure } : {}),
      ...('finding' in message && typeof message.finding === 'string' ? { finding: message.finding } : {}),
    };
    const place = await this.server.ask<Location>(sheetPlaceMethod, asked);
    if (place) await show(place, this.panel.viewColumn);
  }
}

/** In the editor that has the file, else beside the sheet. */
async function show({ uri, range: { start, end } }: Location, sheetColumn: ViewColumn | undefined): Promise<void> {
  const document = await workspace.openTextDocument(Uri.parse(uri));
  const seen = window.visibleTextEditors.find((editor) => editor.document === document);
  const column = seen?.viewColumn ?? (sheetColumn === ViewColumn.One ? ViewColumn.Beside : ViewColumn.One);
  const editor = await window.showTextDocument(document, { viewColumn: column });
  const range = new Range(start.line, start.character, end.line, end.character);
  editor.selection = new Selection(range.start, range.start);
  editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport);
}

function titleOf(uri: string): string {
  return l10n.t('Sheet of {0}', Uri.parse(uri).path.split('/').pop() ?? '');
}

/** What a page kept through a restart; null where it is none of ours. */
export function keptBy(state: unknown): Shown | null {
  if (typeof state !== 'object' || state === null || !('uri' in state) || typeof state.uri !== 'string') return null;
  const build = 'build' in state && typeof state.build === 'string' ? state.build : null;
  const kind = 'kind' in state && typeof state.kind === 'string' ? state.kind : 'whole';
  return { uri: state.uri, build, kind };
}
