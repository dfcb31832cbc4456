// Spans of a turn as arcs, each on a track of its own: from above, clockwise. What begins and ends is marked where it does.
import { fixed } from '../number/format.ts';
import type { ChartTable } from './chart.ts';
import { drawing, element, label, rounded, stroke } from './svg.ts';

export interface CircleSpan {
  readonly name: string;
  /** Degrees from above, clockwise; `to` lies behind `from`. */
  readonly from: number;
  readonly to: number;
  /** How beginning and end are told: `24 deg before the top`. */
  readonly begins: string;
  readonly ends: string;
}
export interface Circle {
  readonly title: string;
  readonly description: string;
  readonly spans: readonly CircleSpan[];
  /** Places of the turn that have a name, in degrees from above. */
  readonly places: readonly { readonly at: number; readonly name: string }[];
}

const size = 720;
const middle = { x: size / 2, y: 200 };
const outer = 125;
const track = 24;
const rowHeight = 20;

export function circleDrawing({ title, description, spans, places }: Circle): string {
  const height = middle.y + outer + 60 + spans.length * rowHeight;
  return drawing({ width: size, height }, title, description, [
    element('circle', { class: 'faint', cx: middle.x, cy: middle.y, r: outer + 12 }),
    ...places.map(({ at, name }) => place(at, name)),
    ...spans.map((span, at) => arc(span, at)),
    ...spans.map((span, at) => legend(span, at, middle.y + outer + 56 + at * rowHeight)),
    label(title, size / 2, 24, 'middle', 'title'),
  ]);
}

function at(degrees: number, radius: number): { readonly x: number; readonly y: number } {
  const turn = (degrees * Math.PI) / 180;
  return { x: middle.x + radius * Math.sin(turn), y: middle.y - radius * Math.cos(turn) };
}

function place(degrees: number, name: string): string {
  const [from, to, text] = [at(degrees, 12), at(degrees, outer + 18), at(degrees, outer + 30)];
  const side = Math.abs(text.x - middle.x) < 8 ? 'middle' : text.x > middle.x ? 'start' : 'end';
  return [stroke('faint', from.x, from.y, to.x, to.y), label(name, text.x, text.y + 4, side)].join('\n');
}

const dashes = ['', '8 4', '2 3', '10 3 2 3'];

function arc({ from, to }: CircleSpan, number: number): string {
  const radius = outer - number * track;
  const swept = Math.min(359.9, Math.max(0, to - from));
  const [start, end] = [at(from, radius), at(from + swept, radius)];
  const d = `M${rounded(start.x)} ${rounded(start.y)} A${radius} ${radius} 0 ${swept > 180 ? 1 : 0} 1 ${rounded(end.x)} ${rounded(end.y)}`;
  const tick = (degrees: number): string => {
    const [inside, outside] = [at(degrees, radius - 8), at(degrees, radius + 8)];
    return stroke('ink', inside.x, inside.y, outside.x, outside.y);
  };
  return [element('path', { d, ...look(number) }), tick(from), tick(from + swept)].join('\n');
}

function look(number: number): Readonly<Record<string, string | number>> {
  const dash = dashes[number % dashes.length]!;
  return {
    class: `line-${(number % 8) + 1}`,
    'stroke-width': 5,
    ...(dash === '' ? {} : { 'stroke-dasharray': dash }),
  };
}

function legend({ name, begins, ends, from, to }: CircleSpan, number: number, y: number): string {
  return [
    element('line', { x1: 24, x2: 60, y1: y, y2: y, ...look(number) }),
    label(`${name}: ${begins} to ${ends}, ${fixed(to - from, 1)} deg`, 68, y + 4),
  ].join('\n');
}

export function circleTable({ spans }: Circle): ChartTable {
  return {
    heads: ['', 'begins', 'ends', 'lasts (deg)'],
    rows: spans.map(({ name, begins, ends, from, to }) => [name, begins, ends, fixed(to - from, 1)]),
  };
}
