// Lengths that add up from a datum, drawn one after the other, those that are taken off pointing back; what is left is measured off at the end.
import { fixed } from '../number/format.ts';
import type { ChartTable } from './chart.ts';
import { scale } from './scale.ts';
import { drawing, element, label, rounded, stroke } from './svg.ts';

export interface ChainLink {
  readonly name: string;
  /** Less than nothing: taken off. */
  readonly length: number;
}
export interface Chain {
  readonly title: string;
  readonly description: string;
  /** Where the first length begins: `from the middle of the shaft`. */
  readonly datum: string;
  readonly unit: string;
  readonly decimals: number;
  readonly links: readonly ChainLink[];
  /** What is left, as it was worked out. */
  readonly rest: ChainLink;
}

const width = 720;
const room = { left: 170, right: 110, top: 48, bottom: 26 };
const rowHeight = 28;

export function chainDrawing(chain: Chain): string {
  const { title, description, datum, unit, links, rest } = chain;
  const ends = links.reduce<number[]>((all, { length }) => [...all, all.at(-1)! + length], [0]);
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const x = scale(least, most === least ? least + 1 : most, room.left, width - room.right);
  const row = (at: number): number => room.top + (at + 0.6) * rowHeight;
  const foot = row(links.length) + 12;
  const last = ends.at(-1)!;
  return drawing({ width, height: foot + room.bottom }, title, description, [
    stroke('ink', x(0), room.top - 8, x(0), foot),
    label(`${datum}, lengths in ${unit}`, x(0), foot + 18, x(0) > width / 2 ? 'end' : 'start', 'note'),
    ...ends
      .slice(1)
      .map((end, at) => stroke('faint', x(end), row(at) - 8, x(end), at === links.length - 1 ? foot : row(at + 1) + 8)),
    ...links.map((link, at) => dimension(link, x(ends[at]!), x(ends[at + 1]!), row(at), chain)),
    dimension(rest, x(0), x(last), row(links.length), chain, 'rest'),
    label(title, width / 2, 24, 'middle', 'title'),
  ]);
}

/** Arrow from one end to the other; too short to draw, it is a mark. */
function dimension(
  { name, length }: ChainLink,
  from: number,
  to: number,
  y: number,
  { decimals }: Chain,
  kind = '',
): string {
  const way = to < from ? -1 : 1;
  const point = (at: number, side: number): string => `M${rounded(at)} ${y} l${-7 * side} -4 l0 8 Z`;
  const long = Math.abs(to - from) >= 10;
  const text = fixed(length, decimals);
  return [
    label(name, room.left - 12, y + 4, 'end', kind === 'rest' ? 'title' : undefined),
    long
      ? [
          element('line', {
            class: kind === 'rest' ? 'ink' : 'line-1',
            'stroke-width': 2,
            x1: from,
            x2: to - 5 * way,
            y1: y,
            y2: y,
          }),
          element('path', { class: 'solid', d: point(to, way) }),
        ].join('\n')
      : element('path', { class: 'ink', d: `M${rounded(to)} ${y - 7} l0 14 M${rounded(to - 4)} ${y} l8 0` }),
    label(text, width - 12, y + 4, 'end', kind === 'rest' ? 'title' : undefined),
  ].join('\n');
}

export function chainTable({ unit, decimals, links, rest }: Chain): ChartTable {
  return {
    heads: ['', unit],
    rows: [...links, rest].map(({ name, length }) => [name, fixed(length, decimals)]),
  };
}
