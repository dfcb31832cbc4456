/** What a hover says of a figure in one build: its value and state, its views, where it comes from, its formula with figures put in, its limits. */
import type { SettingValues } from '@thou/shared/settings';
import type { View } from '../../semantics/ir.ts';
import type { CheckState, Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { address, cellCount, cellsInWords, placesOf } from '../../report/cells.ts';
import { stateWords } from '../../report/check-words.ts';
import { formulaLines, limitLines, stateText } from '../../report/explain.ts';
import { bareText, figureOf, figureText } from '../../report/figures.ts';
import type { Files } from '../../report/place.ts';
import { originText } from '../../report/provenance.ts';
import { viewLabels } from '../../report/rows.ts';
import { checkedCells } from '../../report/standing.ts';
import { aligned, table } from '../../report/table.ts';
import { measureOf } from '../../report/units.ts';
import type { Piece } from './page.ts';
import { unsurePieces } from './unsure.ts';

const views: readonly View[] = ['specified', 'ordered', 'before', 'measured'];
interface Wanted {
  readonly files: Files;
  /** What of it the reader wants to be told. */
  readonly settings: SettingValues;
}

export function figurePieces(
  outcome: Outcome,
  one: SlotOutcome,
  places: readonly (number | null)[],
  wanted: Wanted,
): Piece[] {
  const cells = Array.from({ length: cellCount(one.axes) }, (_, cell) => cell).filter((cell) =>
    placesOf(one.axes, cell).every(
      (place, at) => places[at] === null || places[at] === undefined || places[at] === place,
    ),
  );
  const name = address(outcome.binding.schema, one.slot, one.axes, places);
  if (cells.length === 0) return [{ is: 'head', name, rest: 'has no place yet: the size of its axis is missing' }];
  return cells.length === 1
    ? ofCell(outcome, one, cells[0]!, name, wanted)
    : [
        ...ofCells(outcome, one, cells, name, wanted.settings['hover.places']),
        ...formula(outcome, one, cells[0]!, wanted),
        ...unsure(outcome, one, worstCell(outcome, one, cells), wanted),
        ...limits(outcome, one, worstCell(outcome, one, cells), wanted),
      ];
}

/** State and source; a reading says both at once. */
function standing(one: SlotOutcome, cell: number, files: Files): string {
  const origin = capital(originText(one, cell, 'measured', files));
  return one.states[cell] === 'measured' ? origin : `${stateText(one, cell)}\n${origin}`;
}

function ofCell(outcome: Outcome, one: SlotOutcome, cell: number, name: string, wanted: Wanted): Piece[] {
  const steps = viewSteps(outcome, one, cell);
  return [
    { is: 'head', name, rest: `= ${figureText(figureOf(outcome, one, cell, 'measured'))}` },
    { is: 'text', text: standing(one, cell, wanted.files) },
    ...(steps === '' ? [] : [{ is: 'text', text: steps } as const]),
    ...formula(outcome, one, cell, wanted),
    ...unsure(outcome, one, cell, wanted),
    ...limits(outcome, one, cell, wanted),
  ];
}

/** `specified 1.250 in → ordered 1.255 in → measured 1.2551 in`: each view that differs from the one before. */
function viewSteps(outcome: Outcome, one: SlotOutcome, cell: number): string {
  const steps: string[] = [];
  let last = '';
  for (const view of views) {
    const text = bareText(figureOf(outcome, one, cell, view));
    if (text === last || text === '—') continue;
    steps.push(`${viewLabels[view]} ${text}`);
    last = text;
  }
  return steps.length < 2 ? '' : steps.join(' → ');
}

function ofCells(
  outcome: Outcome,
  one: SlotOutcome,
  cells: readonly number[],
  name: string,
  mostRows: number,
): Piece[] {
  const figures = cells.map((cell) => figureText(figureOf(outcome, one, cell, 'measured')));
  const states = cells.map((cell) => one.states[cell] ?? 'missing');
  const alike = figures.every((figure) => figure === figures[0]);
  if (alike && states.every((state) => state === states[0]))
    return [
      { is: 'head', name, rest: `= ${figures[0]}, ${cells.length} alike` },
      { is: 'text', text: stateText(one, cells[0]!) },
    ];
  const judged = worstStates(outcome, one);
  const shown = cells.slice(0, mostRows);
  const columns = aligned(figures.slice(0, mostRows), 'point');
  const rows = table(
    shown.map((cell, at) => [
      cellsInWords(one.axes, [placesOf(one.axes, cell)]),
      columns[at]!,
      rowState(states[at]!, judged.get(cell)),
    ]),
    ['left', 'left', 'left'],
  );
  const more = cells.length > mostRows ? [`and ${cells.length - mostRows} more`] : [];
  return [
    { is: 'head', name, rest: `= ${span(one, cells, figures)}` },
    { is: 'figures', lines: [...rows, ...more] },
  ];
}

/** `1.2501 in to 1.2509 in`; how many there are, where they are no numbers. */
function span(one: SlotOutcome, cells: readonly number[], figures: readonly string[]): string {
  const value = one.views.measured;
  const data =
    value.is === 'numbers' && measureOf(one.slot.type) ? cells.map((cell) => value.tensor.data[cell] ?? NaN) : [];
  const known = data.filter((figure) => Number.isFinite(figure));
  if (known.length < 2) return `${cells.length} figures`;
  const textOf = (figure: number): string => figures[data.indexOf(figure)]!;
  return `${textOf(Math.min(...known))} to ${textOf(Math.max(...known))}`;
}

const worstFirst: readonly CheckState[] = ['out-of-limits', 'at-risk', 'accepted', 'cannot-tell'];

/** What the checks on the figure say of each cell, where they do not hold. */
function worstStates(outcome: Outcome, one: SlotOutcome): Map<number, CheckState> {
  const worst = new Map<number, CheckState>();
  const rank = (state: CheckState | undefined): number => (state === undefined ? Infinity : worstFirst.indexOf(state));
  for (const check of outcome.checks.filter(({ slot }) => slot?.id === one.slot.id))
    for (const [cell, state] of checkedCells(one, check))
      if (worstFirst.includes(state) && rank(state) < rank(worst.get(cell))) worst.set(cell, state);
  return worst;
}

function worstCell(outcome: Outcome, one: SlotOutcome, cells: readonly number[]): number {
  const judged = worstStates(outcome, one);
  const worst = worstFirst.map((state) => cells.find((cell) => judged.get(cell) === state));
  return worst.find((cell) => cell !== undefined) ?? cells[0]!;
}

function rowState(state: string, judged: CheckState | undefined): string {
  return judged === undefined ? words(state) : `${words(state)}, ${stateWords[judged]}`;
}

function formula(outcome: Outcome, one: SlotOutcome, cell: number, { files, settings }: Wanted): Piece[] {
  return settings['hover.formula'] ? asFigures(formulaLines(outcome, one, cell, 'measured', { files })) : [];
}

function unsure(outcome: Outcome, one: SlotOutcome, cell: number, { files, settings }: Wanted): Piece[] {
  return settings['hover.unsure'] ? unsurePieces(outcome, one, cell, files) : [];
}

function limits(outcome: Outcome, one: SlotOutcome, cell: number, { files, settings }: Wanted): Piece[] {
  return settings['hover.limits'] ? asFigures(limitLines(outcome, one, cell, files)) : [];
}

/** Lines of the explanation: a heading, and what stands under it. */
function asFigures(lines: readonly string[]): Piece[] {
  const [heading, ...under] = lines.filter((line) => line !== '');
  if (heading === undefined || under.length === 0) return [];
  return [
    { is: 'text', text: heading },
    { is: 'figures', lines: under.map((line) => line.replace(/^ {2}/, '')) },
  ];
}

function words(state: string): string {
  return state.replaceAll('-', ' ');
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
