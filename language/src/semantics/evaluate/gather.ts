/** `x[i]`: an axis replaced by those of an index; also the same cells under a twin axis, the place of each cell, coordinates. */
import type { AstNode } from 'langium';
import type { Coordinate, Gather, Place, Retitle } from '../ir.ts';
import type { AxisId } from '../types/type.ts';
import {
  axesOfAll,
  expand,
  expandMarks,
  expandValue,
  mapBetween,
  moveCells,
  stridesOf,
  unionAxes,
  weighed,
} from './broadcast.ts';
import type { Frame } from './frame.ts';
import { refinementOf } from './refined.ts';
import { cellsAlong, numbers } from './tensor.ts';
import type { Numbers, Tensor, Value } from './value.ts';

export function evaluateGather(expr: Gather, frame: Frame): Value {
  const of = frame.settled([expr.axis]).value(expr.of);
  return gather(of, expr.axis, frame.tensor(expr.index), expr, frame);
}

/** Places count from 0; one off the axis is missing. Axes that value and index share combine cell by cell. */
export function gather(
  of: Value,
  axisId: AxisId,
  index: Tensor,
  expr: { readonly at: AstNode | null },
  frame: Frame,
): Value {
  const value = of.is === 'limits' ? expandValue(of, axesOfAll(of)) : of;
  const own = axesOfAll(value);
  const axis = own.find(({ id }) => id === axisId);
  const rest = axis === undefined ? own : own.filter((one) => one !== axis);
  const axes = unionAxes(rest, index.axes);
  const marks = expandMarks(index.mark, index.axes, axes);
  if (axis === undefined) return weighed(expandValue(value, axes), marks);
  const places = expand(index, axes).data;
  // at the first place of the axis that goes, also where the index runs along that very axis
  const base = mapBetween(
    own.map((one) => (one === axis ? { ...one } : one)),
    axes,
  );
  const stride = stridesOf(own, [axis])[0]!;
  const sources = new Int32Array(cellsAlong(axes));
  let outside = false;
  for (let cell = 0; cell < sources.length; cell++) {
    const place = places[cell]!;
    const there = place >= 0 && place < axis.size;
    if (!there && !Number.isNaN(place)) outside = true;
    sources[cell] = there ? base[cell]! + Math.round(place) * stride : -1;
  }
  if (outside) frame.missing(`there is no such place on ${axis.name}`, expr.at);
  return weighed(moveCells(value, axes, sources), marks);
}

/** A twin has as many places as its axis; where its cells already run along the twin, they combine place by place. */
export function evaluateRetitle(expr: Retitle, frame: Frame): Value {
  const value = frame.settled([expr.from]).value(expr.of);
  return gather(value, expr.from, placesOf(expr.to, frame), expr, frame);
}

export function evaluatePlace(expr: Place, frame: Frame): Numbers {
  return numbers(placesOf(expr.axis, frame));
}

/** Between samples of an axis there are no places. */
function placesOf(id: AxisId, frame: Frame): Tensor {
  const here = frame.axis(id);
  const refinement = refinementOf(here);
  if (refinement !== null) refinement.needsPlaces = true;
  const axis = refinement?.settled ?? here;
  return { axes: [axis], data: Float64Array.from({ length: axis.size }, (_, place) => place), mark: null };
}

export function evaluateCoordinate(expr: Coordinate, frame: Frame): Value {
  if (expr.of === null) return numbers(frame.context.coordinates(expr.axis));
  const whole = frame.settled([expr.axis]).context.coordinates(expr.axis);
  return gather(numbers(whole), expr.axis, frame.tensor(expr.of), expr, frame);
}
