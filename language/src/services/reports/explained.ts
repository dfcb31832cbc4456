// The explanation of one figure as a text whose lines lead to where each thing is written.
import type { ReportAnswer, ReportAsked, ReportLink } from '@thou/shared/protocol';
import { explanationLines, type ExplanationLine } from '../../report/explanation.ts';
import { address } from '../../report/cells.ts';
import { isWritten } from '../../grammar/file.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { Places } from '../../semantics/problems/places.ts';
import { locationOf } from '../definition.ts';
import { figureMeant } from '../figure-meant.ts';
import type { Workspace } from '../workspace.ts';

export function explained(
  workspace: Workspace,
  outcome: Outcome,
  { textDocument: { uri }, figure, position }: ReportAsked,
  deep: number,
): ReportAnswer {
  const name = figure ?? (position && nameAt(workspace, outcome, uri, position));
  if (name === undefined || name === null)
    return {
      problem: 'Put the cursor on the name of a figure, such as length or plate.length, or on the figure itself.',
    };
  const lines = explanationLines(outcome, name, { deep, files: workspace.files });
  if ('problem' in lines) return lines;
  return {
    title: name,
    text: `${lines.map(({ text }) => text).join('\n')}\n`,
    links: lines.flatMap((line, at) => linkOf(workspace, line, at)),
    build: outcome.binding.name,
    figure: name,
  };
}

function nameAt(
  workspace: Workspace,
  outcome: Outcome,
  uri: string,
  position: NonNullable<ReportAsked['position']>,
): string | null {
  const meant = figureMeant(workspace, outcome, uri, position);
  return meant && nameOf(outcome, meant.one, meant.places);
}

function nameOf(outcome: Outcome, one: SlotOutcome, places: readonly (number | null)[]): string {
  return address(outcome.binding.schema, one.slot, one.axes, places);
}

/** The name at the head of the line, up to its figure or the colon behind what it is. */
function linkOf(workspace: Workspace, { text, origin }: ExplanationLine, line: number): ReportLink[] {
  if (origin === null || !isWritten(origin.at)) return [];
  const start = text.length - text.trimStart().length;
  const until = /^.*?(?= =|: )/.exec(text);
  const end = until === null ? text.length : until[0].length;
  const { uri, range } = locationOf(workspace, new Places((at) => workspace.source(at)).place(origin));
  return [{ line, start, end, target: { uri, range } }];
}
