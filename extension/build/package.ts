/** Packs the extension into one .vsix that needs nothing else, and refuses what is larger than people, or a browser at every start, should have to fetch. */
import { copyFileSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';
import { bundle } from './bundle.ts';

const at = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const { name, version } = JSON.parse(readFileSync(at('package.json'), 'utf8')) as { name: string; version: string };
const packagePath = at(`dist/${name}-${version}.vsix`);

writeFileSync(at('THIRD-PARTY-NOTICES.txt'), await bundle());
// The packer takes these only from the extension's own folder; the root holds the ones that are kept.
for (const file of ['LICENSE', 'CHANGELOG.md']) copyFileSync(at(`../${file}`), at(file));
writeFileSync(at('README.md'), withoutPictures(readFileSync(at('../README.md'), 'utf8')));
await createVSIX({
  cwd: at('.'),
  packagePath,
  dependencies: false,
  allowMissingRepository: true,
  rewriteRelativeLinks: false,
});

const mostBytes: readonly (readonly [path: string, most: number])[] = [
  [packagePath, 1_500_000],
  [at('dist/browser.cjs'), 600_000],
  // the worker of a browser, and the process on a desktop
  [at('dist/language/thou.cjs'), 1_700_000],
];
for (const [path, most] of mostBytes) {
  const bytes = statSync(path).size;
  process.stdout.write(`${path}: ${bytes} bytes\n`);
  if (bytes <= most) continue;
  process.stderr.write(`${path} has ${bytes} bytes, more than the ${most} that are allowed\n`);
  process.exitCode = 1;
}

/** An editor shows pictures of a read-me only from an address; the project has none yet. */
function withoutPictures(text: string): string {
  return text.replaceAll(/^!\[[^\]]*\]\((?!https:)[^)]*\)\n\n?/gm, '');
}
