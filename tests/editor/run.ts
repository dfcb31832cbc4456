/** Fills the editor's folder, packs the extension, runs the tests of it in that editor; `npm run test:editor`. */
import { spawnSync } from 'node:child_process';
import { install } from './install.ts';

install();
for (const command of [
  ['npx', 'tsc', '-p', 'tests/editor'],
  ['npm', 'run', '--silent', 'package'],
  [process.execPath, 'tests/run.ts', '--again', '--config=tests/editor/vitest.config.ts', ...process.argv.slice(2)],
]) {
  const run = spawnSync(command[0]!, command.slice(1), { stdio: 'inherit' });
  if (run.status !== 0) process.exit(run.status ?? 1);
}
