// A chart of lines as SVG: limits as a band, places of note as upright lines. Lines are told apart by their strokes as well as by colour.
import { fixed } from '../number/format.ts';
import type { Chart, ChartLine } from './chart.ts';
import { decimalsFor, roundMarks, scale } from './scale.ts';
import { drawing, element, escaped, rounded } from './svg.ts';

const width = 720;
const height = 420;
const room = { left: 76, right: 24, top: 48, bottom: 56 };
const rowHeight = 18;
const ink = 'currentColor';

/** Hues that are told apart with any sight, after Okabe and Ito (2008). */
const hues = ['#0072b2', '#d55e00', '#009e73', '#cc79a7', '#56b4e9', '#e69f00', '#666666', '#b8a800'];
const strokes = ['', '8 4', '2 3', '10 3 2 3', '5 5', '1 4', '12 4', '6 2 2 2'];

export function lineChart(chart: Chart): string {
  const named = chart.lines.filter(({ name }) => name !== '');
  const perRow = 4;
  const rows = Math.ceil(named.length / perRow);
  const total = height + rows * rowHeight;
  const figures = chart.lines.flatMap((line) => line.figures.filter((figure) => figure !== null));
  const ends = [chart.limits?.low, chart.limits?.high].filter((one) => typeof one === 'number');
  const all = [...figures, ...ends];
  const up = roundMarks(Math.min(...(all.length > 0 ? all : [0])), Math.max(...(all.length > 0 ? all : [1])));
  const across = roundMarks(Math.min(...chart.at), Math.max(...chart.at), 8);
  const y = scale(up[0]!, up.at(-1)!, height - room.bottom, room.top);
  const x = scale(across[0]!, across.at(-1)!, room.left, width - room.right);
  const inside = [
    limitBand(chart, y),
    grid(chart, across, up, x, y),
    ...chart.marks.map((mark) => markLine(mark, x)),
    ...chart.lines.map((line, at) => drawnLine(chart, line, at, x, y)),
    ...named.map((line, at) => legend(line, at, perRow)),
    element(
      'text',
      { x: width / 2, y: 24, fill: ink, 'text-anchor': 'middle', 'font-weight': 'bold' },
      escaped(chart.title),
    ),
  ];
  return drawing(
    { width, height: total },
    chart.title,
    chart.description,
    inside.filter((one) => one !== '').join('\n'),
  );
}

type Place = (figure: number) => number;

function limitBand({ limits }: Chart, y: Place): string {
  if (limits === null) return '';
  const { low, high, name } = limits;
  const [top, bottom] = [high === null ? room.top : y(high), low === null ? height - room.bottom : y(low)];
  const edges = [low, high].flatMap((limit) =>
    limit === null
      ? []
      : element('line', {
          x1: room.left,
          x2: width - room.right,
          y1: y(limit),
          y2: y(limit),
          stroke: ink,
          'stroke-dasharray': '6 4',
        }),
  );
  const at = { x: width - room.right - 4, y: top + 14, fill: ink, 'text-anchor': 'end', 'font-style': 'italic' };
  const band = { x: room.left, y: top, width: width - room.left - room.right, height: Math.max(0, bottom - top) };
  return [
    element('rect', { ...band, fill: ink, 'fill-opacity': '0.07' }),
    ...edges,
    element('text', at, escaped(name)),
  ].join('\n');
}

function grid(chart: Chart, across: readonly number[], up: readonly number[], x: Place, y: Place): string {
  const line = { stroke: ink, 'stroke-opacity': '0.25' };
  const [foot, left] = [height - room.bottom, room.left];
  const [acrossDecimals, upDecimals] = [decimalsFor(across), decimalsFor(up)];
  return [
    ...up.map((mark) => element('line', { x1: left, x2: width - room.right, y1: y(mark), y2: y(mark), ...line })),
    ...across.map((mark) => element('line', { x1: x(mark), x2: x(mark), y1: room.top, y2: foot, ...line })),
    ...up.map((mark) =>
      element('text', { x: left - 8, y: y(mark) + 4, fill: ink, 'text-anchor': 'end' }, fixed(mark, upDecimals)),
    ),
    ...across.map((mark) =>
      element('text', { x: x(mark), y: foot + 18, fill: ink, 'text-anchor': 'middle' }, fixed(mark, acrossDecimals)),
    ),
    element(
      'text',
      { x: (left + width - room.right) / 2, y: foot + 40, fill: ink, 'text-anchor': 'middle' },
      axisName(chart.across),
    ),
    element('text', { x: 8, y: room.top - 10, fill: ink }, axisName(chart.up)),
  ].join('\n');
}

function axisName({ name, unit }: Chart['up']): string {
  return escaped(unit === '' ? name : `${name}, ${unit}`);
}

function markLine({ at, name }: Chart['marks'][number], x: Place): string {
  const line = { x1: x(at), x2: x(at), y1: room.top, y2: height - room.bottom, stroke: ink, 'stroke-dasharray': '2 2' };
  return [
    element('line', line),
    element('text', { x: x(at) + 4, y: height - room.bottom - 6, fill: ink }, escaped(name)),
  ].join('\n');
}

/** A gap where there is no figure. */
function drawnLine({ at }: Chart, { figures }: ChartLine, number: number, x: Place, y: Place): string {
  const steps: string[] = [];
  let open = false;
  figures.forEach((figure, place) => {
    if (figure === null) open = false;
    else {
      steps.push(`${open ? 'L' : 'M'}${rounded(x(at[place]!))} ${rounded(y(figure))}`);
      open = true;
    }
  });
  return steps.length === 0 ? '' : element('path', { d: steps.join(' '), ...strokeOf(number) });
}

function strokeOf(number: number): Readonly<Record<string, string | number>> {
  const dashes = strokes[number % strokes.length]!;
  return {
    stroke: hues[number % hues.length]!,
    'stroke-width': 2,
    ...(dashes === '' ? {} : { 'stroke-dasharray': dashes }),
  };
}

function legend({ name }: ChartLine, number: number, perRow: number): string {
  const column = (width - room.left - room.right) / perRow;
  const [left, y] = [room.left + (number % perRow) * column, height + Math.floor(number / perRow) * rowHeight];
  return [
    element('line', { x1: left, x2: left + 28, y1: y, y2: y, ...strokeOf(number) }),
    element('text', { x: left + 34, y: y + 4, fill: ink }, escaped(name)),
  ].join('\n');
}
