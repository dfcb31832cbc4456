// An empty table for the readings of one figure: a row for every cell, the places named, the figure to be filled in; and the line that
// reads it.
import { tableMethod, type TableAsked, type TableTold } from '@thou/shared/protocol-readings';
import { blockRootOf } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { cellCount } from '../../report/cells.ts';
import { locate } from '../../report/locate.ts';
import { styleOf } from '../../report/writing.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { offsetOf } from '../code-actions/edit.ts';
import { request, type Feature } from '../feature.ts';
import { toRange } from '../positions.ts';
import type { Workspace } from '../workspace.ts';
import { buildMeant } from './due.ts';
import { blockOf, lineIn, noteProblem, placeNames, withWhat } from './write-down.ts';

export const tableFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<TableAsked, TableTold>({ method: tableMethod }, (asked, { workspace }) => tableFor(workspace, asked)),
  ],
};

export function tableFor(workspace: Workspace, asked: TableAsked): TableTold {
  const { uri } = asked.textDocument;
  const outcome = buildMeant(workspace, uri, asked.build, null);
  const source = workspace.source(uri);
  const found = outcome ? locate(outcome, asked.figure) : { problem: `There is no build "${asked.build}" here.` };
  if ('problem' in found) return found;
  const body = (outcome?.binding.origin.at as ast.Build | ast.Variant | undefined)?.body;
  if (!outcome || !source || !body?.$cstNode) return { problem: 'The text of this build is not in this file.' };
  const { one } = found;
  if (cellCount(one.axes) < 2) return { problem: `${one.slot.path} is one figure: type it where it stands.` };
  const objection =
    noteProblem(asked) ?? (isFileName(asked.name) ? null : `"${asked.name}" is no name such as readings.csv.`);
  if (objection !== null) return { problem: objection };
  const line = `${one.slot.path}: from "${asked.name}"${withWhat(asked)}`;
  const base = offsetOf(source, blockRootOf(body));
  const edit = lineIn(outcome, source, base, body, blockOf(body, asked), line, asked);
  return {
    csv: emptyTable(outcome, one),
    edits: [{ range: toRange(workspace.positionsOf(uri), edit), newText: edit.text }],
  };
}

/** Beside the text, and nowhere else. */
function isFileName(name: string): boolean {
  return /^[\p{L}\p{N}_][\p{L}\p{N} _.-]*\.csv$/u.test(name) && name.length <= 120;
}

function emptyTable(outcome: Outcome, one: SlotOutcome): string {
  const unit = styleOf(outcome, one.slot.id, 0).unit?.symbol;
  const head = [...one.axes.map(({ name }) => name), `${one.slot.name}${unit === undefined ? '' : ` [${unit}]`}`];
  const rows = Array.from({ length: cellCount(one.axes) }, (_, cell) => [...placeNames(one.axes, cell), '']);
  return `${[head, ...rows].map((row) => row.join(',')).join('\n')}\n`;
}
