/** Pasting a column or a block of figures: the server says what it becomes at this place, or why it cannot. */
import { pasteMethod, type PasteAsked, type PasteTold } from '@thou/shared/protocol-readings';
import {
  DocumentDropOrPasteEditKind,
  DocumentPasteEdit,
  languages,
  window,
  type CancellationToken,
  type DataTransfer,
  type Disposable,
  type DocumentPasteEditContext,
  type DocumentPasteEditProvider,
  type Range,
  type TextDocument,
} from 'vscode';
import { thouDocuments } from '../documents.ts';
import { stretchOf } from '../places.ts';
import type { Server } from '../server.ts';

const plain = 'text/plain';
const figures = DocumentDropOrPasteEditKind.Text.append('thou', 'figures');

export function pasteOfFigures(server: Server): Disposable {
  return languages.registerDocumentPasteEditProvider(thouDocuments, new FiguresPaste(server), {
    providedPasteEditKinds: [figures],
    pasteMimeTypes: [plain],
  });
}

class FiguresPaste implements DocumentPasteEditProvider {
  private readonly server: Server;

  constructor(server: Server) {
    this.server = server;
  }

  async provideDocumentPasteEdits(
    document: TextDocument,
    ranges: readonly Range[],
    transfer: DataTransfer,
    _: DocumentPasteEditContext,
    token: CancellationToken,
  ): Promise<DocumentPasteEdit[] | undefined> {
    const [range] = ranges;
    const text = await transfer.get(plain)?.asString();
    // what has no cells beside or below each other is no block
    if (!range || ranges.length > 1 || text === undefined || !/\d[^]*[\n\t;]/.test(text)) return undefined;
    const asked: PasteAsked = { textDocument: { uri: document.uri.toString() }, range: stretchOf(range), text };
    const told = await this.server.ask<PasteTold>(pasteMethod, asked);
    if (!told || token.isCancellationRequested) return undefined;
    if (told.text !== null) return [new DocumentPasteEdit(told.text, told.title, figures)];
    // the text stays as it is; the editor still offers to put the cells there plainly
    const problem = told.problem ?? '';
    void window.showWarningMessage(problem);
    return [new DocumentPasteEdit(document.getText(range), problem, figures)];
  }
}
