/** Runs the tests and closes with one line that says how many passed and failed. Arguments go to the test runner. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface Report {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numFailedTestSuites: number;
}

const folder = mkdtempSync(join(tmpdir(), 'thou-tests-'));
const output = join(folder, 'report.json');
const args = ['run', '--config', 'tests/vitest.config.ts', '--reporter=default', '--reporter=json', `--outputFile.json=${output}`, ...process.argv.slice(2)];
const run = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', ...args], { stdio: ['ignore', 'inherit', 'inherit'] });
const code = run.status ?? 1;
try {
  const report = JSON.parse(readFileSync(output, 'utf8')) as Report;
  // a file that cannot be loaded fails without a test of its own
  const failed = Math.max(report.numFailedTests, code === 0 ? 0 : 1);
  const skipped = report.numPendingTests > 0 ? `, ${report.numPendingTests} skipped` : '';
  process.stdout.write(`\n${report.numPassedTests} passed, ${failed} failed${skipped}\n`);
} catch {
  process.stdout.write('\n0 passed, 1 failed\n');
}
rmSync(folder, { recursive: true, force: true });
process.exit(code);
