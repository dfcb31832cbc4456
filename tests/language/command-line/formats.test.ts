/** What `thou check` writes for other programs, judged by schemas that are not ours where there are such. */
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import draft4 from 'ajv-draft-04';
import { describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import type { CheckReportResult } from '@thou/shared/result/contract';
import { junitXml, suitesOf } from '../../../language/src/report/junit.ts';
import { thou } from './run.ts';

const samples = readdirSync('samples')
  .filter((name) => name.endsWith('.thou'))
  .map((name) => `samples/${name}`);

// SARIF 2.1.0 by OASIS, as it is shipped with the matchers for test runners by the makers of the standard's toolkit
const oasis = createRequire(import.meta.url)('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json') as object;
const isSarif = new draft4.default({ strict: false, validateFormats: false, unicodeRegExp: false }).compile(oasis);

interface Log {
  readonly runs: readonly [
    {
      readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
      readonly results: readonly {
        readonly ruleId: string;
        readonly ruleIndex: number;
        readonly level: string;
        readonly locations: readonly [
          {
            readonly physicalLocation: {
              readonly artifactLocation: { readonly uri: string };
              readonly region: { readonly startLine: number; readonly startColumn: number };
            };
          },
        ];
      }[];
    },
  ];
}

describe.each(samples)('%s', (path) => {
  test('as SARIF: by the schema of the standard, and the same problems in the same places as in our own JSON', async () => {
    const { code, out } = await thou('check', path, '--format', 'sarif');
    const own = await thou('check', path, '--format', 'json');
    expect(code).toBe(own.code);
    const log = JSON.parse(out) as Log;
    expect(isSarif(log), JSON.stringify(isSarif.errors)).toBe(true);
    const [{ tool, results }] = log.runs;
    const { problems } = JSON.parse(own.out) as CheckReportResult;
    expect(
      results.map(({ ruleId, locations: [{ physicalLocation: at }] }) => [
        ruleId,
        decodeURIComponent(at.artifactLocation.uri),
        at.region.startLine,
        at.region.startColumn,
      ]),
    ).toEqual(problems.map(({ code: id, file, line, column }) => [id, file, line, column]));
    for (const { ruleId, ruleIndex } of results) expect(tool.driver.rules[ruleIndex]?.id).toBe(ruleId);
    const errors = problems.filter(({ severity }) => severity === 'error').length;
    expect(results.filter(({ level }) => level === 'error').length).toBe(errors);
  });

  test('as JUnit: well-formed, by the usual schema, failing where the command fails', async () => {
    for (const strict of [[], ['--strict']]) {
      const { code, out } = await thou('check', path, '--format', 'junit', ...strict);
      const schema = readFileSync(new URL('junit.xsd', import.meta.url), 'utf8');
      const judged = await validateXML({
        xml: { fileName: 'report.xml', contents: out },
        schema: { fileName: 'junit.xsd', contents: schema },
      });
      expect(judged.errors).toEqual([]);
      const failures = [...out.matchAll(/<failure /g)].length;
      expect(out).toContain(`failures="${failures}" errors="0"`);
      expect(failures > 0).toBe(code === 1);
    }
  });
});

test('names and words with signs of XML, control characters and line ends stay well-formed', async () => {
  const hostile = 'a < b & "c" > d \u0000 \u001b[31m \ud800 \n e';
  const problem = {
    file: hostile,
    line: 1,
    column: 1,
    endLine: 1,
    endColumn: 2,
    code: hostile,
    severity: 'error',
    message: hostile,
    related: [],
  };
  const files = { nameOf: () => '', placeOf: () => null };
  const xml = junitXml(suitesOf({ file: hostile, files, outcomes: [], problems: [problem] }, false));
  const judged = await validateXML({ xml: { fileName: 'report.xml', contents: xml } } as Parameters<
    typeof validateXML
  >[0]);
  expect(judged.valid, judged.rawOutput).toBe(true);
  expect(xml).toContain('a &lt; b &amp; &quot;c&quot; &gt; d');
});

test('what is no text of the language is refused, in whatever form', async () => {
  const { code, out } = await thou('check', 'tests/language/command-line/junit.xsd');
  expect(code).toBe(2); // not a text of the language at all
  expect(out).toBe('');
});
