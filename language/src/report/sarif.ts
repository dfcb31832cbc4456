// Problems as a SARIF log, the OASIS standard for results of checking tools (version 2.1.0): code hosts show them on a change.
import type { ProblemResult } from '@thou/shared/result/contract';

/** What is said of a code apart from any place. */
export interface CodeTold {
  readonly text: string;
  /** Where more is told; null where nowhere. */
  readonly page: string | null;
}

export interface SarifOptions {
  readonly version: string;
  tell(code: string): CodeTold;
}

const schema = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** SARIF has three weights; what is advice or a hint here is a note there. */
const levels: Readonly<Record<string, 'error' | 'warning' | 'note'>> = {
  error: 'error',
  warning: 'warning',
  advice: 'note',
  hint: 'note',
};

export function sarifLog(problems: readonly ProblemResult[], { version, tell }: SarifOptions): object {
  const codes = [...new Set(problems.map(({ code }) => code))].sort();
  const index = new Map(codes.map((code, at) => [code, at]));
  return {
    $schema: schema,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: { name: 'thou', semanticVersion: version, rules: codes.map((code) => ruleOf(code, tell(code))) },
        },
        columnKind: 'utf16CodeUnits',
        results: problems.map((problem) => resultOf(problem, index.get(problem.code)!)),
      },
    ],
  };
}

function ruleOf(id: string, { text, page }: CodeTold): object {
  return { id, shortDescription: { text }, ...(page === null ? {} : { help: { text: page } }) };
}

function resultOf(problem: ProblemResult, ruleIndex: number): object {
  const { file, line, column, endLine, endColumn, code, severity, message, related } = problem;
  const region = { startLine: line, startColumn: column, endLine, endColumn };
  return {
    ruleId: code,
    ruleIndex,
    level: levels[severity] ?? 'note',
    message: { text: message },
    locations: [{ physicalLocation: { artifactLocation: { uri: addressOf(file) }, region } }],
    ...(related.length === 0
      ? {}
      : {
          relatedLocations: related.map((one, id) => ({
            id,
            message: { text: one.message },
            physicalLocation: { artifactLocation: { uri: addressOf(one.file) }, region: { startLine: one.line } },
          })),
        }),
  };
}

/** A path as a relative address: strokes forward, everything else that means something in an address written out. */
function addressOf(file: string): string {
  return file.replaceAll('\\', '/').split('/').map(encodeURIComponent).join('/');
}
