/** Which texts are ours. By scheme too: the two sides of a comparison with an earlier version are not a second copy of the build. */
const schemes = ['file', 'untitled', 'vscode-vfs', 'thou-library'] as const;

export const thouDocuments = schemes.map((scheme) => ({ scheme, language: 'thou' }));
