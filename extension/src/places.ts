/** Places in texts as the server names them, and changes that it proposes. */
import {
  Position,
  Range,
  Selection,
  TextEditorRevealType,
  Uri,
  ViewColumn,
  window,
  workspace,
  WorkspaceEdit,
  type TextEditor,
} from 'vscode';

export interface Stretch {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

export function rangeOf({ start, end }: Stretch): Range {
  return new Range(new Position(start.line, start.character), new Position(end.line, end.character));
}

/** As it is sent: the editor's own ranges are written as lists. */
export function stretchOf({ start, end }: Range): Stretch {
  const place = ({ line, character }: Position): Stretch['start'] => ({ line, character });
  return { start: place(start), end: place(end) };
}

/** In the editor that has the file already, else in the first. */
export async function opened(uri: string, isQuiet = false): Promise<TextEditor> {
  const document = await workspace.openTextDocument(Uri.parse(uri));
  const seen = window.visibleTextEditors.find((editor) => editor.document === document);
  return window.showTextDocument(document, { viewColumn: seen?.viewColumn ?? ViewColumn.One, preserveFocus: isQuiet });
}

/** `isQuiet`: what is in focus, and the cursor, stay. */
export async function reveal(uri: string, stretch: Stretch, isQuiet = false): Promise<void> {
  const editor = await opened(uri, isQuiet);
  const range = rangeOf(stretch);
  if (!isQuiet) editor.selection = new Selection(range.start, range.start);
  editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport);
}

/** As one change that can be undone. */
export function editOf(
  uri: Uri,
  changes: readonly { readonly range: Stretch; readonly newText: string }[],
): WorkspaceEdit {
  const edit = new WorkspaceEdit();
  for (const { range, newText } of changes) edit.replace(uri, rangeOf(range), newText);
  return edit;
}

export async function applyChanges(
  uri: Uri,
  changes: readonly { readonly range: Stretch; readonly newText: string }[],
): Promise<boolean> {
  return workspace.applyEdit(editOf(uri, changes));
}
