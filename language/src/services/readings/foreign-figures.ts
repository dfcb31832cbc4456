// Cells of a spreadsheet as figures: one way of writing them for the whole block, one unit. What can be read in two ways is told apart
// by what the figure should be, or not at all.
import { decimalMarks, plainFigure, type DecimalMark } from '@thou/shared/number/foreign';
import type { Grid } from './grid.ts';

/** A block read in one way; null where a cell is empty. */
export interface Reading {
  readonly mark: DecimalMark;
  readonly figures: readonly (readonly (string | null)[])[];
  /** Behind every figure alike; null where there is none. */
  readonly unit: string | null;
}

export type Readings = { readonly readings: readonly Reading[] } | { readonly problem: string };

const nothing = /^[-–—_]?$/;
const withUnit = /^([+\-−]?[\d.,'’\u00a0\u2009\u202f ]*\d(?:[eE][+-]?\d{1,3})?)\s*([A-Za-zµμ°%][\w°µμ*·/^²³%()]*)$/u;

/** Whether most of what is written there are figures: else the block is none of ours. */
export function isMostlyFigures(grid: Grid): boolean {
  const cells = grid.flat().filter((cell) => !nothing.test(cell));
  const figures = cells.filter((cell) => decimalMarks.some((mark) => plainFigure(split(cell).number, mark) !== null));
  return figures.length >= 2 && figures.length * 2 >= cells.length;
}

/** Every way in which the whole block can be read, those that come to the same once. */
export function readingsOf(grid: Grid): Readings {
  const cells = grid.flat().filter((cell) => !nothing.test(cell));
  const units = new Set(cells.map((cell) => split(cell).unit));
  if (units.size > 1) {
    const named = [...units].map((unit) => unit ?? 'none');
    return { problem: `The cells have different units (${named.slice(0, 4).join(', ')}): bring them to one.` };
  }
  const [unit = null] = units;
  const stranger = cells.find((cell) => decimalMarks.every((mark) => plainFigure(split(cell).number, mark) === null));
  if (stranger !== undefined) return { problem: `"${short(stranger)}" is no figure.` };
  const readings = decimalMarks.flatMap((mark): Reading[] => {
    if (cells.some((cell) => plainFigure(split(cell).number, mark) === null)) return [];
    return [{ mark, unit, figures: grid.map((row) => row.map((cell) => figureIn(cell, mark))) }];
  });
  if (readings.length === 0)
    return { problem: 'Some cells have a decimal point and others a decimal comma: bring them to one.' };
  const [first, second] = readings;
  return { readings: second && isAlike(first!, second) ? [first!] : readings };
}

function figureIn(cell: string, mark: DecimalMark): string | null {
  return nothing.test(cell) ? null : plainFigure(split(cell).number, mark);
}

function split(cell: string): { readonly number: string; readonly unit: string | null } {
  const [, number, unit] = withUnit.exec(cell) ?? [];
  return number === undefined || unit === undefined ? { number: cell, unit: null } : { number, unit };
}

function isAlike(one: Reading, other: Reading): boolean {
  return one.figures.flat().join() === other.figures.flat().join();
}

function short(cell: string): string {
  return cell.length > 24 ? `${cell.slice(0, 24)}…` : cell;
}
