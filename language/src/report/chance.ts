// What many trials say of a figure, beside what its sensitivities say: as a table and for programs. Draws nothing itself.
import { resultFormat } from '@thou/shared/result/contract';
import type { ChanceCell, ChanceResult } from '@thou/shared/result/chance';
import { displayUnit } from '@thou/shared/number/format';
import type { Simulated } from '../semantics/certainty/monte-carlo.ts';
import { summaryOf } from '../semantics/certainty/interval.ts';
import type { CheckCell, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellsInWords, held, placeName, placesOf } from './cells.ts';
import { pathWords } from './check-words.ts';
import { checkCells } from './standing.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { aligned, table } from './table.ts';
import { differenceText, inUnit, numberText, showingsIn } from './units.ts';
import type { Showing } from './units.ts';

export interface Drawn {
  readonly trials: number;
  readonly seed: number;
  readonly share: number;
}

export function chanceResult(
  outcome: Outcome,
  one: SlotOutcome,
  cells: readonly number[],
  { columns }: Simulated,
  drawn: Drawn,
  thou: string,
): ChanceResult {
  const [showing] = showingsIn(outcome, one.slot);
  const uncertainties = one.uncertainty();
  const limits = limitsByCell(outcome, one);
  return {
    format: resultFormat,
    thou,
    build: outcome.binding.name,
    path: one.slot.path,
    unit: showing!.unit?.symbol ?? null,
    ...drawn,
    cells: cells.map((cell) =>
      chanceCell(one, cell, columns[cell]!, uncertainties[cell] ?? null, limits.get(cell), showing!, drawn),
    ),
  };
}

function chanceCell(
  one: SlotOutcome,
  cell: number,
  column: Float64Array,
  u: number | null,
  limits: CheckCell | undefined,
  showing: Showing,
  { share }: Drawn,
): ChanceCell {
  const content = held(one.views.measured, one.axes, cell);
  const { count, mean, deviation, percentiles, shortest } = summaryOf(column, share);
  const figure = (si: number): number => inUnit(si, showing);
  const spread = (si: number): number => inUnit(si, showing, 'difference');
  const none = count === 0;
  return {
    at: Object.fromEntries(one.axes.map((axis, at) => [axis.name, placeName(axis, placesOf(one.axes, cell)[at]!)])),
    figure: content.is === 'number' ? figure(content.value) : null,
    uncertainty: u === null ? null : spread(u),
    mean: none ? null : figure(mean),
    deviation: none || Number.isNaN(deviation) ? null : spread(deviation),
    interval: none ? null : [figure(percentiles.low), figure(percentiles.high)],
    shortest: none ? null : [figure(shortest.low), figure(shortest.high)],
    inside: none || limits === undefined ? null : insideOf(column, limits),
  };
}

/** A trial so near to a limit stands on it. */
const touching = 1e-9;

function insideOf(column: Float64Array, { low, high }: CheckCell): number {
  const least = low === null ? -Infinity : low - touching * Math.abs(low);
  const most = high === null ? Infinity : high + touching * Math.abs(high);
  return column.reduce((count, figure) => count + (figure >= least && figure <= most ? 1 : 0), 0) / column.length;
}

/** Of the first check on the figure that has limits there. */
function limitsByCell(outcome: Outcome, one: SlotOutcome): ReadonlyMap<number, CheckCell> {
  const found = new Map<number, CheckCell>();
  for (const check of outcome.checks.filter(({ slot }) => slot?.id === one.slot.id))
    for (const [cell, judged] of checkCells(one, check))
      if ((judged.low !== null || judged.high !== null) && !found.has(cell)) found.set(cell, judged);
  return found;
}

export function chanceText(
  outcome: Outcome,
  one: SlotOutcome,
  result: ChanceResult,
  style: Style = plainStyle,
): string {
  const [showing] = showingsIn(outcome, one.slot);
  const unit = showing!.unit === null ? '' : displayUnit(showing!.unit.symbol);
  const { cells, trials, seed, share } = result;
  const rows = cells.map((cell) => rowOf(one, cell, showing!));
  const columns = [1, 2, 3, 4].map((column) =>
    aligned(
      rows.map((row) => row[column]!),
      'point',
    ),
  );
  const head = [
    '',
    'worked out',
    'in the trials',
    `${Math.round(share * 100)} % of them`,
    'shortest',
    cells.some(({ inside }) => inside !== null) ? 'inside limits' : '',
  ];
  const laid = table(
    [head, ...rows.map((row, at) => [row[0]!, ...columns.map((column) => column[at]!), row[5]!])],
    ['left', 'left', 'left', 'left', 'left', 'right'],
  );
  const [first = '', ...body] = laid;
  return [
    style.title(`${pathWords(one.slot.path)}${unit === '' ? '' : ` (${unit})`}, ${result.build}`),
    `${trials} trials, each with what is unsure drawn by chance (seed ${seed}); ± is two standard deviations.`,
    '',
    style.faint(first),
    ...body,
    '',
  ].join('\n');
}

function rowOf(one: SlotOutcome, cell: ChanceCell, showing: Showing): string[] {
  const plain: Showing = { unit: null, decimals: showing.decimals };
  const margin = (deviation: number | null): string =>
    deviation === null || deviation === 0 ? '' : ` ± ${differenceText(2 * deviation, plain)}`;
  const number = (figure: number | null): string => (figure === null ? '—' : numberText(figure, plain));
  const span = (ends: ChanceCell['interval']): string => (ends === null ? '—' : finer(ends, plain));
  const places = one.axes.map((axis) => {
    const name = cell.at[axis.name];
    return Array.from({ length: axis.size }, (_, place) => place).find((place) => placeName(axis, place) === name) ?? 0;
  });
  return [
    one.axes.length === 0 ? '' : cellsInWords(one.axes, [places]),
    `${number(cell.figure)}${margin(cell.uncertainty)}`,
    `${number(cell.mean)}${margin(cell.deviation)}`,
    span(cell.interval),
    span(cell.shortest),
    cell.inside === null ? '' : `${insideText(cell.inside)} %`,
  ];
}

/** With a digit more where both ends would read alike. */
function finer([low, high]: readonly [number, number], plain: Showing): string {
  const decimals = plain.decimals ?? 4;
  const one = [low, high].map((end) => numberText(end, { ...plain, decimals }));
  if (one[0] !== one[1] || low === high) return `${one[0]}..${one[1]}`;
  const [from, to] = [low, high].map((end) => numberText(end, { ...plain, decimals: decimals + 1 }));
  return `${from}..${to}`;
}

/** Never 100 where one trial was out, nor 0 where one was in. */
function insideText(share: number): string {
  const text = numberText(share * 100, { unit: null, decimals: 1 });
  if (text === '100.0' && share < 1) return 'under 100';
  return text === '0.0' && share > 0 ? 'over 0' : text;
}
