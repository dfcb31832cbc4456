// Figures along an axis, curves over their keys, and pairs of figures, as charts of lines.
import type { Chart, ChartLine } from '@thou/shared/drawing/chart';
import { fixed } from '@thou/shared/number/format';
import { standardUnits, type Unit } from '@thou/shared/unit/unit';
import type { Curve } from '../../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { cellCount, cellsInWords, held, placesOf } from '../cells.ts';
import { curveShowings, unitText } from '../figures.ts';
import { words } from '../place.ts';
import { alikeTogether, commonLimits } from '../sweep.ts';
import { differenceText, inUnit, type Showing } from '../units.ts';
import { anyFigure, axisOf, figureAt, runsAlong, showingOf, slotAt } from './figures.ts';
import { signed, type LinesPlan, type PairsPlan } from './plan.ts';

export function linesChart(outcome: Outcome, plan: LinesPlan): Chart | null {
  const chart = plan.along ? alongChart(outcome, plan, plan.along) : curveChart(outcome, plan);
  const drawn = chart?.lines.some(({ figures }) => figures.some((figure) => figure !== null)) ?? false;
  return drawn ? chart : saidInstead(outcome, plan);
}

/** Where figures cannot be had, what would bring them. */
function saidInstead(outcome: Outcome, { title, instead }: LinesPlan): Chart | null {
  const figure = instead && anyFigure(outcome, instead.path);
  if (!figure) return null;
  const showing = showingOf(outcome, figure.one);
  const note = `${instead.words} ${[differenceText(figure.shown, showing), unitText(showing)].filter(Boolean).join(' ')}.`;
  const none = { name: '', unit: '', decimals: 0 };
  const nothing = { across: none, up: none, at: [], lines: [], limits: null, marks: [] };
  return { title: `${title}, ${outcome.binding.name}`, description: note, ...nothing, note };
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
    const all = alikeTogether(
      runs.map((_, at) => at),
      runs.map(({ si }) => si),
    );
    const groups = plan.only === 'lowest' ? lowest(all, (at) => runs[at]!.si) : all;
    return groups.map((group): ChartLine => {
      const { cells, si } = runs[group[0]!]!;
      const where =
        all.length === 1
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
    ...between(along, at, lines),
  });
}

function lowest(groups: readonly number[][], figuresOf: (at: number) => Float64Array): number[][] {
  const least = (group: readonly number[]): number =>
    figuresOf(group[0]!).reduce((low, one) => (one < low ? one : low), Infinity);
  return [...groups].sort((a, b) => least(a) - least(b)).slice(0, 1);
}

/** Only the stretch that the plan asks for. */
function between(
  { from = -Infinity, to = Infinity }: NonNullable<LinesPlan['along']>,
  at: readonly number[],
  lines: readonly ChartLine[],
): Pick<Chart, 'at' | 'lines'> {
  // a unit changed twice is off by a last bit
  const inside = <T>(list: readonly T[]): T[] =>
    list.filter((_, place) => at[place]! >= from - 1e-9 && at[place]! <= to + 1e-9);
  return {
    at: inside(at),
    lines: lines.map(({ name, figures, unsure }) => ({
      name,
      figures: inside(figures),
      ...(unsure ? { unsure: inside(unsure) } : {}),
    })),
  };
}

function whereOf({ axes }: SlotOutcome, axisName: string, cells: readonly number[]): string {
  const others = axes.filter(({ name }) => name !== axisName);
  return cellsInWords(
    others,
    cells.map((cell) => placesOf(axes, cell).filter((_, at) => axes[at]!.name !== axisName)),
  );
}

/** Of curves: their points, over the keys of the first; one with other keys is left out. */
function curveChart(outcome: Outcome, plan: LinesPlan): Chart | null {
  const found = plan.figures.flatMap((figure) => {
    const curve = firstCurve(outcome, figure.path);
    return curve ? [{ ...figure, ...curve }] : [];
  });
  const [first] = found;
  if (!first || found.length < plan.figures.length) return null;
  const { key, value } = curveShowings(outcome, first.one, first.cell, 'measured');
  const [keys] = first.curve.keys;
  const lines = found
    .filter(({ curve }) => curve.keys[0]!.every((si, place) => Math.abs(si - keys![place]!) < 1e-12))
    .map(({ curve, name, unsure }): ChartLine => {
      const off = unsure === undefined ? null : anyFigure(outcome, unsure);
      return {
        name: found.length === 1 ? '' : (name ?? ''),
        figures: [...curve.values].map((si) => inUnit(si, value)),
        ...(off ? { unsure: [...curve.values].map(() => Math.abs(inUnit(off.si, value, 'difference'))) } : {}),
      };
    });
  const up = { ...axisOf(outcome, first.one), unit: unitText(value), decimals: value.decimals ?? 2 };
  const laid = finished(outcome, plan, first.one, {
    across: { name: plan.across ?? 'at', unit: unitText(key), decimals: key.decimals ?? 3 },
    at: [...keys!].map((si) => inUnit(si, key)),
    lines,
  });
  return { ...laid, up: found.length > 1 ? { ...up, name: laid.up.name } : up };
}

function firstCurve(outcome: Outcome, path: string): { one: SlotOutcome; cell: number; curve: Curve } | null {
  const one = slotAt(outcome, path);
  if (one?.slot.type.is !== 'curve') return null;
  for (let cell = 0; cell < cellCount(one.axes); cell++) {
    const content = held(one.views.measured, one.axes, cell);
    if (content.is === 'curve' && content.curve.keys.length === 1) return { one, cell, curve: content.curve };
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
    levels: [...named(plan.levels), ...limitLevels(outcome, plan.levels ?? [], showing)],
    points: leastOf(laid, plan, up.decimals),
  };
}

/** Limits among the levels: each end that is not open. */
function limitLevels(
  outcome: Outcome,
  levels: NonNullable<LinesPlan['levels']>,
  showing: Showing,
): NonNullable<Chart['levels']> {
  return levels.flatMap(({ path, name }) => {
    const one = slotAt(outcome, path);
    const limits = one && held(one.views.measured, one.axes, 0);
    if (limits?.is !== 'limits') return [];
    return [limits.low, limits.high].filter(Number.isFinite).map((si) => ({ at: inUnit(si, showing), name }));
  });
}

/** The least of the plan's lines: of each, where only the lowest of each figure is drawn, else of all together. */
function leastOf(
  { lines, at }: Laid,
  { least: word, only }: LinesPlan,
  decimals: number,
): NonNullable<Chart['points']> {
  if (word === undefined) return [];
  const each = lines.flatMap(({ name, figures }) => {
    const [first, ...others] = figures.flatMap((figure, place) =>
      figure === null ? [] : [{ at: at[place]!, figure, name }],
    );
    return first ? [others.reduce((low, one) => (one.figure < low.figure ? one : low), first)] : [];
  });
  const lowestOfAll = [...each].sort((a, b) => a.figure - b.figure).slice(0, 1);
  return (only === 'lowest' ? each : lowestOfAll).map((one) => ({
    ...one,
    name: [one.name, word, fixed(one.figure, decimals)].filter(Boolean).join(' '),
  }));
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
