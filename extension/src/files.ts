/** Files read for a server that cannot reach them itself: in a browser, or in a folder that lies on no disk. Only texts and tables, and never more than is asked. */
import {
  listFilesMethod,
  readFileMethod,
  type FileRead,
  type ListFilesAsked,
  type ReadFileAsked,
} from '@thou/shared/protocol';
import { FileSystemError, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

/** Folders and files that are looked at in one folder of the window, at most. */
const mostEntries = 50_000;
const passedOver = new Set(['node_modules', 'thou_modules']);

export function readThroughEditor(client: BaseLanguageClient): void {
  client.onRequest<string[], unknown>(listFilesMethod, ({ folder }: ListFilesAsked) => filesIn(Uri.parse(folder)));
  client.onRequest<FileRead, unknown>(readFileMethod, ({ uri, mostBytes }: ReadFileAsked) =>
    readFile(Uri.parse(uri), mostBytes),
  );
}

/** Links, dot-folders and packages are not entered, as on a disk. */
async function filesIn(root: Uri): Promise<string[]> {
  const found: string[] = [];
  const folders = [root];
  let seen = 0;
  for (let folder = folders.pop(); folder && seen < mostEntries; folder = folders.pop()) {
    for (const [name, type] of await entriesOf(folder)) {
      seen += 1;
      const at = Uri.joinPath(folder, name);
      if (type === FileType.Directory && !name.startsWith('.') && !passedOver.has(name)) folders.push(at);
      if (type === FileType.File && /\.(?:thou|csv)$/.test(name)) found.push(at.toString());
    }
  }
  return found;
}

async function entriesOf(folder: Uri): Promise<[string, FileType][]> {
  try {
    return await workspace.fs.readDirectory(folder);
  } catch {
    return [];
  }
}

/** A link is no file here: nobody could say where it leads. */
async function readFile(uri: Uri, mostBytes: number): Promise<FileRead> {
  try {
    const { type, size } = await workspace.fs.stat(uri);
    if (type !== FileType.File) return { problem: 'no-file' };
    if (size > mostBytes) return { problem: 'too-large' };
    const bytes = await workspace.fs.readFile(uri);
    if (bytes.length > mostBytes) return { problem: 'too-large' };
    return textOf(bytes);
  } catch (problem) {
    const isMissing = problem instanceof FileSystemError && problem.code === 'FileNotFound';
    return { problem: isMissing ? 'not-there' : 'not-allowed' };
  }
}

function textOf(bytes: Uint8Array): FileRead {
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return { problem: 'not-text' };
  }
}
