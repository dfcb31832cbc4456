// What is wrong with a file and how its builds stand, as a text.
import { problemsOfOutcomes } from '../../report/problems.ts';
import { countsInWords } from '../../report/sheet.ts';
import { Places } from '../../semantics/problems/places.ts';
import type { Workspace } from '../workspace.ts';

const gravity = ['error', 'warning', 'advice', 'hint'] as const;

/** The gravest first, each with its line and its code. */
export function findingsText(workspace: Workspace, uri: string): string {
  const { problems, outcomes } = workspace.result(uri);
  const found = problemsOfOutcomes(uri, outcomes, new Places((at) => workspace.source(at)), workspace.files);
  const all = [...problems, ...found].sort(
    (a, b) => gravity.indexOf(a.severity) - gravity.indexOf(b.severity) || a.start - b.start,
  );
  const builds = outcomes.map(({ binding, checks }) => {
    const counted = countsInWords(checks);
    const name = binding.base ? `${binding.name}, a variant of ${binding.base.name}` : binding.name;
    return `${name}: ${counted === '' ? 'nothing is checked yet' : counted}.`;
  });
  const lines = all.map((problem) => {
    const { line } = workspace.positionsOf(problem.uri).at(problem.start);
    const file = problem.uri === uri ? '' : `${workspace.files.nameOf(problem.uri)} `;
    return `${problem.severity}, ${file}line ${line + 1}: ${problem.message.replaceAll('\n', '\n  ')} [${problem.code}]`;
  });
  const head = all.length === 0 ? ['Nothing is wrong.'] : [];
  return `${[workspace.files.nameOf(uri), ...builds, '', ...head, ...lines].join('\n')}\n`;
}
