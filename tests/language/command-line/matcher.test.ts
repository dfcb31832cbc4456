/** The problem matcher of the extension's manifest, `$thou`: it reads what `thou check` writes, line by line, and nothing else. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { CheckReportResult } from '@thou/shared/result/contract';
import manifest from '../../../extension/package.json' with { type: 'json' };
import { thou } from './run.ts';

const matcher = manifest.contributes.problemMatchers.find(({ name }) => name === 'thou')!;
const pattern = new RegExp(matcher.pattern.regexp);
const home = mkdtempSync(join(tmpdir(), 'thou-matcher-'));
afterAll(() => rmSync(home, { recursive: true, force: true }));

const text = `use prelude 1
build wren {
  layout: single
  block.bore: 80 mm
  crank.stroke: 70 mm
  redline: 7000 rpm
  block.bor: 1 in
  rule slow: warning { expect redline <= 6000 rpm, because "it is old  [really]: see 12:3" }
}
`;

test.each(['plain.thou', 'with blanks and [1]: a.thou'])(
  '%s: place, weight, words and code of every problem',
  async (name) => {
    const path = join(home, name);
    writeFileSync(path, text);
    const plain = await thou('check', path, '--hints');
    const { problems } = JSON.parse((await thou('check', path, '--format', 'json')).out) as CheckReportResult;
    expect(problems.length).toBeGreaterThan(1);
    const { file, line, column, severity, code, message } = matcher.pattern;
    const read = plain.out.split('\n').flatMap((one) => {
      const found = pattern.exec(one);
      return found
        ? [[found[file], Number(found[line]), Number(found[column]), found[severity], found[code], found[message]]]
        : [];
    });
    expect(read.map((one) => one.slice(0, 5))).toEqual(
      problems.map((one) => [one.file, one.line, one.column, one.severity, one.code]),
    );
    for (const [at, problem] of problems.entries())
      expect(problem.message.startsWith(String(read[at]![5]).replace(/\.$/, ''))).toBe(true);
  },
);
