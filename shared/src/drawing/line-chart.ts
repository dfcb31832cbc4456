// A chart of lines as SVG: limits as a band, what is unsure as a shade, places of note as upright lines.
// Lines are told apart by their strokes as well as by colour.
import type { Chart, ChartLine } from './chart.ts';
import { frame, type Frame } from './frame.ts';
import { drawing, element, label, rounded, stroke } from './svg.ts';

const width = 720;
const height = 300;
const room = { left: 76, right: 24, top: 48, bottom: 56 };
const rowHeight = 18;
const perRow = 4;

const strokes = ['', '8 4', '2 3', '10 3 2 3', '5 5', '1 4', '12 4', '6 2 2 2'];

export function lineChart(chart: Chart): string {
  if (chart.note !== undefined) return noteAlone(chart.title, chart.description, chart.note);
  const named = chart.lines.filter(({ name }) => name !== '');
  const total = height + Math.ceil(named.length / perRow) * rowHeight;
  const box = { left: room.left, right: width - room.right, top: room.top, bottom: height - room.bottom };
  const shown = frame(box, chart.across, chart.up, chart.at, heightsOf(chart));
  return drawing({ width, height: total }, chart.title, chart.description, [
    limitBand(chart, shown),
    ...chart.lines.map((line) => shade(chart, line, shown)),
    shown.drawn,
    ...chart.marks.map((mark) => markLine(mark, shown)),
    ...(chart.levels ?? []).map((level) => levelLine(level, chart.levels ?? [], shown)),
    ...chart.lines.map((line, at) => drawnLine(chart, line, at, shown)),
    ...(chart.points ?? []).map((point) => pointMark(point, isLeftmost(point, chart.points ?? []), shown)),
    ...named.map((line, at) => legend(line, at)),
    label(chart.title, width / 2, 24, 'middle', 'title'),
  ]);
}

const mostLetters = 96;

function noteAlone(title: string, description: string, note: string): string {
  const rows = note.split(' ').reduce<string[]>((all, word) => {
    const last = all.at(-1);
    return last === undefined || last.length + word.length >= mostLetters
      ? [...all, word]
      : [...all.slice(0, -1), `${last} ${word}`];
  }, []);
  return drawing({ width, height: room.top + (rows.length + 1) * rowHeight }, title, description, [
    label(title, width / 2, 24, 'middle', 'title'),
    ...rows.map((row, at) => label(row, width / 2, room.top + (at + 0.5) * rowHeight, 'middle', 'note')),
  ]);
}

/** All that has to find room upwards. */
function heightsOf({ lines, limits, levels = [] }: Chart): number[] {
  const isFigure = (one: number | null | undefined): one is number => typeof one === 'number';
  const figures = lines.flatMap((line) => {
    const unsure = (at: number): number => line.unsure?.[at] ?? 0;
    return line.figures.flatMap((figure, at) => (figure === null ? [] : [figure - unsure(at), figure + unsure(at)]));
  });
  return [...figures, ...[limits?.low, limits?.high].filter(isFigure), ...levels.map(({ at }) => at)];
}

function limitBand({ limits }: Chart, { box, y }: Frame): string {
  if (limits === null) return '';
  const { low, high, name } = limits;
  const [top, bottom] = [high === null ? box.top : y(high), low === null ? box.bottom : y(low)];
  const edges = [low, high].flatMap((limit) =>
    limit === null ? [] : stroke('edge', box.left, y(limit), box.right, y(limit)),
  );
  const band = { x: box.left, y: top, width: box.right - box.left, height: Math.max(0, bottom - top) };
  return [
    element('rect', { class: 'band', ...band }),
    ...edges,
    label(name, box.right - 4, top + 14, 'end', 'note'),
  ].join('\n');
}

function markLine({ at, name }: Chart['marks'][number], { box, x }: Frame): string {
  const line = { class: 'ink', x1: x(at), x2: x(at), y1: box.top, y2: box.bottom, 'stroke-dasharray': '2 2' };
  const atEnd = x(at) > (box.left + box.right) / 2;
  return [element('line', line), label(name, x(at) + (atEnd ? -4 : 4), box.bottom - 6, atEnd ? 'end' : 'start')].join(
    '\n',
  );
}

type Level = NonNullable<Chart['levels']>[number];

/** The name stands above its line, or below it where another level lies above, so that levels near each other can be read. */
function levelLine({ at, name }: Level, all: readonly Level[], { box, y }: Frame): string {
  const below = all.some((one) => one.at > at);
  return [
    stroke('edge', box.left, y(at), box.right, y(at)),
    label(name, box.left + 6, y(at) + (below ? 14 : -4), 'start', 'note'),
  ].join('\n');
}

type Point = NonNullable<Chart['points']>[number];

function isLeftmost(point: Point, all: readonly Point[]): boolean {
  return all.length > 1 && all.every((one) => one === point || one.at > point.at);
}

function pointMark({ at, figure, name }: Point, leftwards: boolean, { box, x, y }: Frame): string {
  const atEnd = leftwards || x(at) > (box.left + box.right) / 2 + (box.right - box.left) / 4;
  const high = y(figure) < box.top + 24;
  return [
    element('circle', { class: 'ink paper', cx: x(at), cy: y(figure), r: 4 }),
    label(name, x(at) + (atEnd ? -8 : 8), y(figure) + (high ? 16 : -8), atEnd ? 'end' : 'start'),
  ].join('\n');
}

/** Runs of places that all have a figure. */
function stretches(figures: readonly (number | null)[]): number[][] {
  const found: number[][] = [];
  let open: number[] | null = null;
  figures.forEach((figure, place) => {
    if (figure === null) open = null;
    else if (open) open.push(place);
    else found.push((open = [place]));
  });
  return found;
}

/** A gap where there is no figure. */
function drawnLine({ at }: Chart, { figures }: ChartLine, number: number, { x, y }: Frame): string {
  const d = stretches(figures)
    .map((places) => `M${places.map((place) => `${rounded(x(at[place]!))} ${rounded(y(figures[place]!))}`).join(' L')}`)
    .join(' ');
  return d === '' ? '' : element('path', { d, ...strokeOf(number) });
}

function shade({ at }: Chart, { figures, unsure }: ChartLine, { x, y }: Frame): string {
  if (!unsure) return '';
  const point = (place: number, side: number): string =>
    `${rounded(x(at[place]!))} ${rounded(y(figures[place]! + side * (unsure[place] ?? 0)))}`;
  const d = stretches(figures)
    .map((places) => {
      const there = places.map((place) => point(place, 1));
      const back = [...places].reverse().map((place) => point(place, -1));
      return `M${[...there, ...back].join(' L')} Z`;
    })
    .join(' ');
  return d === '' ? '' : element('path', { class: 'unsure', d });
}

function strokeOf(number: number): Readonly<Record<string, string | number>> {
  const dashes = strokes[number % strokes.length]!;
  return {
    class: `line-${(number % strokes.length) + 1}`,
    'stroke-width': 2,
    ...(dashes === '' ? {} : { 'stroke-dasharray': dashes }),
  };
}

function legend({ name }: ChartLine, number: number): string {
  const column = (width - room.left - room.right) / perRow;
  const [left, y] = [room.left + (number % perRow) * column, height + Math.floor(number / perRow) * rowHeight];
  return [
    element('line', { x1: left, x2: left + 28, y1: y, y2: y, ...strokeOf(number) }),
    label(name, left + 34, y + 4),
  ].join('\n');
}
