// A block of cells against the axes of a figure: which way round it lies, and whether a row or a column of it only names the places.
import { placeName } from '../../report/cells.ts';
import { listed } from '../../report/place.ts';
import type { Axis } from '../../semantics/evaluate/value.ts';
import { isMostlyFigures } from './foreign-figures.ts';
import { inner, transposed, type Grid } from './grid.ts';

/** The cells alone, a row for each place of the first axis, a column for each of the second. */
export interface Laid {
  readonly cells: Grid;
  /** Rows lie along the second axis on the sheet that it comes from. */
  readonly isTurned: boolean;
}

/** For one axis or two that have more than one place. */
export function laidAlong(grid: Grid, axes: readonly Axis[]): Laid | { readonly problem: string } {
  const [first, second] = axes as readonly [Axis, Axis?];
  for (const isTurned of [false, true]) {
    const turned = isTurned ? transposed(grid) : grid;
    for (const [row, column] of headings) {
      const cells = inner(turned, { row, column });
      if (cells.length !== first.size || cells[0]?.length !== (second?.size ?? 1)) continue;
      const rows = column
        ? orderOf(
            turned.slice(row ? 1 : 0).map((one) => one[0]!),
            first,
          )
        : asTheyAre(first);
      const columns = row ? columnsOf(turned[0]!.slice(column ? 1 : 0), second) : asTheyAre(second);
      if (rows && columns) return { cells: rows.map((at) => columns.map((to) => cells[at]![to]!)), isTurned };
    }
  }
  return { problem: `${sizeOf(grid)} on the clipboard, but one figure is due for ${dueFor(axes)}.` };
}

const headings: readonly (readonly [row: boolean, column: boolean])[] = [
  [false, false],
  [true, false],
  [false, true],
  [true, true],
];

/** Above a single column stands its title; above several the places of the second axis. */
function columnsOf(heading: readonly string[], axis: Axis | undefined): readonly number[] | null {
  if (axis !== undefined) return orderOf(heading, axis);
  return isMostlyFigures([[...heading, ...heading]]) ? null : [0];
}

/** Where each place stands, if every place is named once. */
function orderOf(names: readonly string[], axis: Axis): readonly number[] | null {
  const known = names.map(plain);
  const order = asTheyAre(axis).map((place) => known.indexOf(plain(String(placeName(axis, place)))));
  return new Set(order).size === axis.size && !order.includes(-1) ? order : null;
}

function asTheyAre(axis: Axis | undefined): readonly number[] {
  return Array.from({ length: axis?.size ?? 1 }, (_, place) => place);
}

function plain(name: string): string {
  return name.toLowerCase().replaceAll(/[\s_-]+/g, '-');
}

function sizeOf(grid: Grid): string {
  const [rows, columns] = [grid.length, grid[0]!.length];
  if (rows === 1 || columns === 1) return `${rows * columns} cells are`;
  return `${rows} rows of ${columns} cells are`;
}

function dueFor(axes: readonly Axis[]): string {
  return listed(axes.map((axis) => `each of ${axis.size} places along ${axis.name}`));
}
