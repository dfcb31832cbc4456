// Figures one below the other, each against its own limits on one scale: limits as a bar, the figure as a mark whose shape says how it stands,
// and a whisker for what it may be off.
import { fixed } from '../number/format.ts';
import { headOf, type ChartAxis, type ChartTable } from './chart.ts';
import { axisName } from './frame.ts';
import { decimalsFor, roundMarks, scale } from './scale.ts';
import { drawing, element, label, stroke } from './svg.ts';

export type Standing = 'holds' | 'at-risk' | 'out' | 'accepted' | 'unchecked';

export interface CellsRow {
  readonly name: string;
  readonly figure: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** What was asked for, where that is one figure. */
  readonly nominal: number | null;
  /** How far the figure may be off, to each side. */
  readonly plusMinus: number | null;
  readonly standing: Standing;
  /** The same in words. */
  readonly state: string;
}
export interface CellsChart {
  readonly title: string;
  readonly description: string;
  readonly along: ChartAxis;
  readonly rows: readonly CellsRow[];
}

const width = 720;
const room = { left: 140, right: 170, top: 42, bottom: 48 };
const rowHeight = 18;

export function cellsChart({ title, description, along, rows }: CellsChart): string {
  const foot = room.top + rows.length * rowHeight;
  const all = rows.flatMap(({ figure, low, high, nominal, plusMinus }) => {
    const ends = figure === null ? [] : [figure - (plusMinus ?? 0), figure + (plusMinus ?? 0)];
    return [...ends, low, high, nominal].filter((one) => one !== null);
  });
  const marks = roundMarks(all.length > 0 ? Math.min(...all) : 0, all.length > 0 ? Math.max(...all) : 1);
  const x = scale(marks[0]!, marks.at(-1)!, room.left, width - room.right);
  const decimals = decimalsFor(marks);
  return drawing({ width, height: foot + room.bottom }, title, description, [
    ...marks.map((mark) => stroke('faint', x(mark), room.top, x(mark), foot)),
    ...marks.map((mark) => label(fixed(mark, decimals), x(mark), foot + 18, 'middle')),
    label(axisName(along), (room.left + width - room.right) / 2, foot + 40, 'middle'),
    ...rows.map((row, at) => drawnRow(row, room.top + (at + 0.5) * rowHeight, x, along)),
    label(title, width / 2, 24, 'middle', 'title'),
  ]);
}

function drawnRow(row: CellsRow, y: number, x: (figure: number) => number, { decimals }: ChartAxis): string {
  const { name, figure, low, high, nominal, plusMinus, state } = row;
  const [left, right] = [low === null ? room.left : x(low), high === null ? width - room.right : x(high)];
  const limited = low !== null || high !== null;
  const parts = [
    label(name, room.left - 10, y + 4, 'end'),
    ...(limited ? [element('rect', { class: 'band', x: left, y: y - 7, width: right - left, height: 14 })] : []),
    ...(low === null ? [] : [stroke('ink', left, y - 8, left, y + 8)]),
    ...(high === null ? [] : [stroke('ink', right, y - 8, right, y + 8)]),
    ...(nominal === null ? [] : [stroke('edge', x(nominal), y - 8, x(nominal), y + 8)]),
    label(
      [figure === null ? '—' : fixed(figure, decimals), state].filter(Boolean).join('  '),
      width - room.right + 10,
      y + 4,
    ),
  ];
  if (figure === null) return parts.join('\n');
  if (plusMinus !== null && plusMinus > 0) {
    const [from, to] = [x(figure - plusMinus), x(figure + plusMinus)];
    parts.push(
      stroke('ink', from, y, to, y),
      stroke('ink', from, y - 4, from, y + 4),
      stroke('ink', to, y - 4, to, y + 4),
    );
  }
  return [...parts, mark(row.standing, x(figure), y)].join('\n');
}

/** A dot holds, a diamond is at risk, a cross is out, a square was accepted, a ring was not judged. */
function mark(standing: Standing, x: number, y: number): string {
  if (standing === 'holds') return element('circle', { class: 'solid', cx: x, cy: y, r: 4 });
  if (standing === 'unchecked') return element('circle', { class: 'ink paper', cx: x, cy: y, r: 4 });
  if (standing === 'accepted') return element('rect', { class: 'ink paper', x: x - 4, y: y - 4, width: 8, height: 8 });
  if (standing === 'at-risk')
    return element('path', { class: 'risk paper', d: `M${x} ${y - 6} L${x + 6} ${y} L${x} ${y + 6} L${x - 6} ${y} Z` });
  return element('path', {
    class: 'bad',
    d: `M${x - 5} ${y - 5} L${x + 5} ${y + 5} M${x - 5} ${y + 5} L${x + 5} ${y - 5}`,
  });
}

export function cellsTable({ along, rows }: CellsChart): ChartTable {
  const text = (figure: number | null): string => (figure === null ? '—' : fixed(figure, along.decimals));
  return {
    heads: ['', headOf(along), 'may be off by', 'least', 'most', 'state'],
    rows: rows.map(({ name, figure, plusMinus, low, high, state }) => [
      name,
      text(figure),
      text(plusMinus),
      text(low),
      text(high),
      state,
    ]),
  };
}
