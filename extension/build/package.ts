/** Packs the extension into one .vsix, and refuses one that is larger than people should have to fetch. */
import { copyFileSync, mkdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const mostBytes = 1_500_000;
const at = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const { name, version } = JSON.parse(readFileSync(at('package.json'), 'utf8')) as { name: string; version: string };
const packagePath = at(`dist/${name}-${version}.vsix`);

// The packer takes these three only from the extension's own folder; the root holds the ones that are kept.
for (const file of ['LICENSE', 'README.md', 'CHANGELOG.md']) copyFileSync(at(`../${file}`), at(file));
mkdirSync(at('dist'), { recursive: true });
await createVSIX({
  cwd: at('.'),
  packagePath,
  dependencies: false,
  allowMissingRepository: true,
  rewriteRelativeLinks: false,
});

const bytes = statSync(packagePath).size;
if (bytes > mostBytes) {
  process.stderr.write(`${packagePath} has ${bytes} bytes, more than the ${mostBytes} that are allowed\n`);
  process.exitCode = 1;
}
