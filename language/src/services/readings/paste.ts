// A column or a block of figures from a spreadsheet as the list that belongs to the figure at the cursor. What does not fit its axes,
// or can be read in two ways, is refused with a reason: nothing is guessed.
import { pasteMethod, type PasteAsked, type PasteTold } from '@thou/shared/protocol-readings';
import { standardUnits, toSI, type Unit } from '@thou/shared/unit/unit';
import { blockRootOf, parseFile, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { withUnit } from '../../report/figures.ts';
import { listed, words } from '../../report/place.ts';
import { measureOf, showingsIn } from '../../report/units.ts';
import { styleOf } from '../../report/writing.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { applied, offsetOf } from '../code-actions/edit.ts';
import { tried } from '../code-actions/trial.ts';
import { request, type Feature } from '../feature.ts';
import { meaningAt } from '../meaning.ts';
import { toOffset } from '../positions.ts';
import type { Workspace } from '../workspace.ts';
import { isMostlyFigures, readingsOf, type Reading } from './foreign-figures.ts';
import { gridOf } from './grid.ts';
import { laidAlong } from './layout.ts';
import { givenRound, placeOfGiven, type FigurePlace } from './written-place.ts';

export const pasteFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<PasteAsked, PasteTold>({ method: pasteMethod }, ({ textDocument: { uri }, range, text }, { workspace }) => {
      const positions = workspace.positionsOf(uri);
      return pasted(workspace, uri, toOffset(positions, range.start), toOffset(positions, range.end), text);
    }),
  ],
};

/** Null where the clipboard is no block of figures, or the place takes no list: it is pasted as it is. */
export function pasted(
  workspace: Workspace,
  uri: string,
  start: number,
  end: number,
  clipboard: string,
): PasteTold | null {
  const source = workspace.source(uri);
  const grid = gridOf(clipboard);
  if (source === undefined || grid === null || !isMostlyFigures(grid) || workspace.isOfLibrary(uri)) return null;
  const hole = holeAt(source, start, end);
  const place = hole && figureAt(workspace, source, hole, start, end);
  if (!hole || !place) return null;
  const name = words(place.one.slot.name);
  const wide = place.free.filter(({ size }) => size > 1);
  if (wide.length === 0) return refused(`${name} is one figure: a single cell is due for it.`);
  if (wide.length > 2 || (hole.isInList && place.free.length > 1)) {
    const axes = listed(place.free.map((axis) => axis.name));
    return refused(`${name} goes along ${axes}: put its figures into a table and read it by from "….csv".`);
  }
  const laid = laidAlong(grid, wide);
  if ('problem' in laid) return refused(laid.problem);
  const read = readingsOf(laid.cells);
  if ('problem' in read) return refused(read.problem);
  const choice = chosen(place, read.readings, hole.unit, dueFor(workspace, uri, place));
  if ('problem' in choice) return refused(choice.problem);
  const { reading, unit, remark } = choice;
  const list = listText(reading, place);
  const needed = unit === null || hole.unit !== null ? '' : ` ${unit.symbol}`;
  const before = /[:\w]$/.test(source.text.slice(0, start)) && !hole.isInList ? ' ' : '';
  const after = hole.isTight ? ' ' : '';
  const written = `${before}${hole.isInList ? list.slice(1, -1) : list}${needed}${after}`;
  const objection = objectionTo(workspace, source, start, end, written);
  if (objection !== null) return refused(objection);
  const count = reading.figures.flat().filter((figure) => figure !== null).length;
  const along = listed(wide.map((axis) => words(axis.name)));
  const turned = laid.isTurned && wide.length > 1 ? ', rows and columns changed over' : '';
  return { text: written, title: `${count} figures along ${along}${turned}${remark}`, problem: null };
}

function refused(problem: string): PasteTold {
  return { text: null, title: '', problem };
}

/** Where a list may go: in the place of a value, or between the brackets of a list with nothing in it. */
interface Hole {
  readonly given: ast.Given;
  readonly isInList: boolean;
  /** The unit that stands there already. */
  readonly unit: string | null;
  /** A word follows without a blank. */
  readonly isTight: boolean;
}

/** Read with a 1 in the place of what is selected: what then holds the 1 tells what may stand there. */
function holeAt({ uri, text }: SourceFile, start: number, end: number): Hole | null {
  const at = start + 1;
  const tried = parseFile(uri, applied(text, [{ start, end, text: ' 1 ' }]));
  const given = givenRound(tried, at);
  const value = given?.value;
  if (!given || !value || given.step) return null;
  const base = offsetOf(tried, blockRootOf(given));
  const isTight = /^\w/.test(text.slice(end));
  if (value.$type === 'Quantity' && base + rangeOf(value).start === at)
    return value.margin === undefined ? { given, isInList: false, unit: value.unit ?? null, isTight } : null;
  const only = value.$type === 'List' && value.entries.length === 1 ? value.entries[0] : undefined;
  if (value.$type !== 'List' || only?.value.$type !== 'Quantity' || only.item) return null;
  if (base + rangeOf(only.value).start !== at || only.value.unit !== undefined) return null;
  return { given, isInList: true, unit: value.unit ?? null, isTight: false };
}

/** The same line is read once with one figure that fits: then its figure and its axes are known. */
function figureAt(
  workspace: Workspace,
  source: SourceFile,
  { given, isInList, unit }: Hole,
  start: number,
  end: number,
): FigurePlace | null {
  const base = offsetOf(source, source.blocks.findLast(({ offset }) => offset <= start)!.parsed);
  const last = given.path.steps.at(-1);
  const meaning = last && meaningAt(workspace, source.uri, base + rangeOf({ node: last, property: 'name' }).start);
  if (meaning?.is !== 'slot') return null;
  const { outcomes } = workspace.result(source.uri);
  const slot = outcomes.map(({ slots }) => slots.find((one) => one.slot.id === meaning.slot)).find((one) => one);
  if (!slot || measureOf(slot.slot.type) === null) return null;
  const own = unit === null ? (styleOf(outcomes[0]!, slot.slot.id, 0).unit?.symbol ?? '') : '';
  // the line itself says how many axes it leaves open: the deepest list that it takes tells
  for (let depth = slot.axes.length; depth >= 0; depth--) {
    const value = `${'[others: '.repeat(depth)}1${']'.repeat(depth)}`;
    const text = isInList ? (depth === 0 ? null : value.slice(1, -1)) : ` ${value} ${own} `;
    const found = text === null ? null : placeOfGiven(tried(workspace, source.uri, [{ start, end, text }]), given);
    if (found) return found;
  }
  return null;
}

type Choice =
  { readonly reading: Reading; readonly unit: Unit | null; readonly remark: string } | { readonly problem: string };

/** What comes near the figure as it is specified; without such a figure only what can be read in one way. */
function chosen(
  { outcome, one }: FigurePlace,
  readings: readonly Reading[],
  there: string | null,
  due: number | null,
): Choice {
  const [first] = readings as [Reading];
  const units = unitsFor(outcome, one, there, first.unit);
  if ('problem' in units) return units;
  const [usual = null, ...others] = units.units;
  const away = (reading: Reading, unit: Unit | null): number =>
    due === null ? Infinity : timesAway(reading, unit, due);
  const inAnother = others
    .flatMap((unit) => readings.map((reading) => ({ reading, unit })))
    .filter(({ reading, unit }) => away(reading, unit) < veryNear);
  const isNearAsUsual = readings.some((reading) => away(reading, usual) < farOff);
  if (due !== null && !isNearAsUsual && inAnother.length === 1)
    return {
      ...inAnother[0]!,
      remark: `, in ${inAnother[0]!.unit.symbol}${markWords(inAnother[0]!.reading, readings)}`,
    };
  const near = readings.filter((reading) => away(reading, usual) < betweenMarks);
  const plainly = due === null && !hasComma(readings) ? readings.find(({ mark }) => mark === '.') : undefined;
  const reading = near.length === 1 ? near[0] : readings.length === 1 ? first : plainly;
  if (reading === undefined) {
    const [a, b] = readings.map(({ figures }) => figures.flat().find((figure, at) => isOther(readings, figure, at)));
    return {
      problem: `The figures can be read in two ways, as ${a} or as ${b}: write them without signs between thousands.`,
    };
  }
  const [showing] = showingsIn(outcome, one.slot);
  const far = due !== null && away(reading, usual) > farOff ? `; far from ${withUnit(due, showing!)}` : '';
  return { reading, unit: usual, remark: markWords(reading, readings) + far };
}

/** How many times larger or smaller than the figure specified: another unit, and a sign between thousands, show in it. */
const veryNear = 1.5;
const farOff = 5;
const betweenMarks = 30;

function isOther(readings: readonly Reading[], figure: string | null, at: number): boolean {
  return figure !== null && readings.some(({ figures }) => figures.flat()[at] !== figure);
}

/** Between the two readings of `1,234` the one with a point has a thousand in it, that with a comma a part of one. */
function hasComma(readings: readonly Reading[]): boolean {
  const comma = readings.find(({ mark }) => mark === ',');
  return comma !== undefined && comma.figures.flat().some((figure) => figure?.includes('.'));
}

function unitsFor(
  outcome: Outcome,
  one: SlotOutcome,
  there: string | null,
  brought: string | null,
): { readonly units: readonly Unit[] } | { readonly problem: string } {
  const parsed = [there, brought].map((symbol) => (symbol === null ? null : standardUnits.parse(symbol)));
  const stranger = parsed.findIndex((one) => one !== null && !('unit' in one));
  if (stranger >= 0) return { problem: `"${[there, brought][stranger]}" behind the figures is no unit.` };
  const [own, cells] = parsed.map((one) => (one !== null && 'unit' in one ? one.unit : null));
  if (own && cells && own.factor !== cells.factor)
    return { problem: `The cells are in ${cells.symbol}, the text has ${own.symbol}: change one of them.` };
  if (own ?? cells) return { units: [(own ?? cells)!] };
  const style = styleOf(outcome, one.slot.id, 0).unit;
  const shown = showingsIn(outcome, one.slot).flatMap(({ unit }) => (unit === null ? [] : [unit]));
  const units = [...(style === null ? [] : [style]), ...shown.filter(({ factor }) => factor !== style?.factor)];
  return { units };
}

/** What is known of the figure without this line: the middle of its cells. */
function dueFor(workspace: Workspace, uri: string, { outcome, one }: FigurePlace): number | null {
  const before = workspace.result(uri).outcomes.find(({ binding }) => binding.name === outcome.binding.name);
  const value = before?.slots.find(({ slot }) => slot.path === one.slot.path)?.views.measured;
  if (value?.is !== 'numbers') return null;
  const known = [...value.tensor.data].filter((figure) => Number.isFinite(figure) && figure !== 0);
  return known.length > 0 ? middleOf(known) : null;
}

function middleOf(figures: readonly number[]): number {
  return figures.toSorted((a, b) => a - b)[Math.floor(figures.length / 2)]!;
}

function timesAway({ figures }: Reading, unit: Unit | null, due: number): number {
  const known = figures.flat().filter((figure) => figure !== null);
  if (known.length === 0) return Infinity;
  const middle = middleOf(known.map((figure) => (unit === null ? Number(figure) : toSI(Number(figure), unit))));
  const ratio = middle / due;
  return ratio > 0 ? Math.max(ratio, 1 / ratio) : Infinity;
}

function markWords({ mark }: Reading, readings: readonly Reading[]): string {
  return mark === ',' ? ', decimal comma' : readings.length > 1 ? ', decimal point' : '';
}

/** `[[1, 2], [3, _]]`: places of an axis with one place are brackets only. */
function listText({ figures }: Reading, { free }: FigurePlace): string {
  return bracketed(
    free,
    figures.flat().map((figure) => figure ?? '_'),
  );
}

function bracketed(axes: readonly { readonly size: number }[], cells: readonly string[]): string {
  const [axis, ...others] = axes;
  if (!axis) return cells[0] ?? '_';
  const each = cells.length / axis.size;
  const entries = Array.from({ length: axis.size }, (_, at) =>
    bracketed(others, cells.slice(at * each, (at + 1) * each)),
  );
  return `[${entries.join(', ')}]`;
}

/** What the language would object to in the line as it would then be. */
function objectionTo(
  workspace: Workspace,
  { uri }: SourceFile,
  start: number,
  end: number,
  text: string,
): string | null {
  const { problems } = tried(workspace, uri, [{ start, end, text }]);
  const wrong = problems.find(
    (one) => one.severity === 'error' && one.start <= start + text.length && one.end >= start,
  );
  return wrong?.message ?? null;
}
