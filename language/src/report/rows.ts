// The lines of one figure on the sheet: one line where it is the same everywhere, else a row along its longest axis,
// with a line for each view that differs from place to place. Knows figures and checks, no layout.
import type { SheetFigure, SheetRow, SheetSingle, SheetViews } from '@thou/shared/result/sheet';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { View } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { address, cellAt, cellCount, everyPlace, placeName, placesOf, placeWords } from './cells.ts';
import { bareText, figureOf, unitText } from './figures.ts';
import { words } from './place.ts';
import type { Files } from './place.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { checkedCells, limitsOf, stateOf } from './standing.ts';
import { showingsIn } from './units.ts';

const views: readonly View[] = ['specified', 'ordered', 'before', 'measured'];
/** Longer axes are no columns of a sheet. */
const mostColumns = 24;
/** With more rows of one figure, the second unit is left out. */
const mostRowsInTwoUnits = 3;

export interface RowContext {
  readonly outcome: Outcome;
  readonly checks: readonly CheckOutcome[];
  readonly name: string;
  readonly files: Files;
  /** Also where all places are alike. */
  readonly eachPlace?: boolean;
}

/** Whether a figure has lines at all: it has places, and not hundreds of them. */
export function fitsOnSheet(axes: readonly Axis[]): boolean {
  return cellCount(axes) > 0 && axes.every(({ size }) => size <= mostColumns);
}

export function rowsOf(one: SlotOutcome, context: RowContext): (SheetSingle | SheetRow)[] {
  if (!fitsOnSheet(one.axes)) return [];
  const count = cellCount(one.axes);
  const cells = Array.from({ length: count }, (_, cell) => viewsOf(one, cell, context.outcome));
  const alike = cells.every((cell) => views.every((view) => bareText(cell[view]) === bareText(cells[0]![view])));
  const sameState = one.states.every((state) => state === one.states[0]) && !context.checks.some(unevenlyFound);
  const asOne = alike && sameState && !(context.eachPlace === true && count > 1);
  if (asOne) return [single(one, cells[0]!, context)];
  return rows(one, cells, context);
}

/** A check that finds only some cells out: then each figure stands for itself. */
function unevenlyFound({ cells }: CheckOutcome): boolean {
  const found = cells.filter(({ state }) => isOut(state)).length;
  return found > 0 && found < cells.length;
}

function isOut(state: string | undefined): boolean {
  return state === 'out-of-limits' || state === 'at-risk';
}

function viewsOf(one: SlotOutcome, cell: number, outcome: Outcome): SheetViews {
  const figure = (view: View): SheetFigure => figureOf(outcome, one, cell, view);
  return {
    specified: figure('specified'),
    ordered: figure('ordered'),
    before: figure('before'),
    measured: figure('measured'),
  };
}

/** The value always; the specification where the value is another; order and earlier readings where they add something. */
function worthShowing(cells: readonly SheetViews[]): View[] {
  const differ = (a: View, b: View): boolean => cells.some((cell) => bareText(cell[a]) !== bareText(cell[b]));
  const known = (view: View): boolean => cells.some((cell) => cell[view].number !== noFigure);
  const ordered = known('ordered') && differ('ordered', 'specified') && differ('ordered', 'measured');
  const before = known('before') && differ('before', 'specified') && differ('before', 'measured');
  const specified = known('specified') && (ordered || before || differ('specified', 'measured'));
  return views.filter((view) => ({ specified, ordered, before, measured: true })[view]);
}

const noFigure = '—';

function single(one: SlotOutcome, cell: SheetViews, context: RowContext): SheetSingle {
  const isWord = cell.measured.unit === '' && !/\d/.test(cell.measured.number);
  return {
    kind: 'single',
    name: context.name,
    address: one.slot.path,
    each: one.axes.length === 0 || isWord ? '' : everyPlace(one.axes),
    views: cell,
    shown: worthShowing([cell]),
    limits: limitsOf(context.outcome, context.checks),
    state: stateOf(one, context.checks),
    note: noteOf(one),
    place: context.files.placeOf(givenAt(one)),
  };
}

function longestAxis(axes: readonly Axis[]): Axis {
  return axes.reduce((longest, axis) => (axis.size > longest.size ? axis : longest));
}

interface RowCells {
  readonly along: Axis;
  /** Where the other axes are fixed. */
  readonly at: string;
  readonly cells: readonly number[];
}

function rows(one: SlotOutcome, cells: readonly SheetViews[], context: RowContext): SheetRow[] {
  const along = longestAxis(one.axes);
  const others = one.axes.filter((axis) => axis !== along);
  const all = Array.from({ length: cellCount(others) }, (_, other): RowCells => {
    const fixed = placesOf(others, other);
    const placesAt = (place: number): number[] =>
      one.axes.map((axis) => (axis === along ? place : fixed[others.indexOf(axis)]!));
    return {
      along,
      at: others.map((axis, index) => placeWords(axis, fixed[index]!)).join(', '),
      cells: Array.from({ length: along.size }, (_, place) => cellAt(one.axes, placesAt(place))),
    };
  });
  const known = all.filter((each) => each.cells.some((cell) => cells[cell]!.measured.number !== noFigure));
  const twoUnits = known.length <= mostRowsInTwoUnits;
  const checked = context.checks.map((check) => ({ check, states: checkedCells(one, check) }));
  return known.map((each, index) => {
    const here = checked.filter(({ states }) => each.cells.some((cell) => states.has(cell)));
    const last = index === known.length - 1;
    const nowhere = last ? checked.filter(({ states }) => states.size === 0) : [];
    const checks = [...here, ...nowhere].map(({ check }) => check);
    const marked = each.cells.map((cell) => here.some(({ states }) => isOut(states.get(cell))));
    return row(one, each, cells, { ...context, checks }, marked, twoUnits, last);
  });
}

function row(
  one: SlotOutcome,
  { along, at, cells: cellsHere }: RowCells,
  cells: readonly SheetViews[],
  context: RowContext,
  marked: readonly boolean[],
  twoUnits: boolean,
  last: boolean,
): SheetRow {
  const { outcome, checks } = context;
  const here = cellsHere.map((cell) => cells[cell]!);
  const others = worthShowing(here).filter((view) => view !== 'measured');
  const isAlike = (view: View): boolean => here.every((cell) => bareText(cell[view]) === bareText(here[0]![view]));
  const varying = others.filter((view) => !isAlike(view));
  const value = varying.length === 0 ? '' : one.states.some((state) => state === 'measured') ? 'as measured' : 'now';
  return {
    kind: 'row',
    name: context.name,
    address: address(outcome.binding.schema, one.slot, one.axes, []),
    at,
    axis: words(along.name),
    heads: here.map((_, place) => words(String(placeName(along, place)))),
    addresses: cellsHere.map((cell) => address(outcome.binding.schema, one.slot, one.axes, placesOf(one.axes, cell))),
    unit: unitOfRow(here, unitText(showingsIn(outcome, one.slot)[0]!)),
    lines: [
      { label: value, figures: here.map((cell) => cell.measured) },
      ...varying.map((view) => ({ label: viewLabels[view], figures: here.map((cell) => cell[view]) })),
    ],
    same: others
      .filter(isAlike)
      .map((view) => ({ label: viewLabels[view], text: bareText({ ...here[0]![view], second: null }) })),
    marked,
    second: twoUnits ? secondLine(here) : null,
    limits: limitsOf(outcome, checks),
    state: last || checks.length > 0 ? stateOf(one, checks) : '',
    note: last ? noteOf(one) : '',
    place: context.files.placeOf(givenAt(one)),
  };
}

/** The unit that all figures of the value have, as typed figures may; else the declared one. */
function unitOfRow(cells: readonly SheetViews[], declared: string): string {
  const units = new Set(cells.flatMap(({ measured }) => (measured.number === noFigure ? [] : [measured.unit])));
  const [unit] = units;
  return units.size === 1 && unit !== undefined ? unit : declared;
}

export const viewLabels: Readonly<Record<View, string>> = {
  specified: 'as specified',
  ordered: 'as ordered',
  before: 'before',
  measured: 'as measured',
};

/** The value in the second unit, where all its cells have the same one. */
function secondLine(cells: readonly SheetViews[]): SheetRow['second'] {
  const parts = cells.map(({ measured }) => measured.second?.split(' ') ?? null);
  const units = new Set(parts.filter((part) => part !== null).map((part) => part[1] ?? ''));
  const [unit] = units;
  if (units.size !== 1 || unit === undefined) return null;
  return { unit, numbers: parts.map((part) => part?.[0] ?? noFigure) };
}

/** Where somebody gave it; else where it is worked out. */
export function givenAt(one: SlotOutcome): Origin {
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const source = one.sourceOf(cell, 'measured');
    if (source) return source.origin;
  }
  return one.slot.origin;
}

/** Why somebody says so, where one reason serves all of it. */
function noteOf(one: SlotOutcome): string {
  const notes = new Set(
    Array.from({ length: cellCount(one.axes) }, (_, cell) => one.sourceOf(cell, 'measured')?.reason ?? ''),
  );
  const [note] = notes;
  return notes.size === 1 && note !== undefined ? note : '';
}
