/** The language as it is packed, in a folder away from its sources: what it says of many files at once is what the sources say. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { packLanguage } from '../../../extension/build/language.ts';
import type { CheckReportResult } from '../../../shared/src/result/contract.ts';

const sources = fileURLToPath(new URL('../../../language/bin/thou.js', import.meta.url));
/** More than one thread is given, where there are threads. */
const many = 60;

let home: string;
let jobs: string;
let packed: string;

beforeAll(async () => {
  home = realpathSync(mkdtempSync(join(tmpdir(), 'thou-packed-')));
  jobs = join(home, 'jobs');
  mkdirSync(jobs);
  for (let at = 1; at <= many; at++) writeFileSync(join(jobs, `job-${at}.thou`), single(at));
  await packLanguage(join(home, 'language'));
  packed = join(home, 'language/thou.cjs');
}, 120_000);

afterAll(() => rmSync(home, { recursive: true, force: true }));

/** π/4 · 8² · s cm³: from 61 mm of stroke on it is more than 306 cc. */
const single = (at: number): string => `use prelude 1
build single-${at} {
  layout: single
  block.bore: 80.0 mm
  crank.stroke: ${at + 30} mm
  rod.length: 140 mm
  expect displacement <= 306 cc
}
`;

const check = (program: string, ...typed: string[]): { code: number | null; out: string; err: string } => {
  const ran = spawnSync(process.execPath, [program, 'check', ...typed], { cwd: home, encoding: 'utf8' });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
};

describe('a folder of many builds', () => {
  test('exit code, and every finding, as from the sources', () => {
    const typed = ['jobs', '--hints', '--format', 'json'];
    const [here, there] = [check(packed, ...typed), check(sources, ...typed)];
    expect(here).toMatchObject({ code: 1, err: '' });
    const report = JSON.parse(here.out) as CheckReportResult;
    const over = report.problems.filter(({ code }) => code === 'expect').map(({ file }) => file);
    expect(over.toSorted()).toEqual(Array.from({ length: 30 }, (_, at) => `jobs/job-${at + 31}.thou`).toSorted());
    expect(report).toEqual(JSON.parse(there.out));
    expect(there).toMatchObject({ code: 1, err: '' });
  });

  test('the same for people, and where only one of them is asked for', () => {
    expect(check(packed, 'jobs')).toEqual(check(sources, 'jobs'));
    expect(check(packed, 'jobs/job-1.thou')).toMatchObject({ code: 0, err: '' });
  });
});
