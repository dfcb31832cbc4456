// One quantity against another of its kind while a third goes round: both axes to one scale, so that a circle is a circle.
import { fixed } from '../number/format.ts';
import { headOf, type ChartAxis, type ChartTable } from './chart.ts';
import { axisName } from './frame.ts';
import { decimalsFor, roundMarks, scale } from './scale.ts';
import { drawing, element, label, rounded, stroke } from './svg.ts';

export interface Orbit {
  readonly title: string;
  readonly description: string;
  readonly across: ChartAxis;
  readonly up: ChartAxis;
  /** What goes round, and where each point stands on it. */
  readonly along: ChartAxis;
  readonly points: readonly { readonly at: number; readonly x: number; readonly y: number }[];
}

const size = 460;
const room = { left: 76, right: 30, top: 48, bottom: 56 };

export function orbitDrawing({ title, description, across, up, along, points }: Orbit): string {
  const reach = Math.max(1e-12, ...points.flatMap(({ x, y }) => [Math.abs(x), Math.abs(y)]));
  const marks = roundMarks(-reach, reach);
  const side = size - room.left - room.right;
  const [least, most] = [marks[0]!, marks.at(-1)!];
  const x = scale(least, most, room.left, room.left + side);
  const y = scale(least, most, room.top + side, room.top);
  const decimals = decimalsFor(marks);
  const foot = room.top + side;
  const d = points.map((one) => `${rounded(x(one.x))} ${rounded(y(one.y))}`).join(' L');
  const first = points[0];
  return drawing({ width: size, height: foot + room.bottom }, title, description, [
    ...marks.flatMap((mark) => [
      stroke(mark === 0 ? 'ink' : 'faint', x(mark), room.top, x(mark), foot),
      stroke(mark === 0 ? 'ink' : 'faint', room.left, y(mark), room.left + side, y(mark)),
      label(fixed(mark, decimals), x(mark), foot + 18, 'middle'),
      label(fixed(mark, decimals), room.left - 8, y(mark) + 4, 'end'),
    ]),
    d === '' ? '' : element('path', { class: 'line-1', 'stroke-width': 2, d: `M${d} Z` }),
    first
      ? [
          element('circle', { class: 'solid', cx: x(first.x), cy: y(first.y), r: 4 }),
          label(
            `${along.name} ${fixed(first.at, along.decimals)} ${along.unit}`.trim(),
            x(first.x) + 8,
            y(first.y) - 8,
          ),
        ].join('\n')
      : '',
    label(axisName(across), room.left + side / 2, foot + 40, 'middle'),
    label(axisName(up), 8, room.top - 10),
    label(title, size / 2, 24, 'middle', 'title'),
  ]);
}

export function orbitTable({ across, up, along, points }: Orbit): ChartTable {
  return {
    heads: [headOf(along), headOf(across), headOf(up)],
    rows: points.map(({ at, x, y }) => [fixed(at, along.decimals), fixed(x, across.decimals), fixed(y, up.decimals)]),
  };
}
