/** Runs the tests and closes with one line that says how many passed and failed. Arguments go to the test runner, `--config=FILE` for other tests. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface Report {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
}

const own = process.argv.slice(2);
const config = own.some((argument) => argument.startsWith('--config=')) ? [] : ['--config=tests/vitest.config.ts'];
const folder = mkdtempSync(join(tmpdir(), 'thou-tests-'));
const output = join(folder, 'report.json');
// the trees of the trade library are made once, not in every file of tests; where they cannot be, each reads the texts
mkdirSync('language/dist', { recursive: true });
spawnSync(process.execPath, ['language/src/command-line/make-ready.ts', 'language/dist/prelude.json']);
const run = spawnSync(
  process.execPath,
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    ...config,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${output}`,
    ...own,
  ],
  { stdio: ['ignore', 'inherit', 'inherit'] },
);
const code = run.status ?? 1;
process.stdout.write(`\n${closing()}\n`);
rmSync(folder, { recursive: true, force: true });
process.exitCode = code;

function closing(): string {
  const report = reportOf();
  if (!report) return '0 passed, 1 failed';
  // a file that cannot be loaded fails without a test of its own
  const failed = Math.max(report.numFailedTests, code === 0 ? 0 : 1);
  const skipped = report.numPendingTests > 0 ? `${report.numPendingTests} skipped\n` : '';
  return `${skipped}${report.numPassedTests} passed, ${failed} failed`;
}

function reportOf(): Report | undefined {
  try {
    return JSON.parse(readFileSync(output, 'utf8')) as Report;
  } catch {
    return undefined;
  }
}
