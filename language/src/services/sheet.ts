// The sheet of a build beside its text, and the ways between a figure on it and the place in the text.
import type { Location, Position } from 'vscode-languageserver-types';
import {
  sheetApartMethod,
  sheetFigureMethod,
  sheetMethod,
  sheetPageMethod,
  sheetPlaceMethod,
  type SheetApart,
  type SheetApartAsked,
  type SheetAsked,
  type SheetFigure,
  type SheetFigureAsked,
  type SheetPageAsked,
  type SheetPlaceAsked,
  type SheetTold,
} from '@thou/shared/protocol';
import { blockRootOf } from '../grammar/file.ts';
import { cellAt } from '../report/cells.ts';
import { apartMarkup } from '../report/html/apart.ts';
import { sheetPage } from '../report/html/page.ts';
import { closedPiece, headPiece, partPiece, sheetBody } from '../report/html/sheet.ts';
import { locate } from '../report/locate.ts';
import { givenAt } from '../report/rows.ts';
import { chaptersOf, sectionPlans, type Chapter } from '../report/sections.ts';
import { toldFrom } from '../report/sheet.ts';
import { sheetDocument } from '../report/sheets/compose.ts';
import type { SheetDocument } from '../report/sheets/document.ts';
import { chapterPiece } from '../report/sheets/homes.ts';
import { takenApart } from '../report/taken-apart.ts';
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
    request<SheetFigureAsked, SheetFigure>(
      { method: sheetFigureMethod },
      ({ textDocument, position }, { workspace, guide }) => figureAt(workspace, guide, textDocument.uri, position),
    ),
    request<SheetApartAsked, SheetApart>({ method: sheetApartMethod }, (asked, { workspace }) =>
      apartOf(workspace, asked),
    ),
    request<SheetPageAsked, string>({ method: sheetPageMethod }, (asked, { workspace, guide }) =>
      pageOf(workspace, guide, asked),
    ),
  ],
};

/** Null where the file has no build. */
export function sheetOf(
  workspace: Workspace,
  guide: Guide,
  { textDocument, build, kind, open, have }: SheetAsked,
): SheetTold | null {
  const found = documentOf(workspace, guide, { textDocument, build, kind });
  if (!found) return null;
  const { builds, sheet } = found;
  const isOpen = ({ id, folded }: { id: string; folded: boolean }): boolean =>
    !folded || open === null || open.includes(id);
  const pieces = [headPiece(sheet), ...sheet.parts.map((part) => (isOpen(part) ? partPiece(part) : closedPiece(part)))];
  return {
    builds,
    build: sheet.build,
    kinds: guide.sheets.map(({ name, title, about }) => ({ name, title, about })),
    kind: sheet.kind,
    summary: sheet.summary,
    pieces: pieces.map(({ id, of, html }) => ({ id, of, html: have[id] === of ? null : html })),
  };
}

/** Null where the figure or the build is gone. */
export function apartOf(
  workspace: Workspace,
  { textDocument, build, figure, view, way }: SheetApartAsked,
): SheetApart | null {
  const outcome = workspace.result(textDocument.uri).outcomes.find(({ binding }) => binding.name === build);
  const apart = outcome && takenApart(outcome, { figure, view, way }, workspace.files);
  return !apart || 'problem' in apart ? null : { html: apartMarkup(apart, figure).html };
}

function pageOf(workspace: Workspace, guide: Guide, asked: SheetPageAsked): string | null {
  const found = documentOf(workspace, guide, asked, true);
  return found && sheetPage(found.sheet.title, [sheetBody(found.sheet)]);
}

function documentOf(
  workspace: Workspace,
  guide: Guide,
  { textDocument, build, kind }: SheetPageAsked,
  apart = false,
): { readonly builds: readonly string[]; readonly sheet: SheetDocument } | null {
  const { outcomes, problems } = workspace.result(textDocument.uri);
  const outcome = outcomes.find(({ binding }) => binding.name === build) ?? outcomes[0];
  const plan = guide.sheets.find(({ name }) => name === kind) ?? guide.sheets[0];
  if (!outcome || !plan) return null;
  const sheet = sheetDocument(outcome, plan, {
    files: workspace.files,
    chapters: chaptersIn(guide),
    cautions: guide.cautions,
    drawings: guide.drawings,
    edition: guide.library.edition,
    mistakes: problems.filter(({ severity }) => severity === 'error').length,
    apart,
  });
  return { builds: outcomes.map(({ binding }) => binding.name), sheet };
}

const chaptersOfGuide = new WeakMap<Guide, readonly Chapter[]>();

/** Read off once: the library does not change while it serves. */
function chaptersIn(guide: Guide): readonly Chapter[] {
  const known = chaptersOfGuide.get(guide) ?? chaptersOf(guide.library.files);
  chaptersOfGuide.set(guide, known);
  return known;
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

function findingPlace(outcome: Outcome, id: string) {
  const check = outcome.checks.find((one) => one.id === id);
  return check ? toldFrom(outcome, check) : null;
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

export function figureAt(workspace: Workspace, guide: Guide, uri: string, position: Position): SheetFigure | null {
  const meaning = meaningAt(workspace, uri, toOffset(workspace.positionsOf(uri), position));
  const { outcomes } = workspace.result(uri);
  if (meaning?.is !== 'slot' || outcomes.length === 0) return null;
  const root = blockRootOf(meaning.field.node).item;
  const inside = outcomes.find(({ binding }) => binding.origin.at === root);
  const one = (inside ?? outcomes[0])?.slots.find(({ slot }) => slot.id === meaning.slot);
  if (!one) return null;
  const chapters = chaptersIn(guide);
  const plans = sectionPlans(inside ?? outcomes[0]!, { files: workspace.files, chapters });
  const home = plans.find(({ slots }) => slots.includes(one));
  return { build: inside?.binding.name ?? null, figure: one.slot.path, piece: home ? chapterPiece(home) : null };
}
