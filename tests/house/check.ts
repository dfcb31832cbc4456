/** Everything that must hold before a change is handed in, in one run; stops at the first that does not. */
import { spawnSync } from 'node:child_process';

const steps: readonly (readonly [what: string, command: string])[] = [
  [
    'generated files are up to date',
    'npm run --silent generate && git diff --exit-code --stat -- language/src/grammar/generated language/docs && test -z "$(git status --porcelain -- language/docs)"',
  ],
  ['types', 'npm run --silent types'],
  ['lint', 'npm run --silent lint'],
  ['format', 'npm run --silent format:check'],
  ['dead code', 'npm run --silent dead-code'],
  ...(process.argv.includes('--no-tests') ? [] : ([['tests', 'npm test']] as const)),
  ['package', 'npm run --silent package'],
];

for (const [what, command] of steps) {
  process.stdout.write(`\n== ${what}\n`);
  const run = spawnSync(command, { shell: true, stdio: 'inherit' });
  if (run.status !== 0) {
    process.stdout.write(`\n${what}: does not hold\n`);
    process.exit(run.status ?? 1);
  }
}
