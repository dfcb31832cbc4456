/** Packs the extension into one .vsix, and refuses one that is larger than people should have to fetch. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const mostBytes = 1_500_000;
const here = new URL('../', import.meta.url);
const at = (path: string): string => fileURLToPath(new URL(path, here));

const { name, version } = JSON.parse(readFileSync(at('package.json'), 'utf8')) as { name: string; version: string };
const packed = at(`dist/${name}-${version}.vsix`);

// The packer takes these three only from the extension's own folder; the root holds the ones that are kept.
for (const file of ['LICENSE', 'README.md', 'CHANGELOG.md']) copyFileSync(at(`../${file}`), at(file));
mkdirSync(at('dist'), { recursive: true });

const run = spawnSync(
  process.execPath,
  [
    at('../node_modules/@vscode/vsce/vsce'),
    'package',
    '--no-dependencies',
    '--no-rewrite-relative-links',
    '--allow-missing-repository',
    '--out',
    packed,
  ],
  { cwd: at('.'), stdio: 'inherit' },
);
if (run.status !== 0) process.exit(run.status ?? 1);

const bytes = statSync(packed).size;
if (bytes > mostBytes) {
  process.stderr.write(`${packed} has ${bytes} bytes, more than the ${mostBytes} that are allowed\n`);
  process.exit(1);
}
