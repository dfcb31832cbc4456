// The open documents with their versions; edits arrive as pieces and are put together here.
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { DidChangeTextDocumentParams, DidOpenTextDocumentParams } from 'vscode-languageserver';

export class Documents {
  private readonly held = new Map<string, TextDocument>();

  /** The text as it was opened. */
  open({ textDocument }: DidOpenTextDocumentParams): string {
    const { uri, languageId, version, text } = textDocument;
    this.held.set(uri, TextDocument.create(uri, languageId, version, text));
    return text;
  }

  /** The text after the edit; undefined for a document that was never opened. */
  change({ textDocument, contentChanges }: DidChangeTextDocumentParams): string | undefined {
    const document = this.held.get(textDocument.uri);
    if (!document) return undefined;
    const edited = TextDocument.update(document, [...contentChanges], textDocument.version);
    this.held.set(textDocument.uri, edited);
    return edited.getText();
  }

  close(uri: string): boolean {
    return this.held.delete(uri);
  }

  versionOf(uri: string): number | undefined {
    return this.held.get(uri)?.version;
  }

  has(uri: string): boolean {
    return this.held.has(uri);
  }
}
