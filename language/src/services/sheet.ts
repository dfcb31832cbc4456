// The sheet of a build beside its text, and the ways between a figure on it and the place in the text.
import type { Location, Position } from 'vscode-languageserver-types';
import {
  sheetFigureMethod,
  sheetMethod,
  sheetPlaceMethod,
  type SheetAsked,
  type SheetFigure,
  type SheetFigureAsked,
  type SheetPlaceAsked,
  type SheetTold,
} from '@thou/shared/protocol';
import { blockRootOf } from '../grammar/file.ts';
import { cellAt } from '../report/cells.ts';
import { sheetBody, sheetKinds } from '../report/html/sheet.ts';
import { locate } from '../report/locate.ts';
import { givenAt } from '../report/rows.ts';
import { chaptersOf } from '../report/sections.ts';
import { sheetModel, toldFrom } from '../report/sheet.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { Places } from '../semantics/problems/places.ts';
import { locationOf } from './definition.ts';
import type { Guide } from './environment.ts';
import { request, type Feature } from './feature.ts';
import { meaningAt } from './meaning.ts';
import { toOffset } from './positions.ts';
import type { Workspace } from './workspace.ts';

export const sheetFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<SheetAsked, SheetTold>({ method: sheetMethod }, (asked, { workspace, guide }) =>
      sheetOf(workspace, guide, asked),
    ),
    request<SheetPlaceAsked, Location>({ method: sheetPlaceMethod }, (asked, { workspace }) =>
      placeOnSheet(workspace, asked),
    ),
    request<SheetFigureAsked, SheetFigure>({ method: sheetFigureMethod }, ({ textDocument, position }, { workspace }) =>
      figureAt(workspace, textDocument.uri, position),
    ),
  ],
};

/** Null where the file has no build. */
export function sheetOf(
  workspace: Workspace,
  guide: Guide,
  { textDocument, build, kind }: SheetAsked,
): SheetTold | null {
  const { outcomes, problems } = workspace.result(textDocument.uri);
  const outcome = outcomes.find(({ binding }) => binding.name === build) ?? outcomes[0];
  if (!outcome) return null;
  const model = sheetModel(outcome, {
    files: workspace.files,
    chapters: chaptersOf(guide.library.files),
    cautions: guide.cautions,
    drawings: guide.drawings,
    edition: guide.library.edition,
    mistakes: problems.filter(({ severity }) => severity === 'error').length,
  });
  return {
    builds: outcomes.map(({ binding }) => binding.name),
    build: model.build,
    kinds: sheetKinds,
    summary: model.summary,
    html: sheetBody(model, sheetKinds.find((one) => one === kind) ?? 'whole'),
  };
}

export function placeOnSheet(
  workspace: Workspace,
  { textDocument, build, figure, finding }: SheetPlaceAsked,
): Location | null {
  const outcome = workspace.result(textDocument.uri).outcomes.find(({ binding }) => binding.name === build);
  const target =
    outcome && (figure === undefined ? findingPlace(outcome, finding ?? '') : figurePlace(outcome, figure));
  return target ? locationOf(workspace, new Places((uri) => workspace.source(uri)).place(target)) : null;
}

function findingPlace({ checks }: Outcome, id: string) {
  const check = checks.find((one) => one.id === id);
  return check ? toldFrom(check) : null;
}

/** Where somebody gave it, this place of it first; else where it is worked out. */
function figurePlace(outcome: Outcome, figure: string) {
  const found = locate(outcome, figure);
  if ('problem' in found) return null;
  const { one, places } = found;
  const cell = places.includes(null)
    ? null
    : cellAt(
        one.axes,
        places.map((place) => place ?? 0),
      );
  const source = cell === null ? null : one.sourceOf(cell, 'measured');
  return source?.origin ?? givenAt(one);
}

export function figureAt(workspace: Workspace, uri: string, position: Position): SheetFigure | null {
  const meaning = meaningAt(workspace, uri, toOffset(workspace.positionsOf(uri), position));
  const { outcomes } = workspace.result(uri);
  if (meaning?.is !== 'slot' || outcomes.length === 0) return null;
  const root = blockRootOf(meaning.field.node).item;
  const inside = outcomes.find(({ binding }) => binding.origin.at === root);
  const one = (inside ?? outcomes[0])?.slots.find(({ slot }) => slot.id === meaning.slot);
  return one ? { build: inside?.binding.name ?? null, figure: one.slot.path } : null;
}
