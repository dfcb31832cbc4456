// Places in a plane, each with the turn at which it comes: both axes to one scale, as they lie.
import { fixed } from '../number/format.ts';
import { headOf, type ChartAxis, type ChartTable } from './chart.ts';
import { axisName } from './frame.ts';
import { decimalsFor, roundMarks, scale } from './scale.ts';
import { drawing, element, label, stroke } from './svg.ts';

export interface PlacesPlot {
  readonly title: string;
  readonly description: string;
  /** What each place is: `stud`. */
  readonly place: string;
  /** What its turn is called. */
  readonly turn: string;
  readonly across: ChartAxis;
  readonly up: ChartAxis;
  readonly points: readonly { readonly name: string; readonly x: number; readonly y: number; readonly turn: number }[];
}

const width = 720;
const room = { left: 64, right: 40, top: 96, bottom: 62 };
const radius = 15;
/** Of what is drawn between the axes; flatter or higher, and it could not be read. */
const height = { least: 90, most: 420 };

export function placesDrawing({ title, description, place, across, up, points }: PlacesPlot): string {
  const [acrossMarks, upMarks] = [across, up].map((_, axis) => {
    const all = points.map(({ x, y }) => (axis === 0 ? x : y));
    return roundMarks(Math.min(...all), Math.max(...all));
  }) as [number[], number[]];
  const [left, right] = [acrossMarks[0]!, acrossMarks.at(-1)!];
  const [low, high] = [upMarks[0]!, upMarks.at(-1)!];
  const wide = width - room.left - room.right;
  const perUnit = Math.min(wide / (right - left || 1), height.most / (high - low || 1));
  const tall = Math.max(height.least, perUnit * (high - low));
  const x = scale(left, right, room.left, room.left + perUnit * (right - left || 1));
  const y = scale(low, high, room.top + tall, room.top);
  const foot = room.top + tall + radius + 14;
  const middle = room.top + tall / 2;
  const inTurn = points.toSorted((a, b) => a.turn - b.turn);
  const way = inTurn.map((one) => `${x(one.x).toFixed(1)} ${y(one.y).toFixed(1)}`).join(' L');
  return drawing({ width, height: foot + room.bottom }, title, description, [
    ...acrossMarks.flatMap((mark) => [
      stroke('faint', x(mark), room.top - radius, x(mark), foot),
      label(fixed(mark, decimalsFor(acrossMarks)), x(mark), foot + 18, 'middle'),
    ]),
    ...upMarks.flatMap((mark) => [
      stroke('faint', room.left, y(mark), x(right), y(mark)),
      label(fixed(mark, decimalsFor(upMarks)), room.left - 8 - radius, y(mark) + 4, 'end'),
    ]),
    element('path', { class: 'line-1', 'stroke-width': 1.5, 'stroke-dasharray': '5 4', d: `M${way}` }),
    ...points.flatMap((one) => [
      element('circle', { class: 'paper', cx: x(one.x), cy: y(one.y), r: radius }),
      element('circle', { class: 'ink', cx: x(one.x), cy: y(one.y), r: radius }),
      label(String(one.turn), x(one.x), y(one.y) + 4, 'middle', 'title'),
      label(
        `${place} ${one.name}`,
        x(one.x),
        y(one.y) + (y(one.y) > middle ? radius + 13 : -radius - 4),
        'middle',
        'note',
      ),
    ]),
    label(axisName(across), room.left + (x(right) - room.left) / 2, foot + 40, 'middle'),
    label(axisName(up), 8, 46),
    label(title, width / 2, 24, 'middle', 'title'),
  ]);
}

/** In the order of their turns, as they are gone through. */
export function placesTable({ place, turn, across, up, points }: PlacesPlot): ChartTable {
  return {
    heads: [turn, place, headOf(across), headOf(up)],
    rows: points
      .toSorted((a, b) => a.turn - b.turn)
      .map((one) => [String(one.turn), one.name, fixed(one.x, across.decimals), fixed(one.y, up.decimals)]),
  };
}
