/** A sheet as a page of its own, to be printed from a browser: views inside the editor are not allowed to print. */
import { env, l10n, UIKind, Uri, window, workspace } from 'vscode';

let keptIn: Uri | undefined;

/** Where pages lie that are only opened, never asked for again. */
export function keepPagesIn(folder: Uri): void {
  keptIn = Uri.joinPath(folder, 'sheets');
}

/** Opened in the browser where editor and browser are on one machine; else saved where somebody says. */
export async function openPage(name: string, page: string): Promise<void> {
  const file = `${name.replaceAll(/[^\w.-]+/g, '-')}.html`;
  const content = new TextEncoder().encode(page);
  if (env.uiKind === UIKind.Desktop && env.remoteName === undefined && keptIn?.scheme === 'file') {
    const target = Uri.joinPath(keptIn, file);
    await workspace.fs.writeFile(target, content);
    if (await env.openExternal(target)) return;
  }
  const folder = workspace.workspaceFolders?.[0]?.uri;
  const target = await window.showSaveDialog({
    title: l10n.t('Save the sheet as a page, to be printed from a browser'),
    filters: { HTML: ['html'] },
    ...(folder ? { defaultUri: Uri.joinPath(folder, file) } : {}),
  });
  if (!target) return;
  await workspace.fs.writeFile(target, content);
  void window.showInformationMessage(l10n.t('Saved. Open it in a browser and print it there.'));
}
