/** Packs the extension into one .vsix that needs nothing else, and refuses one that is larger than people should have to fetch. */
import { copyFileSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';
import { bundle } from './bundle.ts';

const mostBytes = 1_500_000;
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

const bytes = statSync(packagePath).size;
process.stdout.write(`${packagePath}: ${bytes} bytes\n`);
if (bytes > mostBytes) {
  process.stderr.write(`${packagePath} has ${bytes} bytes, more than the ${mostBytes} that are allowed\n`);
  process.exitCode = 1;
}

/** An editor shows pictures of a read-me only from an address; the project has none yet. */
function withoutPictures(text: string): string {
  return text.replaceAll(/^!\[[^\]]*\]\((?!https:)[^)]*\)\n\n?/gm, '');
}
