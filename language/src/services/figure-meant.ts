// Which figure of a build a place in a text speaks of, and which cells of it: by its name, or by a number that is written for it.
import type { AstNode } from 'langium';
import type { Position } from 'vscode-languageserver-types';
import type * as ast from '../grammar/generated/ast.ts';
import { enclosing } from '../report/place.ts';
import { cellsGivenBy } from '../report/written-cell.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { placesMeant } from './hover/cells.ts';
import { meaningOf, wordAt } from './meaning.ts';
import { toOffset } from './positions.ts';
import type { Workspace } from './workspace.ts';

export interface FigureMeant {
  readonly one: SlotOutcome;
  /** A place on each axis of the figure; null: all along it. */
  readonly places: readonly (number | null)[];
}

export function figureMeant(
  workspace: Workspace,
  outcome: Outcome,
  uri: string,
  position: Position,
): FigureMeant | null {
  const word = wordAt(workspace, uri, toOffset(workspace.positionsOf(uri), position));
  if (!word) return null;
  const { node } = word.field;
  const named = node.$type === 'Quantity' ? null : ofName(workspace, outcome, uri, word.field, word.at);
  if (named) return named;
  const listed = cellsGivenBy(outcome, node);
  if (listed) return { one: listed.one, places: listed.cells };
  const step = nameGivenTo(node);
  return step && ofName(workspace, outcome, uri, { node: step, property: 'name', index: 0 }, word.at);
}

function ofName(
  workspace: Workspace,
  outcome: Outcome,
  uri: string,
  field: Parameters<typeof meaningOf>[2],
  at: Parameters<typeof meaningOf>[3],
): FigureMeant | null {
  const meaning = meaningOf(workspace, workspace.result(uri), field, at);
  const one = meaning?.is === 'slot' ? outcome.slots.find(({ slot }) => slot.id === meaning.slot) : undefined;
  return one ? { one, places: placesMeant(outcome, one, field.node) } : null;
}

/** The last word of what stands before the colon, for a figure behind it. */
export function nameGivenTo(at: AstNode): AstNode | null {
  const given = enclosing(at, 'Given') as ast.Given | null;
  return given?.path?.steps.at(-1) ?? null;
}
