/** Every speed comparison in turn. None of them is a test: machines differ, ratios of one run hold. */
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';

const folder = new URL('.', import.meta.url).pathname;
const shared: ReadonlySet<string> = new Set(['all.ts', 'text.ts', 'by-hand.ts', 'reductions.ts']);
const suites = readdirSync(folder).filter((name) => name.endsWith('.ts') && !shared.has(name));
console.log(`Node ${process.version}, ${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown'}\n`);
for (const suite of suites.sort()) {
  console.log(`\n## ${suite.replace('.ts', '')}\n`);
  const run = spawnSync(process.execPath, [join(folder, suite)], { stdio: 'inherit' });
  if (run.status !== 0) process.exitCode = 1;
}
