/** The sheet beside the text: asks the server for it, shows it, and leads from a figure to the text and back. */
import {
  apartViews,
  apartWays,
  sheetApartMethod,
  sheetFigureMethod,
  sheetMethod,
  sheetPageMethod,
  sheetPlaceMethod,
  type SheetApart,
  type SheetApartAsked,
  type SheetAsked,
  type SheetFigure,
  type SheetFigureAsked,
  type SheetPageAsked,
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
import { openPage } from './print.ts';

export const sheetView = 'thou.sheet';

/** What the page keeps of itself, and what it says. */
interface Shown {
  readonly uri: string;
  readonly build: string | null;
  readonly kind: string;
  /** Folded pieces that somebody opened. */
  readonly open: readonly string[];
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
  /** The one that was looked at last. */
  private static latest: SheetPanel | undefined;
  private readonly panel: WebviewPanel;
  private readonly server: Server;
  private readonly listeners: Disposable[];
  private shown: Shown;
  private asked = 0;
  /** Pieces that the page has, by what they were of. */
  private have: Readonly<Record<string, string>> = {};
  /** Open as long as the cursor is on a figure inside it. */
  private followed: string | null = null;
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
    SheetPanel.latest = this;
    panel.onDidChangeViewState(() => {
      if (panel.active) SheetPanel.latest = this;
    });
    panel.onDidDispose(() => {
      clearTimeout(this.timer);
      if (SheetPanel.latest === this) SheetPanel.latest = undefined;
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
      print: l10n.t('Print'),
      waiting: l10n.t('Working it out'),
      apart: l10n.t('{0}: what it is made of and what uses it'),
    });
  }

  /** Prints the sheet that was looked at last. */
  static async print(): Promise<void> {
    await SheetPanel.latest?.print();
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
    return new SheetPanel(panel, server, media, { uri, build: null, kind: 'whole', open: [] });
  }

  private async update(): Promise<void> {
    const turn = ++this.asked;
    const { uri, build, kind } = this.shown;
    const open = this.followed === null ? this.shown.open : [...this.shown.open, this.followed];
    const params: SheetAsked = { textDocument: { uri }, build, kind, open, have: this.have };
    const told = await this.server.ask<SheetTold>(sheetMethod, params);
    if (turn !== this.asked) return;
    if (told) this.shown = { ...this.shown, build: told.build };
    this.have = Object.fromEntries((told?.pieces ?? []).map(({ id, of }) => [id, of]));
    this.panel.title = titleOf(uri);
    const empty = l10n.t('This file has no build that can be read yet.');
    await this.panel.webview.postMessage({ is: 'sheet', shown: this.shown, open, told: told ?? null, empty });
  }

  /** In a page of its own: a view inside the editor may not print. */
  private async print(): Promise<void> {
    const { uri, build, kind } = this.shown;
    const asked: SheetPageAsked = { textDocument: { uri }, build, kind };
    const page = await this.server.ask<string>(sheetPageMethod, asked);
    if (page) await openPage(`${build ?? 'sheet'}-${kind}`, page);
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
    const build = found.build ?? this.shown.build;
    if (build !== this.shown.build || found.piece !== this.followed) {
      this.shown = { ...this.shown, build };
      this.followed = found.piece;
      await this.update();
    }
    await this.panel.webview.postMessage({ is: 'here', figure: found.figure });
  }

  private async fold(piece: unknown, isOpen: unknown): Promise<void> {
    if (typeof piece !== 'string') return;
    const others = this.shown.open.filter((one) => one !== piece);
    if (this.followed === piece) this.followed = null;
    this.shown = { ...this.shown, open: isOpen === true ? [...others, piece] : others };
    await this.update();
  }

  private async takeApart(message: object): Promise<void> {
    const { uri, build } = this.shown;
    if (build === null || !('node' in message) || !('figure' in message) || typeof message.figure !== 'string') return;
    const view = apartViews.find((one) => 'view' in message && message.view === one);
    const way = apartWays.find((one) => 'way' in message && message.way === one);
    if (!view || !way) return;
    const asked: SheetApartAsked = { textDocument: { uri }, build, figure: message.figure, view, way };
    const told = await this.server.ask<SheetApart>(sheetApartMethod, asked);
    await this.panel.webview.postMessage({ is: 'apart', node: message.node, html: told?.html ?? null });
  }

  /** Messages of the page are looked at before they are believed. */
  private async said(message: unknown): Promise<void> {
    if (typeof message !== 'object' || message === null || !('is' in message)) return;
    if (message.is === 'ready') {
      this.have = {};
      return this.update();
    }
    if (message.is === 'print') return this.print();
    if (message.is === 'fold' && 'piece' in message && 'open' in message) return this.fold(message.piece, message.open);
    if (message.is === 'choose' && 'build' in message && 'kind' in message) {
      const { build, kind } = message;
      if (typeof build !== 'string' || typeof kind !== 'string') return;
      this.shown = { ...this.shown, build, kind };
      this.followed = null;
      return this.update();
    }
    if (message.is === 'apart') return this.takeApart(message);
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
  const kept: unknown = 'open' in state ? state.open : [];
  const open = Array.isArray(kept) ? kept.filter((one) => typeof one === 'string') : [];
  return { uri: state.uri, build, kind, open };
}
