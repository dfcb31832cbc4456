/** Which texts are ours. By scheme too: the two sides of a comparison with an earlier version are not a second copy of the build. */
import { workspace } from 'vscode';

/** Those of the folders too, whoever provides them: a folder may lie nowhere on a disk. */
export const schemes: readonly string[] = [
  ...new Set([
    'file',
    'untitled',
    'vscode-vfs',
    'vscode-remote',
    'thou-library',
    ...(workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme),
  ]),
];

export const thouDocuments = schemes.map((scheme) => ({ scheme, language: 'thou' }));
