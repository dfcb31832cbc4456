/** Pages that come with the extension, of the codes of problems: shown as documents, also where no server and no disk is. */
import { Uri, workspace, type TextDocumentContentProvider } from 'vscode';

const scheme = 'thou-doc';

/** The address in front of the name of a page, as the server is told it. */
export const problemPages = `${scheme}:/problems/`;

export class Pages implements TextDocumentContentProvider {
  static readonly scheme = scheme;
  private readonly folder: Uri;

  constructor(extension: Uri) {
    this.folder = Uri.joinPath(extension, 'dist/language/docs');
  }

  /** A way that leads out of the folder is not followed. */
  async provideTextDocumentContent({ path }: Uri): Promise<string> {
    const page = Uri.joinPath(this.folder, path);
    if (!page.path.startsWith(`${this.folder.path}/`)) return '';
    return new TextDecoder().decode(await workspace.fs.readFile(page));
  }
}
