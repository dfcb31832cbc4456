// One figure against another as a chart, in the units in which both are shown. Computes nothing but the change of unit.
import type { Chart } from '@thou/shared/drawing/chart';
import { tableOf } from '@thou/shared/drawing/chart';
import { displayUnit } from '@thou/shared/number/format';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { Target } from '../semantics/solve/targets.ts';
import { address, cellsInWords, placesOf } from './cells.ts';
import { pathWords } from './check-words.ts';
import { limitsText } from './figures.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { paragraph, table } from './table.ts';
import { inUnit, numberText, showingsIn } from './units.ts';
import type { Showing } from './units.ts';

/** `cells`: of the figure looked at; `lines`: one a cell, in SI. */
export function sweepChart(
  outcome: Outcome,
  one: SlotOutcome,
  cells: readonly number[],
  target: Target,
  sizes: readonly number[],
  lines: readonly Float64Array[],
): Chart {
  const [up] = showingsIn(outcome, one.slot);
  const [across] = showingsIn(outcome, target.slot);
  const groups = alikeTogether(cells, lines);
  const names = groups.map((group) =>
    groups.length === 1
      ? ''
      : cellsInWords(
          one.axes,
          group.map((cell) => placesOf(one.axes, cell)),
        ),
  );
  const figure = (si: number): number | null => (Number.isFinite(si) ? inUnit(si, up!) : null);
  const limits = cells.length === 0 ? null : commonLimits(outcome, one);
  const [name, other] = [pathWords(one.slot.path), pathWords(target.slot.path)];
  return {
    title: `${name} against ${other}, ${outcome.binding.name}`,
    description: description(outcome, name, other, groups, lines, limits, up!),
    across: { name: other, unit: unitOf(across!), decimals: finer(across!, sizes) },
    up: { name, unit: unitOf(up!), decimals: up!.decimals ?? 4 },
    at: sizes.map((si) => inUnit(si, across!)),
    lines: groups.map((group, at) => ({ name: names[at]!, figures: [...lines[group[0]!]!].map(figure) })),
    limits: limits && {
      low: Number.isFinite(limits.low) ? inUnit(limits.low, up!) : null,
      high: Number.isFinite(limits.high) ? inUnit(limits.high, up!) : null,
      name: 'limits',
    },
    marks: nowMarks(target, across!, outcome),
  };
}

/** Places whose lines are the same line. */
export function alikeTogether(cells: readonly number[], lines: readonly Float64Array[]): number[][] {
  const groups: number[][] = [];
  for (const cell of cells) {
    const known = groups.find(([first]) =>
      lines[first!]!.every((figure, at) => Math.abs(figure - lines[cell]![at]!) <= 1e-12 * Math.abs(figure)),
    );
    if (known === undefined) groups.push([cell]);
    else known.push(cell);
  }
  return groups;
}

interface Ends {
  readonly low: number;
  readonly high: number;
}

/** Of the first check on the figure whose limits are the same everywhere. */
export function commonLimits(outcome: Outcome, { slot }: SlotOutcome): Ends | null {
  for (const check of outcome.checks) {
    if (check.slot?.id !== slot.id || check.kind === 'to-size' || check.cells.length === 0) continue;
    const [first] = check.cells;
    const alike = check.cells.every(({ low, high }) => low === first!.low && high === first!.high);
    if (alike && (first!.low !== null || first!.high !== null))
      return { low: first!.low ?? -Infinity, high: first!.high ?? Infinity };
  }
  return null;
}

function description(
  outcome: Outcome,
  name: string,
  other: string,
  groups: readonly (readonly number[])[],
  lines: readonly Float64Array[],
  limits: Ends | null,
  showing: Showing,
): string {
  const figures = groups.flatMap(([cell]) => [...lines[cell!]!].filter(Number.isFinite));
  if (figures.length === 0) return `${name} has no figure anywhere in this range of ${other}.`;
  const [least, most] = [Math.min(...figures), Math.max(...figures)];
  const span = `${name} goes from ${numberText(inUnit(least, showing), showing)} to ${numberText(inUnit(most, showing), showing)} ${unitOf(showing)}`;
  const bounds =
    limits === null ? '' : ` Its limits are ${limitsText(limits.low, limits.high, showing)} ${unitOf(showing)}.`;
  return `In ${outcome.binding.name}, ${span.trimEnd()} as ${other} changes and nothing else does.${bounds}`;
}

function unitOf({ unit }: Showing): string {
  return unit === null ? '' : displayUnit(unit.symbol);
}

/** Decimals that tell the sizes apart. */
function finer(showing: Showing, sizes: readonly number[]): number {
  const step = Math.abs(inUnit(sizes[1]!, showing) - inUnit(sizes[0]!, showing));
  const needed = step > 0 ? Math.ceil(-Math.log10(step) - 1e-9) : 0;
  return Math.max(showing.decimals ?? 0, Math.min(9, needed + 1));
}

function nowMarks({ slot, axes, from }: Target, showing: Showing, { binding }: Outcome): Chart['marks'] {
  const byFigure = new Map<number, number>();
  for (const [cell, si] of from) if (!byFigure.has(si)) byFigure.set(si, cell);
  const marks = [...byFigure].map(([si, cell]) => ({
    at: inUnit(si, showing),
    name: byFigure.size === 1 ? 'now' : `now, ${address(binding.schema, slot, axes, placesOf(axes, cell))}`,
  }));
  return marks.length > 3 ? [] : marks;
}

/** A figure so near to its limit stands on it. */
const touching = 1e-9;

export function sweepText(chart: Chart, style: Style = plainStyle): string {
  const { heads, rows } = tableOf(chart);
  const { limits, up, lines } = chart;
  const inside = (row: number): boolean =>
    limits !== null &&
    lines.every(({ figures }) => {
      const figure = figures[row] ?? null;
      const within = (limit: number | null): number => touching * Math.abs(limit ?? 0);
      return (
        figure !== null &&
        figure >= (limits.low ?? -Infinity) - within(limits.low) &&
        figure <= (limits.high ?? Infinity) + within(limits.high)
      );
    });
  const judged = limits === null ? [] : ['', ...rows.map((_, row) => (inside(row) ? '' : '!'))];
  const laid = table(
    [heads, ...rows].map((row, at) => (limits === null ? [...row] : [...row, judged[at]!])),
    [...heads.map(() => 'right' as const), ...(limits === null ? [] : ['left' as const])],
  );
  const note = limits === null || !judged.includes('!') ? [] : [`Rows marked ! are outside the limits of ${up.name}.`];
  const [head = '', ...body] = laid;
  return [
    style.title(chart.title),
    ...paragraph('', chart.description),
    ...note,
    '',
    style.faint(head),
    ...body,
    '',
  ].join('\n');
}
