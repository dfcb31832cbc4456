/** The checks of types and lint really refuse what they are there to refuse: one bad file for each. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { top } from './walls.ts';

/** A folder that is there while the tests around the call run. */
function folderIn(parent: string): (file: string, text: string) => string {
  let folder = '';
  beforeAll(() => {
    mkdirSync(parent, { recursive: true });
    folder = mkdtempSync(join(parent, 'canary-'));
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  return (file, text) => {
    const path = join(folder, file);
    writeFileSync(path, text);
    return path;
  };
}

function run(tool: string, args: readonly string[]): { readonly code: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(top, 'node_modules', tool), ...args], {
    cwd: top,
    encoding: 'utf8',
  });
  return { code: status, said: stdout + stderr };
}

describe('types', () => {
  // inside the workspace, so that its packages are found; in a folder that git passes over
  const write = folderIn(join(top, 'language/dist'));
  // the parser kit comes along, since its own types must not bring Node or a window in
  const good = "import type { AstNode } from 'langium';\nexport type Node = AstNode;\n";

  function compile(project: string, text: string): { readonly code: number | null; readonly said: string } {
    write('source.ts', text);
    const settings = {
      extends: join(top, project),
      include: ['source.ts'],
      references: [],
      compilerOptions: { rootDir: '.', outDir: 'out' },
    };
    return run('typescript/bin/tsc', ['-p', write('tsconfig.json', JSON.stringify(settings))]);
  }

  test('a good file passes', () => {
    expect(compile('language/tsconfig.json', good)).toEqual({ code: 0, said: '' });
  });

  test.each([
    [
      'the core reads no files',
      "import { readFileSync } from 'node:fs';\nexport const x = readFileSync('a');\n",
      "'node:fs'",
    ],
    ['the core knows no process', 'export const x = process.cwd();\n', "'process'"],
    ['the core knows no window', 'export const x = document.title;\n', "'document'"],
    ['only what can be stripped', 'export enum Kind {\n  one,\n}\n', 'erasableSyntaxOnly'],
    ['a place in a list may be empty', 'export const x = (list: number[]): number => list[0];\n', "'undefined'"],
    [
      'types are imported as types',
      "import { AstNode } from 'langium';\nexport type Node = AstNode;\n",
      'verbatimModuleSyntax',
    ],
    ['no name stands unused', 'const unused = 1;\nexport {};\n', 'unused'],
  ])('%s', (_, text, word) => {
    const { code, said } = compile('language/tsconfig.json', good + text);
    expect(code).not.toBe(0);
    expect(said).toContain(word);
  });

  test('shared knows no process', () => {
    expect(compile('shared/tsconfig.json', 'export const x = process.cwd();\n').said).toContain("'process'");
  });

  test('the command line may use Node', () => {
    expect(compile('language/src/command-line/tsconfig.json', 'export const x = process.cwd();\n').said).toBe('');
  });
});

describe('lint', () => {
  const write = folderIn(tmpdir());

  function lint(text: string): { readonly code: number | null; readonly said: string } {
    write(
      'tsconfig.json',
      JSON.stringify({
        extends: join(top, 'language/tsconfig.json'),
        include: ['*.ts'],
        compilerOptions: { rootDir: '.', strict: true },
      }),
    );
    const file = write('source.ts', text);
    // The folder is one that the project's settings pass over.
    return run('oxlint/bin/oxlint', [
      '-c',
      join(top, '.oxlintrc.json'),
      '--type-aware',
      '--deny-warnings',
      '--no-ignore',
      file,
    ]);
  }

  test('a good file passes', () => {
    expect(lint('export const x = 1;\n').code).toBe(0);
  });

  test.each([
    [
      'no-floating-promises',
      'async function later(): Promise<void> {}\nexport function now(): void {\n  later();\n}\n',
    ],
    ['no-explicit-any', 'export const x: any = 1;\n'],
    ['no-console', "export function say(): void {\n  console.log('x');\n}\n"],
  ])('%s', (rule, text) => {
    const { code, said } = lint(text);
    expect(code).not.toBe(0);
    expect(said).toContain(rule);
  });
});
