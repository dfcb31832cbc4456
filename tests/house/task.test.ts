/** What the editor's task reads: every line that the command line prints of a finding, and no other. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const top = join(import.meta.dirname, '../..');

interface Manifest {
  readonly contributes: { readonly problemMatchers: readonly { readonly pattern: { readonly regexp: string } }[] };
}

test('findings that are printed are read with their place, weight, words and code', () => {
  const { contributes } = JSON.parse(readFileSync(join(top, 'extension/package.json'), 'utf8')) as Manifest;
  const pattern = new RegExp(contributes.problemMatchers[0]!.pattern.regexp);
  const folder = mkdtempSync(join(tmpdir(), 'thou-task-'));
  const text = `use prelude 1
build one {
  redline: 7000 rpm
  over-speed: 7400 rpm
  expect over-speed within <= 7200 rpm because "the maker says so: 7200 [sheet 3]"
  boar: 4 in
}
`;
  writeFileSync(join(folder, 'one.thou'), text);
  const { stdout } = spawnSync(process.execPath, [join(top, 'language/bin/thou.js'), 'check', '.'], {
    cwd: folder,
    encoding: 'utf8',
  });
  rmSync(folder, { recursive: true });
  const read = stdout.split('\n').flatMap((line) => {
    const [all, file, row, column, severity, message, code] = pattern.exec(line) ?? [];
    return all === undefined ? [] : [{ file, row: Number(row), column: Number(column), severity, message, code }];
  });
  expect(read).toContainEqual({
    file: 'one.thou',
    row: 4,
    column: 15,
    severity: 'error',
    message: expect.stringMatching(/^Over speed is 7,?400 rpm: .*\.$/) as string,
    code: 'expect',
  });
  expect(read.some(({ row, severity }) => row === 6 && severity === 'error')).toBe(true);
  // each headline has its weight in the third place; explanations below it are set in
  expect(read).toHaveLength(stdout.split('\n').filter((line) => /^\S+\.thou:\d/.test(line)).length);
});
