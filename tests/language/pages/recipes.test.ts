/** The recipes for code hosts: their YAML is read, and their shell lines are run in a clone with a change in it. */
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { blocksOf, textOfGuide } from './guides.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const blocks = blocksOf(textOfGuide('how-to-ci.md'));
const recipes = blocks.filter(({ kind }) => kind === 'yaml');
const [first, changed] = blocks.filter(({ kind }) => kind === 'thou').map(({ body }) => body) as [string, string];

let home: string;
let clone: string;

beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'thou-recipe-'));
  const origin = join(home, 'origin');
  clone = join(home, 'clone');
  git(home, 'init', '--quiet', '--initial-branch=main', origin);
  writeFileSync(join(origin, 'job.thou'), first);
  git(origin, 'add', '.');
  git(origin, 'commit', '--quiet', '-m', 'Owl');
  git(home, 'clone', '--quiet', origin, clone);
  writeFileSync(join(clone, 'job.thou'), changed);
  writeFileSync(join(clone, 'more.thou'), changed.replace('owl', 'wren'));
  git(clone, 'add', '.');
  git(clone, 'commit', '--quiet', '-m', 'Deck cut, and another');
  // the tool is there already: neither fetched nor set up for each test
  symlinkSync(top, join(clone, '.thou'));
  writeFileSync(join(clone, '.git/info/exclude'), '/.thou\n');
  symlinkSync(top, join(home, 'thou'));
  const found = execFileSync('sh', ['-c', 'command -v git'], { encoding: 'utf8' }).trim();
  script('npm', 'exit 0');
  script('git', `[ "$1" = clone ] && exit 0\nexec ${found} "$@"`);
  symlinkSync(process.execPath, join(home, 'bin/node'));
});

afterEach(() => {
  rmSync(home, { recursive: true, force: true });
});

function git(folder: string, ...words: string[]): void {
  execFileSync('git', ['-c', 'user.name=A. H.', '-c', 'user.email=a@example.org', ...words], { cwd: folder });
}

function script(name: string, body: string): void {
  const path = join(home, 'bin', name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, `#!/bin/sh\n${body}\n`);
  chmodSync(path, 0o755);
}

/** Exit code and what was said, as a code host runs it: a line that fails ends it. */
function shell(line: string): { readonly status: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync('sh', ['-e', '-c', line], {
    cwd: clone,
    encoding: 'utf8',
    env: {
      ...process.env,
      PATH: `${join(home, 'bin')}:${process.env['PATH']}`,
      BASE: 'origin/main',
      GITHUB_STEP_SUMMARY: join(home, 'summary.md'),
      CI_DEFAULT_BRANCH: 'main',
    },
  });
  return { status, said: stdout + stderr };
}

/** What stands behind `run:`, or in a list under `script:`. */
function linesOf(recipe: string): string[] {
  const runs = [...recipe.matchAll(/^ *(?:- )?run: (?!\|)(.*)$/gm)].map(([, line]) => line!);
  const lists = [...recipe.matchAll(/^ *(?:after_)?script:\n((?: +- .*\n)+)/gm)].flatMap(([, list]) =>
    list!
      .trim()
      .split(/\n? *- /)
      .filter((line) => line !== ''),
  );
  return [...runs, ...lists.map((line) => line.replace(/^- /, ''))];
}

function read(name: string): string {
  return readFileSync(join(clone, name), 'utf8');
}

test('the recipes are YAML', async () => {
  expect(recipes.map(({ name }) => name)).toEqual(['.github/workflows/thou.yml', '.gitlab-ci.yml']);
  for (const { body } of recipes) await expect(format(body, { parser: 'yaml' })).resolves.not.toBe('');
  await expect(format('a: [b', { parser: 'yaml' })).rejects.toThrow();
});

test('each line of them runs, and leaves behind what the next step takes', () => {
  for (const [at, many] of [3, 4].entries()) {
    const lines = linesOf(recipes[at]!.body);
    expect(lines.length, lines.join('\n')).toBe(many);
    for (const line of lines) expect(shell(line), line).toMatchObject({ status: 0 });
    expect(read('thou.md')).toContain('Of 2 builds 1 changed, 1 is new and 0 are the same.');
  }
  expect(JSON.parse(read('thou.sarif'))).toMatchObject({ version: '2.1.0' });
  expect(readFileSync(join(home, 'summary.md'), 'utf8')).toBe(read('thou.md').replace('FETCH\\_HEAD', 'origin/main'));
  expect(read('thou.xml')).toMatch(/^<\?xml .*\n<testsuites /);
});

test('what must hold and does not fails the run, as the hook before a commit does', () => {
  const [, hook] = /^#!\/bin\/sh\n([^]*)$/.exec(blocks.find(({ name }) => name === 'hooks/pre-commit')!.body)!;
  rmSync(join(home, 'bin/npm'));
  git(clone, 'reset', '--quiet', '--soft', 'HEAD~1');
  expect(shell(hook!)).toMatchObject({ status: 0 });
  writeFileSync(join(clone, 'job.thou'), changed.replace('layout: inline-4', 'layuot: inline-4'));
  git(clone, 'add', '.');
  const stopped = shell(hook!);
  expect(stopped.status).toBe(1);
  expect(stopped.said).toContain('layuot');
  const [, check] = linesOf(recipes[0]!.body);
  expect(shell(check!).status).toBe(1);
});
