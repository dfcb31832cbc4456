/**
 * A slot as it stands before its own machining and readings: default, practice, part, build and variant laid cell by
 * cell, the uppermost first, so that nothing is worked out that nobody sees.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import { Cells, lanesId, marksOf, sameAxes, sizeOf, uniform } from './cells.ts';
import type { Figure } from './figures.ts';
import type { Mask } from './masks.ts';
import type { Moment } from './moments.ts';
import { axesIn } from '../reads.ts';
import { settledAxes, shapeOf, Speaker } from './workings.ts';
import type { Workings } from './workings.ts';

export interface Laid {
  readonly value: Value;
  readonly sources: Int32Array | null;
}

export function specification(workings: Workings, slot: Slot, moment: Moment): Laid {
  const figures = workings.given.specified(slot.id);
  if (figures.length === 0) return fromFormula(workings, slot, moment);
  const axes = settledAxes(workings, slot);
  if (axes === null) return nothing(workings, slot);
  const cells = new Cells(shapeOf(slot), axes);
  const sources = new Int32Array(cells.cellCount).fill(Speaker.none);
  for (let index = figures.length - 1; index >= 0 && !cells.complete; index--) {
    const figure = figures[index]!;
    const mask = workings.maskOf(figure);
    if (mask !== null && !mask.some((one, cell) => one === 1 && !cells.has(cell))) continue;
    const value = workings.run(figure.source.value, moment, slot, figure);
    cells.lay(value, mask, markOf(figure, slot), (cell) => (sources[cell] = index));
  }
  if (!cells.complete && slot.formula !== null && countsHere(workings, slot, slot.formula, moment)) {
    const value = workings.run(slot.formula, moment, slot, null);
    cells.lay(value, null, asItCame, (cell) => (sources[cell] = Speaker.formula));
  }
  return { value: cells.value(), sources };
}

export const asItCame = (mark: number): number => mark;

/** Defaults are worth what they are made of; a figure that someone chose is specified, where there is a thing to measure. */
function markOf(figure: Figure, slot: Slot): (mark: number) => number {
  const { layer } = figure.source;
  if (!slot.measurable || layer === 'mount-default') return asItCame;
  return (mark) => (mark === Mark.absent || mark === Mark.missing ? mark : Mark.specified);
}

/** False while an axis that the expression runs over has no size. */
export function sized(workings: Workings, expr: Expr): boolean {
  return axesIn(expr).every((id) => workings.schema.axes[id]!.open || workings.axes.known(id) !== null);
}

function countsHere(workings: Workings, slot: Slot, formula: Expr, moment: Moment): boolean {
  return sized(workings, formula) && workings.formulaCounts(slot, moment);
}

function fromFormula(workings: Workings, slot: Slot, moment: Moment): Laid {
  if (slot.formula === null || !countsHere(workings, slot, slot.formula, moment)) return nothing(workings, slot);
  const value = workings.run(slot.formula, moment, slot, null);
  const axes = slot.axes.map((id) => axisOf(workings, id, value));
  if (axes.includes(null)) return nothing(workings, slot);
  return laidAlong(value, slot, axes as readonly Axis[], Speaker.formula);
}

/** One value laid along all the slot's axes; the value itself where it lies there already. */
export function laidAlong(value: Value, slot: Slot, axes: readonly Axis[], speaker: number, mask: Mask = null): Laid {
  const sources = new Int32Array(sizeOf(axes)).fill(Speaker.none);
  const shape = shapeOf(slot);
  if (mask === null && value.is === shape && liesAlong(value, axes)) {
    const marks = marksOf(value, axes);
    sources.forEach((_, cell) => {
      if (marks[cell] !== Mark.missing) sources[cell] = speaker;
    });
    return { value, sources };
  }
  const cells = new Cells(shape, axes);
  cells.lay(value, mask, asItCame, (cell) => (sources[cell] = speaker));
  return { value: cells.value(), sources };
}

/** Lanes may stand anywhere among the axes: whoever reads a value finds them by their number. */
function liesAlong(value: Value, axes: readonly Axis[]): boolean {
  const lies = (own: readonly Axis[]): boolean =>
    sameAxes(
      own.filter((axis) => axis.id !== lanesId),
      axes,
    );
  if (value.is === 'curves') return lies(value.axes);
  if (value.is === 'limits') return lies(value.low.axes) && sameAxes(value.low.axes, value.high.axes);
  return lies(value.tensor.axes) && (value.band === null || sameAxes(value.band.low.axes, value.tensor.axes));
}

/** A slot's axis; an open one comes with the value. */
function axisOf(workings: Workings, id: number, value: Value): Axis | null {
  if (!workings.schema.axes[id]!.open) return workings.axes.known(id);
  const axes = value.is === 'numbers' ? value.tensor.axes : value.is === 'limits' ? value.low.axes : value.axes;
  return axes.find((axis) => axis.id === id) ?? null;
}

/** Missing in every cell. */
export function nothing(workings: Workings, slot: Slot, mark: number = Mark.missing): Laid {
  const axes = slot.axes.map((id) => workings.axes.axis(id));
  return { value: uniform(shapeOf(slot), axes, mark), sources: null };
}
