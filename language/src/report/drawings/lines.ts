// Figures along an axis, curves over their keys, and pairs of figures, as charts of lines.
import type { Chart, ChartLine } from '@thou/shared/drawing/chart';
import { fixed } from '@thou/shared/number/format';
import { standardUnits, type Unit } from '@thou/shared/unit/unit';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { cellCount, cellsInWords, held, placesOf } from '../cells.ts';
import { curveShowings, unitText } from '../figures.ts';
import { words } from '../place.ts';
import { alikeTogether, commonLimits } from '../sweep.ts';
import { inUnit } from '../units.ts';
import { anyFigure, axisOf, figureAt, runsAlong, showingOf, slotAt } from './figures.ts';
import { signed, type LinesPlan, type PairsPlan } from './plan.ts';

export function linesChart(outcome: Outcome, plan: LinesPlan): Chart | null {
  const chart = plan.along ? alongChart(outcome, plan, plan.along) : curveChart(outcome, plan);
  return chart && chart.lines.some(({ figures }) => figures.some((figure) => figure !== null)) ? chart : null;
}

export function unitNamed(symbol: string): Unit | null {
  return standardUnits.get(symbol) ?? null;
}

function alongChart(outcome: Outcome, plan: LinesPlan, along: NonNullable<LinesPlan['along']>): Chart | null {
  const found = plan.figures.flatMap(({ path, name, unsure }) => {
    const one = slotAt(outcome, path);
    const runs = one && runsAlong(one, along.axis);
    return one && runs ? [{ one, runs, name, unsure: unsure === undefined ? null : slotAt(outcome, unsure) }] : [];
  });
  const [first] = found;
  if (!first) return null;
  const across = { unit: unitNamed(along.unit), decimals: along.decimals };
  const lines = found.flatMap(({ one, runs: { runs }, name, unsure }) => {
    const showing = showingOf(outcome, one);
    const groups = alikeTogether(
      runs.map((_, at) => at),
      runs.map(({ si }) => si),
    );
    return groups.map((group): ChartLine => {
      const { cells, si } = runs[group[0]!]!;
      const where =
        groups.length === 1
          ? ''
          : whereOf(
              one,
              along.axis,
              group.map((at) => runs[at]!.cells[0]!),
            );
      return {
        name: [found.length === 1 ? '' : (name ?? words(one.slot.name)), where].filter(Boolean).join(' '),
        figures: [...si].map((each) => (Number.isFinite(each) ? inUnit(each, showing) : null)),
        ...(unsure
          ? {
              unsure: cells.map((cell) => {
                const off = figureAt(unsure, cell);
                return off === null ? null : Math.abs(inUnit(off, showing, 'difference'));
              }),
            }
          : {}),
      };
    });
  });
  const at = [...first.runs.axis.coordinates].map((si) => inUnit(si, across));
  return finished(outcome, plan, first.one, {
    across: { name: words(along.axis), unit: along.unit, decimals: along.decimals },
    at,
    lines,
  });
}

function whereOf({ axes }: SlotOutcome, axisName: string, cells: readonly number[]): string {
  const others = axes.filter(({ name }) => name !== axisName);
  return cellsInWords(
    others,
    cells.map((cell) => placesOf(axes, cell).filter((_, at) => axes[at]!.name !== axisName)),
  );
}

/** Of a curve: the points that somebody gave. */
function curveChart(outcome: Outcome, plan: LinesPlan): Chart | null {
  const one = slotAt(outcome, plan.figures[0]?.path ?? '');
  if (one?.slot.type.is !== 'curve') return null;
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const content = held(one.views.measured, one.axes, cell);
    if (content.is !== 'curve' || content.curve.keys.length !== 1) continue;
    const { key, value } = curveShowings(outcome, one, cell, 'measured');
    const at = [...content.curve.keys[0]!].map((si) => inUnit(si, key));
    const up = axisOf(outcome, one);
    const { against } = one.slot.type;
    return {
      ...finished(outcome, plan, one, {
        across: { name: against.length === 1 ? 'at' : '', unit: unitText(key), decimals: key.decimals ?? 3 },
        at,
        lines: [{ name: '', figures: [...content.curve.values].map((si) => inUnit(si, value)) }],
      }),
      up: { ...up, unit: unitText(value), decimals: value.decimals ?? 2 },
    };
  }
  return null;
}

type Laid = Pick<Chart, 'across' | 'at' | 'lines'>;

function finished(outcome: Outcome, plan: LinesPlan, one: SlotOutcome, laid: Laid): Chart {
  const showing = showingOf(outcome, one);
  const limits = commonLimits(outcome, one);
  const declared = axisOf(outcome, one);
  const up = plan.figures.length > 1 ? { ...declared, name: plan.title.toLowerCase() } : declared;
  const open = (si: number): number | null => (Number.isFinite(si) ? inUnit(si, showing) : null);
  const named = (list: LinesPlan['marks']): { at: number; name: string }[] =>
    (list ?? []).flatMap(({ path, name }) => {
      const figure = anyFigure(outcome, path);
      return figure ? [{ at: figure.shown, name }] : [];
    });
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: described(plan.description, laid.lines, up),
    ...laid,
    up,
    limits: limits && { low: open(limits.low), high: open(limits.high), name: 'limits' },
    marks: named(plan.marks),
    levels: named(plan.levels),
    points: plan.least === undefined ? [] : leastOf(laid, plan.least, up.decimals),
  };
}

/** The least of all lines, with the name of its line. */
function leastOf({ lines, at }: Laid, word: string, decimals: number): NonNullable<Chart['points']> {
  const all = lines.flatMap(({ name, figures }) =>
    figures.flatMap((figure, place) => (figure === null ? [] : [{ at: at[place]!, figure, name }])),
  );
  const [first, ...others] = all;
  if (!first) return [];
  const least = others.reduce((low, one) => (one.figure < low.figure ? one : low), first);
  return [{ ...least, name: [least.name, word, fixed(least.figure, decimals)].filter(Boolean).join(' ') }];
}

function described(text: string, lines: readonly ChartLine[], up: Chart['up']): string {
  const all = lines.flatMap(({ figures }) => figures.filter((figure) => figure !== null));
  if (all.length === 0) return text;
  const [least, most] = all.reduce(
    ([low, high], one) => [Math.min(low, one), Math.max(high, one)],
    [Infinity, -Infinity],
  );
  return (
    `${text} It lies between ${fixed(least, up.decimals)} and ${fixed(most, up.decimals)} ${up.unit}`.trimEnd() + '.'
  );
}

export function pairsChart(outcome: Outcome, plan: PairsPlan): Chart | null {
  const points = plan.pairs.flatMap(({ across, up, name }) => {
    const [x, y] = [anyFigure(outcome, across), anyFigure(outcome, up)];
    return x && y ? [{ x, y, name }] : [];
  });
  const [first] = points;
  if (!first || points.length < 2) return null;
  const rising = [...points].sort((a, b) => a.x.shown - b.x.shown);
  const up = axisOf(outcome, first.y.one);
  const lines = [{ name: '', figures: rising.map(({ y }) => y.shown) }];
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: described(plan.description, lines, up),
    across: axisOf(outcome, first.x.one),
    up,
    at: rising.map(({ x }) => x.shown),
    lines,
    limits: null,
    points: rising.map(({ x, y, name }) => ({ at: x.shown, figure: y.shown, name })),
    marks: (plan.marks ?? []).flatMap(({ path, name }) => {
      const figure = anyFigure(outcome, signed(path).path);
      return figure ? [{ at: figure.shown, name }] : [];
    }),
  };
}
