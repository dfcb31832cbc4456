/** Texts of the server that tell of a file, as documents that nobody can write in: asked for anew when the file was looked at anew. */
import { reportMethod, type ReportAnswer, type ReportAsked, type ReportLink } from '@thou/shared/protocol';
import {
  Disposable,
  DocumentLink,
  EventEmitter,
  languages,
  Range,
  Uri,
  ViewColumn,
  window,
  workspace,
  type DocumentLinkProvider,
  type TextDocumentContentProvider,
} from 'vscode';
import type { Server } from '../server.ts';

const scheme = 'thou-report';

export class ReportDocuments implements TextDocumentContentProvider, DocumentLinkProvider {
  private readonly server: Server;
  private readonly changed = new EventEmitter<Uri>();
  readonly onDidChange = this.changed.event;
  private readonly links = new Map<string, readonly ReportLink[]>();
  private readonly listeners: Disposable;

  constructor(server: Server) {
    this.server = server;
    this.listeners = Disposable.from(
      workspace.registerTextDocumentContentProvider(scheme, this),
      languages.registerDocumentLinkProvider({ scheme }, this),
      workspace.onDidCloseTextDocument(({ uri }) => this.links.delete(uri.toString())),
      server.onSaid((uri) => this.again(uri)),
    );
  }

  /** Beside the text that it tells of. What cannot be told is said. */
  async show(asked: ReportAsked): Promise<void> {
    const answer = await this.server.ask<ReportAnswer>(reportMethod, asked);
    if (!answer) return;
    if ('problem' in answer) return void window.showInformationMessage(answer.problem);
    const { position, ...about } = asked;
    const settled: ReportAsked = { ...about, build: answer.build, ...(answer.figure ? { figure: answer.figure } : {}) };
    const name = [answer.title, ...(position === undefined || answer.build === null ? [] : [answer.build])].join(', ');
    const uri = Uri.from({ scheme, path: `/${name.replaceAll('/', ' per ')}`, query: JSON.stringify(settled) });
    await window.showTextDocument(uri, { viewColumn: ViewColumn.Beside, preserveFocus: true, preview: true });
  }

  async provideTextDocumentContent(uri: Uri): Promise<string> {
    const asked = askedBy(uri);
    const answer = asked && (await this.server.ask<ReportAnswer>(reportMethod, asked));
    if (!answer) return '';
    if ('problem' in answer) return `${answer.problem}\n`;
    this.links.set(uri.toString(), answer.links);
    return answer.text;
  }

  provideDocumentLinks({ uri }: { readonly uri: Uri }): DocumentLink[] {
    return (this.links.get(uri.toString()) ?? []).map(({ line, start, end, target }) => {
      const { line: to, character } = target.range.start;
      const place = Uri.parse(target.uri).with({ fragment: `L${to + 1},${character + 1}` });
      return new DocumentLink(new Range(line, start, line, end), place);
    });
  }

  dispose(): void {
    this.listeners.dispose();
    this.changed.dispose();
  }

  private again(file: string): void {
    for (const { uri } of workspace.textDocuments)
      if (uri.scheme === scheme && askedBy(uri)?.textDocument.uri === file) this.changed.fire(uri);
  }
}

/** Null where the address is none of ours: somebody may have typed it. */
function askedBy({ query }: Uri): ReportAsked | null {
  try {
    const asked = JSON.parse(query) as Partial<ReportAsked> | null;
    return typeof asked?.textDocument?.uri === 'string' && typeof asked.sort === 'string'
      ? (asked as ReportAsked)
      : null;
  } catch {
    return null;
  }
}
