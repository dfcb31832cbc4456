// Two axes with round marks and a grid, and where a figure lies between them.
import { fixed } from '../number/format.ts';
import type { ChartAxis } from './chart.ts';
import { decimalsFor, roundMarks, scale } from './scale.ts';
import { label, stroke } from './svg.ts';

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface Frame {
  readonly box: Box;
  x(figure: number): number;
  y(figure: number): number;
  readonly drawn: string;
}

/** Round both ways so that all of these figures find room. */
export function frame(
  box: Box,
  across: ChartAxis,
  up: ChartAxis,
  along: readonly number[],
  heights: readonly number[],
): Frame {
  const columns = roundMarks(least(along), most(along), 8);
  const rows = roundMarks(least(heights), most(heights));
  const x = scale(columns[0]!, columns.at(-1)!, box.left, box.right);
  const y = scale(rows[0]!, rows.at(-1)!, box.bottom, box.top);
  const [columnDecimals, rowDecimals] = [decimalsFor(columns), decimalsFor(rows)];
  const drawn = [
    ...rows.map((mark) => stroke('faint', box.left, y(mark), box.right, y(mark))),
    ...columns.map((mark) => stroke('faint', x(mark), box.top, x(mark), box.bottom)),
    ...rows.map((mark) => label(fixed(mark, rowDecimals), box.left - 8, y(mark) + 4, 'end')),
    ...columns.map((mark) => label(fixed(mark, columnDecimals), x(mark), box.bottom + 18, 'middle')),
    label(axisName(across), (box.left + box.right) / 2, box.bottom + 40, 'middle'),
    label(axisName(up), 8, box.top - 10),
  ].join('\n');
  return { box, x, y, drawn };
}

export function axisName({ name, unit }: ChartAxis): string {
  return unit === '' ? name : `${name}, ${unit}`;
}

function least(figures: readonly number[]): number {
  return figures.reduce((low, one) => Math.min(low, one), figures[0] ?? 0);
}

function most(figures: readonly number[]): number {
  return figures.reduce((high, one) => Math.max(high, one), figures[0] ?? 1);
}
