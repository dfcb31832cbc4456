// Checks as test cases in JUnit's XML, which build servers show as a list of tests: a suite a build, a case a check.
import type { CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import type { ProblemResult } from '@thou/shared/result/contract';
import { message } from './findings.ts';
import type { Files } from './place.ts';

/** One file as it was looked at. */
export interface FileLooked {
  readonly file: string;
  readonly files: Files;
  readonly outcomes: readonly Outcome[];
  /** Of the text alone. */
  readonly problems: readonly ProblemResult[];
}

interface Case {
  readonly name: string;
  readonly state: 'passed' | 'failed' | 'skipped';
  readonly text: string;
}

/** Of one text or one build. */
export interface Suite {
  readonly name: string;
  readonly cases: readonly Case[];
}

export function junitXml(suites: readonly Suite[]): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<testsuites${counts(suites.flatMap(({ cases }) => cases))}>`,
    ...suites.flatMap(suiteLines),
    '</testsuites>',
    '',
  ].join('\n');
}

/** `strict`: what is only a warning fails as well, and what cannot be told yet, as they do for the exit code. */
export function suitesOf({ file, files, outcomes, problems }: FileLooked, strict: boolean): Suite[] {
  const wrong = problems.filter(({ severity }) => fails(severity, strict));
  const texts = wrong.map(({ line, column, code, message: text }): Case => {
    return { name: `line ${line}, column ${column}: ${code}`, state: 'failed', text };
  });
  const read: Case = { name: 'the text is understood', state: 'passed', text: '' };
  return [
    { name: file, cases: texts.length > 0 ? texts : [read] },
    ...outcomes.map((outcome) => ({
      name: `${file}: ${outcome.binding.name}`,
      cases: outcome.checks
        .filter(({ state }) => state !== 'not-applicable')
        .map((check) => caseOf(outcome, check, files, strict)),
    })),
  ];
}

function caseOf(outcome: Outcome, check: CheckOutcome, files: Files, strict: boolean): Case {
  const { id: name, state, severity } = check;
  switch (state) {
    case 'holds-measured':
    case 'holds-on-paper':
      return { name, state: 'passed', text: '' };
    case 'cannot-tell':
      return { name, state: strict ? 'failed' : 'skipped', text: message(outcome, check, files) };
    case 'out-of-limits':
      return { name, state: fails(severity, strict) ? 'failed' : 'passed', text: message(outcome, check, files) };
    default:
      return { name, state: 'passed', text: message(outcome, check, files) };
  }
}

function fails(severity: string, strict: boolean): boolean {
  return severity === 'error' || (strict && severity === 'warning');
}

function suiteLines({ name, cases }: Suite): string[] {
  return [
    `  <testsuite name="${attribute(name)}"${counts(cases)}>`,
    ...cases.flatMap((one) => caseLines(one, name)),
    '  </testsuite>',
  ];
}

function caseLines({ name, state, text }: Case, suite: string): string[] {
  const head = `    <testcase classname="${attribute(suite)}" name="${attribute(name)}"`;
  if (text === '') return [`${head}/>`];
  const inside = {
    failed: `      <failure message="${attribute(text)}">${content(text)}</failure>`,
    skipped: `      <skipped message="${attribute(text)}"/>`,
    passed: `      <system-out>${content(text)}</system-out>`,
  };
  return [`${head}>`, inside[state], '    </testcase>'];
}

function counts(cases: readonly Case[]): string {
  const count = (state: Case['state']): number => cases.filter((one) => one.state === state).length;
  return ` tests="${cases.length}" failures="${count('failed')}" errors="0" skipped="${count('skipped')}"`;
}

/** Characters that XML 1.0 cannot hold at all are left out. */
function content(text: string): string {
  return text
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}

function attribute(text: string): string {
  return content(text)
    .replaceAll('"', '&quot;')
    .replaceAll(/[\t\n\r]/g, ' ');
}
