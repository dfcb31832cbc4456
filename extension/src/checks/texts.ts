/** Texts that are only to be read: the file as it would be with a fix in it, what changed since a commit. Gone when their editor is closed. */
import { Disposable, EventEmitter, Uri, workspace, type TextDocumentContentProvider } from 'vscode';

export const textScheme = 'thou-text';

export class Texts implements TextDocumentContentProvider {
  private readonly held = new Map<string, string>();
  private readonly changed = new EventEmitter<Uri>();
  private readonly disposables: Disposable;
  private count = 0;
  readonly onDidChange = this.changed.event;

  constructor() {
    this.disposables = Disposable.from(
      this.changed,
      workspace.registerTextDocumentContentProvider(textScheme, this),
      workspace.onDidCloseTextDocument(({ uri }) => uri.scheme === textScheme && this.held.delete(uri.toString())),
    );
  }

  dispose(): void {
    this.disposables.dispose();
  }

  /** The end of the name says what colours the text gets. */
  put(name: string, text: string): Uri {
    this.count += 1;
    const uri = Uri.from({ scheme: textScheme, path: `/${this.count}/${name}` });
    this.held.set(uri.toString(), text);
    return uri;
  }

  provideTextDocumentContent(uri: Uri): string {
    return this.held.get(uri.toString()) ?? '';
  }
}
