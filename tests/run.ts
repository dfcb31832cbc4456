/**
 * Runs the tests and closes with one line that says how many passed and failed. Arguments go to the test runner, `--config=FILE` for
 * other tests. With `--again`, files in which a test failed are run once more, each whole and from the start, and that run counts for
 * them: a window is in nobody's hands alone.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface FileOfTests {
  readonly name: string;
  readonly status: 'passed' | 'failed';
  readonly assertionResults: readonly { readonly status: string }[];
}

interface Run {
  readonly code: number;
  /** Undefined where the runner did not come to its end. */
  readonly files: readonly FileOfTests[] | undefined;
}

const given = process.argv.slice(2);
const own = given.filter((argument) => argument !== '--again');
const options = own.filter((argument) => argument.startsWith('-'));
// the trees of the trade library are made once, not in every file of tests; where they cannot be, each reads the texts
mkdirSync('language/dist', { recursive: true });
spawnSync(process.execPath, ['language/src/command-line/make-ready.ts', 'language/dist/prelude.json']);

const first = run(own);
const failing = (first.files ?? []).filter(({ status }) => status === 'failed').map(({ name }) => name);
if (given.includes('--again') && failing.length > 0) {
  process.stdout.write(`\nonce more from the start, since a test failed there: ${failing.join(', ')}\n`);
  const second = run([...options, ...failing]);
  const kept = first.files!.filter(({ name }) => !failing.includes(name));
  close({ code: second.code, files: second.files && [...kept, ...second.files] });
} else close(first);

function run(args: readonly string[]): Run {
  const config = args.some((argument) => argument.startsWith('--config=')) ? [] : ['--config=tests/vitest.config.ts'];
  const folder = mkdtempSync(join(tmpdir(), 'thou-tests-'));
  const output = join(folder, 'report.json');
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${output}`];
  const { status } = spawnSync(
    process.execPath,
    ['node_modules/vitest/vitest.mjs', 'run', ...config, ...reporters, ...args],
    { stdio: ['ignore', 'inherit', 'inherit'] },
  );
  const files = filesIn(output);
  rmSync(folder, { recursive: true, force: true });
  return { code: status ?? 1, files };
}

function filesIn(report: string): Run['files'] {
  try {
    return (JSON.parse(readFileSync(report, 'utf8')) as { readonly testResults: readonly FileOfTests[] }).testResults;
  } catch {
    return undefined;
  }
}

function close({ code, files = [] }: Run): void {
  const statuses = files.flatMap(({ assertionResults }) => assertionResults.map(({ status }) => status));
  const count = (wanted: (status: string) => boolean): number => statuses.filter(wanted).length;
  const skipped = count((status) => status !== 'passed' && status !== 'failed');
  // a file that cannot be loaded fails without a test of its own
  const failed = Math.max(
    count((status) => status === 'failed'),
    code === 0 ? 0 : 1,
  );
  process.stdout.write(
    `\n${skipped > 0 ? `${skipped} skipped\n` : ''}${count((status) => status === 'passed')} passed, ${failed} failed\n`,
  );
  process.exitCode = code;
}
