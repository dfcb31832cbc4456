// The lines of one figure on the sheet: one line where it is the same everywhere, else a row along its longest axis,
// with a line for each view that differs. Knows figures and checks, no layout.
import type { SheetFigure, SheetRow, SheetSingle, SheetViews } from '@thou/shared/result/sheet';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { View } from '../semantics/ir.ts';
import type { CheckOutcome, CheckState, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { address, cellAt, cellCount, cellsInWords, placeName, placesOf, placeWords } from './cells.ts';
import { bareText, figureOf, limitsText, unitText, withUnit } from './figures.ts';
import { isFinding, showingOfCheck, stateWords } from './findings.ts';
import { words } from './place.ts';
import type { Files } from './place.ts';
import { showingsOf } from './units.ts';

const views: readonly View[] = ['specified', 'ordered', 'before', 'measured'];
/** Longer axes are no columns: their figures are told by their ends. */
const mostColumns = 24;

export interface RowContext {
  readonly outcome: Outcome;
  readonly checks: readonly CheckOutcome[];
  readonly name: string;
  readonly files: Files;
}

export function rowsOf(one: SlotOutcome, context: RowContext): (SheetSingle | SheetRow)[] {
  const count = cellCount(one.axes);
  if (count === 0) return [];
  const cells = Array.from({ length: count }, (_, cell) => viewsOf(one, cell, context.outcome));
  const alike = cells.every((cell) => views.every((view) => bareText(cell[view]) === bareText(cells[0]![view])));
  const sameState = one.states.every((state) => state === one.states[0]) && !context.checks.some(unevenlyFound);
  if (alike && sameState) return [single(one, cells[0]!, context)];
  if (longestAxis(one.axes).size > mostColumns) return [spanning(one, cells, context)];
  return rows(one, cells, context);
}

/** A check that finds only some cells out: then each figure stands for itself. */
function unevenlyFound({ cells }: CheckOutcome): boolean {
  const found = cells.filter(({ state }) => state === 'out-of-limits' || state === 'at-risk').length;
  return found > 0 && found < cells.length;
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
  const ordered = differ('ordered', 'specified') && differ('ordered', 'measured');
  const before = differ('before', 'specified') && differ('before', 'measured');
  const specified = ordered || before || differ('specified', 'measured');
  return views.filter((view) => ({ specified, ordered, before, measured: true })[view]);
}

function single(one: SlotOutcome, cell: SheetViews, context: RowContext): SheetSingle {
  return {
    kind: 'single',
    name: context.name,
    address: one.slot.path,
    each: one.axes.length === 0 ? '' : `each ${one.axes.map((axis) => words(axis.name)).join(', ')}`,
    views: cell,
    shown: worthShowing([cell]),
    limits: limitsOf(context),
    state: stateOf(one, context),
    note: noteOf(one),
    place: context.files.placeOf(one.slot.origin),
  };
}

function spanning(one: SlotOutcome, cells: readonly SheetViews[], context: RowContext): SheetSingle {
  const value = one.views.measured;
  const figures = value.is === 'numbers' ? [...value.tensor.data].filter((figure) => Number.isFinite(figure)) : [];
  const [showing] = showingsOf(one.slot);
  const least = figures.reduce((a, b) => Math.min(a, b), Infinity);
  const most = figures.reduce((a, b) => Math.max(a, b), -Infinity);
  const number = figures.length === 0 ? '—' : `${withUnit(least, showing!)} to ${withUnit(most, showing!)}`;
  const figure: SheetFigure = { number, unit: '', second: null, plusMinus: null };
  const span: SheetViews = { specified: figure, ordered: figure, before: figure, measured: figure };
  return { ...single(one, span, context), each: `over ${cells.length} places` };
}

function longestAxis(axes: readonly Axis[]): Axis {
  return axes.reduce((longest, axis) => (axis.size > longest.size ? axis : longest));
}

function rows(one: SlotOutcome, cells: readonly SheetViews[], context: RowContext): SheetRow[] {
  const along = longestAxis(one.axes);
  const others = one.axes.filter((axis) => axis !== along);
  const count = cellCount(others);
  return Array.from({ length: count }, (_, other) => {
    const fixed = placesOf(others, other);
    const cellsHere = Array.from({ length: along.size }, (_, place) =>
      cellAt(
        one.axes,
        one.axes.map((axis) => (axis === along ? place : fixed[others.indexOf(axis)]!)),
      ),
    );
    const at = others.map((axis, index) => placeWords(axis, fixed[index]!)).join(', ');
    return row(one, along, at, cellsHere, cells, other === count - 1, context);
  });
}

function row(
  one: SlotOutcome,
  along: Axis,
  at: string,
  cellsHere: readonly number[],
  cells: readonly SheetViews[],
  last: boolean,
  context: RowContext,
): SheetRow {
  const here = cellsHere.map((cell) => cells[cell]!);
  const shown = worthShowing(here);
  const unit = unitText(showingsOf(one.slot)[0]!);
  const label = (view: View): string =>
    shown.length === 1 ? '' : view === 'measured' ? valueLabel(one) : viewLabels[view];
  return {
    kind: 'row',
    name: context.name,
    address: address(context.outcome.binding.schema, one.slot, one.axes, []),
    at,
    axis: words(along.name),
    heads: here.map((_, place) => words(String(placeName(along, place)))),
    unit,
    lines: shown.map((view) => ({ label: label(view), figures: here.map((cell) => cell[view]) })),
    marked: cellsHere.map((cell) => isMarked(one, cell, context.checks)),
    second: secondLine(here),
    limits: last ? limitsOf(context) : '',
    state: last ? stateOf(one, context) : '',
    note: last ? noteOf(one) : '',
    place: context.files.placeOf(one.slot.origin),
  };
}

export const viewLabels: Readonly<Record<View, string>> = {
  specified: 'as specified',
  ordered: 'as ordered',
  before: 'before',
  measured: 'as measured',
};

function valueLabel({ states }: SlotOutcome): string {
  return states.some((state) => state === 'measured') ? 'as measured' : 'now';
}

/** The value in the second unit, where all its cells have the same one. */
function secondLine(cells: readonly SheetViews[]): SheetRow['second'] {
  const parts = cells.map(({ measured }) => measured.second?.split(' ') ?? null);
  const units = new Set(parts.filter((part) => part !== null).map((part) => part[1] ?? ''));
  const [unit] = units;
  if (units.size !== 1 || unit === undefined) return null;
  return { unit, numbers: parts.map((part) => part?.[0] ?? '—') };
}

function isMarked(one: SlotOutcome, cell: number, checks: readonly CheckOutcome[]): boolean {
  const places = placesOf(one.axes, cell);
  return checks.some((check) =>
    check.cells.some(
      ({ state, places: at }) =>
        (state === 'out-of-limits' || state === 'at-risk') &&
        check.axes.every((axis, index) => {
          const own = one.axes.findIndex(({ id }) => id === axis.id);
          return own < 0 || places[own] === at[index];
        }),
    ),
  );
}

/** The limits of every check on the figure; where they differ from cell to cell, their ends. */
function limitsOf({ checks, outcome }: RowContext): string {
  const texts = checks.flatMap((check) => {
    const showing = showingOfCheck(outcome, check);
    const each = check.cells.map(({ low, high }) =>
      low === null && high === null ? '' : limitsText(low ?? -Infinity, high ?? Infinity, showing),
    );
    const different = [...new Set(each.filter((text) => text !== ''))];
    if (different.length === 0) return [];
    if (different.length > 1)
      return [`${different[0]} to ${different[different.length - 1]} ${unitText(showing)}`.trim()];
    return [`${different[0]} ${unitText(showing)}`.trim()];
  });
  return [...new Set(texts)].join('; ');
}

const worstFirst: readonly CheckState[] = [
  'out-of-limits',
  'at-risk',
  'cannot-tell',
  'accepted',
  'holds-on-paper',
  'holds-measured',
];

function stateOf(one: SlotOutcome, { checks }: RowContext): string {
  const worst = [...checks].sort((a, b) => worstFirst.indexOf(a.state) - worstFirst.indexOf(b.state)).find(applies);
  if (!worst) return valueState(one);
  const cells = worst.cells.filter(({ state }) => state === worst.state);
  const where = isFinding(worst) && cells.length < worst.cells.length;
  if (!where) return stateWords[worst.state];
  return `${stateWords[worst.state]} at ${cellsInWords(
    worst.axes,
    cells.map(({ places }) => places),
  )}`;
}

function applies({ state }: CheckOutcome): boolean {
  return state !== 'not-applicable';
}

function valueState({ states, slot }: SlotOutcome): string {
  const counted = states.filter((state) => state !== 'not-applicable');
  const [first] = counted;
  if (first === undefined) return 'not applicable';
  if (counted.every((state) => state === first)) {
    return first === 'specified' ? (slot.sort === 'derive' ? 'on paper' : '') : plainWords[first];
  }
  const measured = counted.filter((state) => state === 'measured').length;
  const missing = counted.filter((state) => state === 'missing').length;
  if (missing > 0) return `${missing} of ${counted.length} missing`;
  return measured > 0 ? `${measured} of ${counted.length} measured` : 'partly as ordered';
}

const plainWords = {
  measured: 'measured',
  'carried-over': 'carried over from a reading',
  ordered: 'as ordered',
  missing: 'missing',
} as const;

/** Who read it, when and with what, where one hand read all of it. */
function noteOf(one: SlotOutcome): string {
  const notes = new Set<string>();
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const source = one.sourceOf(cell, 'measured');
    notes.add(source?.reason ?? '');
  }
  const [note] = notes;
  return notes.size === 1 && note !== undefined ? note : '';
}
