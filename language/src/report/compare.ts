// Builds beside each other: what was changed, which checks differ for it, what follows. What is the same comes last.
import { resultFormat } from '@thou/shared/result/contract';
import type { CompareResult, ComparedCheck, ComparedFigure } from '@thou/shared/result/compare';
import type { CheckState, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellCount, held, nested } from './cells.ts';
import { pathWords, stateWords } from './check-words.ts';
import { bareText, figureOf } from './figures.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { aligned, table } from './table.ts';
import { inUnit, measureOf, numberText, numberTextsUncut, showingsIn } from './units.ts';
import type { Showing } from './units.ts';
import { displayUnit } from '@thou/shared/number/format';
import { lastDigit } from './writing.ts';

/** What a comparison needs of one build, so that the build itself may go: many are compared one after the other. */
export interface Condensed {
  readonly build: string;
  readonly figures: ReadonlyMap<string, CondensedFigure>;
  readonly checks: ReadonlyMap<string, CheckState>;
}

interface CondensedFigure {
  readonly isMeasure: boolean;
  readonly showing: Showing;
  readonly unit: string | null;
  readonly axes: SlotOutcome['axes'];
  /** One a cell, in SI; nothing where it is no measure. */
  readonly cells: readonly (number | null)[];
  readonly text: string;
  readonly given: boolean;
  readonly digit: number | null;
}

export function condensed(outcome: Outcome): Condensed {
  const digitOf = lastDigit(outcome);
  return {
    build: outcome.binding.name,
    figures: new Map(outcome.slots.map((one) => [one.slot.path, condensedFigure(outcome, one, digitOf(one))])),
    checks: new Map(outcome.checks.map(({ id, state }) => [id, state])),
  };
}

function condensedFigure(outcome: Outcome, one: SlotOutcome, digit: number | null): CondensedFigure {
  const [first] = showingsIn(outcome, one.slot);
  const showing = first!;
  const isMeasure = one.slot.type.is === 'measure';
  return {
    isMeasure,
    showing,
    unit: measureOf(one.slot.type) === null ? null : (showing.unit?.symbol ?? null),
    axes: one.axes,
    cells: isMeasure ? Array.from({ length: cellCount(one.axes) }, (_, cell) => siOf(one, cell)) : [],
    text: textOf(outcome, one),
    given: isGiven(one),
    digit,
  };
}

export function compareResult(builds: readonly Condensed[], thou: string): CompareResult {
  const paths = new Set(builds.flatMap(({ figures }) => [...figures.keys()]));
  const ids = new Set(builds.flatMap(({ checks }) => [...checks.keys()]));
  const figures = [...paths].flatMap((path) =>
    comparedFigure(
      path,
      builds.map((build) => build.figures.get(path) ?? null),
    ),
  );
  const checks = [...ids].map((id): ComparedCheck => {
    const states = builds.map((build) => build.checks.get(id) ?? null);
    return { id, differs: states.some((state) => state !== states[0]), states };
  });
  return {
    format: resultFormat,
    thou,
    builds: builds.map(({ build }) => build),
    figures: differentFirst(figures),
    checks: differentFirst(checks),
  };
}

function differentFirst<T extends { readonly differs: boolean }>(all: readonly T[]): T[] {
  return [...all.filter(({ differs }) => differs), ...all.filter(({ differs }) => !differs)];
}

/** Nothing where no build has a figure for it. */
function comparedFigure(path: string, found: readonly (CondensedFigure | null)[]): ComparedFigure[] {
  const first = found.find((one) => one !== null)!;
  const texts = found.map((one) => one?.text ?? '—');
  if (texts.every((text) => text === '—')) return [];
  const given = found.some((one) => one?.given === true);
  const isUnlike = !first.isMeasure && texts.some((text) => text !== texts[0]);
  return [
    {
      path,
      unit: first.unit,
      axes: first.axes.map(({ name }) => name),
      given,
      differs: isUnlike || found.some((one) => differ(first, one, given ? 0 : first.digit)),
      values: found.map((one) => (one === null ? null : valuesOf(one, first.showing))),
      texts,
    },
  ];
}

function isGiven(one: SlotOutcome): boolean {
  if (one.slot.sort !== 'property') return false;
  return one.states.some((state, cell) => {
    const layer = one.layerOf(cell, 'measured');
    return state !== 'missing' && layer !== null && layer !== 'formula' && layer !== 'default' && layer !== 'practice';
  });
}

/** By more than the last digit that is shown; given figures by anything at all. */
function differ(a: CondensedFigure, b: CondensedFigure | null, digit: number | null): boolean {
  if (a === b || !a.isMeasure) return false;
  if (b === null || a.cells.length !== b.cells.length) return true;
  return a.cells.some((one, cell) => {
    const other = b.cells[cell] ?? null;
    if (one === null || other === null) return one !== other;
    return Math.abs(one - other) > Math.max((digit ?? 0) * 0.999, 1e-12 * Math.abs(one));
  });
}

function siOf(one: SlotOutcome, cell: number): number | null {
  const content = held(one.views.measured, one.axes, cell);
  return content.is === 'number' ? content.value : null;
}

function valuesOf({ isMeasure, axes, cells }: CondensedFigure, showing: Showing): ComparedFigure['values'][number] {
  if (!isMeasure) return null;
  return nested(axes, (cell) => {
    const si = cells[cell] ?? null;
    return si === null ? null : inUnit(si, showing);
  });
}

/** `10.53..10.71`: least and greatest over its places. */
function textOf(outcome: Outcome, one: SlotOutcome): string {
  const count = cellCount(one.axes);
  if (count === 0) return '—';
  if (one.slot.type.is === 'measure') {
    const figures = Array.from({ length: count }, (_, cell) => siOf(one, cell)).filter((si) => si !== null);
    return figures.length === 0 ? '—' : spanText(figures, showingsIn(outcome, one.slot)[0]!, isGiven(one));
  }
  const texts = new Set(Array.from({ length: count }, (_, cell) => bareText(figureOf(outcome, one, cell, 'measured'))));
  return texts.size === 1 ? [...texts][0]! : `${texts.size} kinds`;
}

function spanText(figures: readonly number[], showing: Showing, uncut: boolean): string {
  const ends = [Math.min(...figures), Math.max(...figures)].map((si) => inUnit(si, showing));
  const [from, to] = uncut ? numberTextsUncut(ends, showing) : ends.map((end) => numberText(end, showing));
  const unit = showing.unit === null ? '' : ` ${displayUnit(showing.unit.symbol)}`;
  return from === to ? `${to}${unit}` : `${from}..${to}${unit}`;
}

export function compareText(result: CompareResult, all: boolean, style: Style = plainStyle): string {
  const { builds, figures, checks } = result;
  const different = figures.filter(({ differs }) => differs);
  const same = figures.filter(({ differs }) => !differs);
  const blocks = [
    block('What was changed', builds, rowsOf(different.filter(({ given }) => given)), style),
    block('Checks that differ', builds, checks.filter(({ differs }) => differs).map(checkRow), style),
    block('What follows', builds, rowsOf(different.filter(({ given }) => !given)), style),
    ...(all
      ? [
          block('The same in all: checks', builds, checks.filter(({ differs }) => !differs).map(checkRow), style),
          block('The same in all: figures', builds, rowsOf(same), style),
        ]
      : []),
  ].filter((lines) => lines.length > 0);
  const nothing = blocks.length === 0 ? [['Nothing differs.']] : [];
  const sameChecks = checks.filter(({ differs }) => !differs).length;
  const rest = all
    ? []
    : [[style.faint(`The same in all: ${same.length} figures and ${sameChecks} checks (--all shows them).`)]];
  const head = [style.title(builds.join(' beside '))];
  return `${[head, ...nothing, ...blocks, ...rest].map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function rowsOf(figures: readonly ComparedFigure[]): string[][] {
  return figures.map(({ path, texts }) => [pathWords(path), ...texts]);
}

function checkRow({ id, states }: ComparedCheck): string[] {
  const name = id.startsWith('expect ') ? `"${id}"` : pathWords(id);
  return [name, ...states.map((state) => (state === null ? '—' : stateWords[state as CheckState]))];
}

function block(title: string, builds: readonly string[], rows: readonly (readonly string[])[], style: Style): string[] {
  if (rows.length === 0) return [];
  const columns = builds.map((build, at) => {
    const texts = rows.map((row) => row[at + 1]!);
    return [build, ...aligned(texts, 'point')];
  });
  const laid = table(
    [
      ['', ...columns.map(([head]) => head!)],
      ...rows.map(([name], at) => [`  ${name}`, ...columns.map((one) => one[at + 1]!)]),
    ],
    ['left', ...builds.map(() => 'left' as const)],
  );
  const [head = '', ...body] = laid;
  return [style.title(title), style.faint(head), ...body];
}
