/** Curves in expressions: written out, made from cells, read, changed, looked through. */
import type { CurveApply, CurveCall, CurveOf, CurveOver } from '../../ir.ts';
import { expand, expandMarks, mapBetween, unionAxes, unionOf } from '../broadcast.ts';
import type { Frame } from '../frame.ts';
import { cellsAlong, isCurves, markAt, noAxes, numbers, tidyMarks, worse } from '../tensor.ts';
import { Mark } from '../value.ts';
import type { Curve, Curves, Numbers, Tensor, Value } from '../value.ts';
import { localQuadratics } from '../smoothing.ts';
import { crossingOf, extremeOf, readCurve, readTable } from './read.ts';

const written = new WeakMap<CurveOf, Curves>();

/** A curve of plain figures is made once. */
export function evaluateCurve(expr: CurveOf, frame: Frame): Curves {
  const plain = [...expr.keys.flat(), ...expr.values].every(({ op }) => op === 'constant');
  const known = plain ? written.get(expr) : undefined;
  if (known) return known;
  const keys = expr.keys.map((one) => one.map((key) => frame.tensor(key)));
  const values = expr.values.map((value) => frame.tensor(value));
  const made = curvesFrom(keys, values, expr, frame);
  if (plain) written.set(expr, made);
  return made;
}

function curvesFrom(
  keys: readonly (readonly Tensor[])[],
  values: readonly Tensor[],
  expr: CurveOf,
  frame: Frame,
): Curves {
  const all = [...keys.flat(), ...values];
  const axes = unionOf(all.map((tensor) => tensor.axes));
  const cells = cellsAlong(axes);
  const mark = all.reduce<Uint8Array | null>(
    (worst, tensor) => worse(worst, expandMarks(tensor.mark, tensor.axes, axes)),
    null,
  );
  const wide = (tensors: readonly Tensor[]): Float64Array[] => tensors.map((tensor) => expand(tensor, axes).data);
  const [allKeys, allValues] = [keys.map(wide), wide(values)];
  const marks = new Uint8Array(cells);
  const curves = Array.from({ length: cells }, (_, cell): Curve | null => {
    marks[cell] = markAt(mark, cell);
    if (marks[cell]! >= Mark.missing) return null;
    const own = allKeys.map((one) => Float64Array.from(one, (data) => data[cell]!));
    const curve = curveThrough(
      own,
      Float64Array.from(allValues, (data) => data[cell]!),
    );
    if (curve === null) marks[cell] = Mark.missing;
    return curve;
  });
  return told({ is: 'curves', axes, curves, mark: tidyMarks(marks) }, mark, expr, frame);
}

/** Null where the keys do not rise, or the figures are not as many. */
function curveThrough(keys: readonly Float64Array[], values: Float64Array): Curve | null {
  const due = keys.reduce((count, one) => count * one.length, 1);
  const rises = keys.every((one) => one.length > 0 && one.every((key, at) => at === 0 || key > one[at - 1]!));
  return rises && values.length === due ? { keys, values, kind: null, clamped: false, derivative: 0 } : null;
}

function told(curves: Curves, before: Uint8Array | null, expr: CurveOf | CurveOver, frame: Frame): Curves {
  const lost = curves.curves.some((curve, cell) => curve === null && markAt(before, cell) < Mark.missing);
  if (lost) frame.missing('the keys of the curve do not rise', expr.at);
  return curves;
}

/** From the cells along an axis; absent ones are left out. */
export function evaluateCurveOver(expr: CurveOver, frame: Frame): Curves {
  const inside = frame.settled([expr.axis]);
  const [keys, values] = [inside.tensor(expr.keys), inside.tensor(expr.values)];
  const present = unionAxes(keys.axes, values.axes);
  const axis = present.find(({ id }) => id === expr.axis) ?? inside.axis(expr.axis);
  const axes = present.filter((one) => one !== axis);
  const all = [...axes, axis];
  const [x, y] = [expand(keys, all), expand(values, all)];
  const mark = worse(x.mark, y.mark);
  const cells = cellsAlong(axes);
  const marks = new Uint8Array(cells);
  const worst = new Uint8Array(cells);
  const curves = Array.from({ length: cells }, (_, cell): Curve | null => {
    const there = Array.from({ length: axis.size }, (_, place) => cell * axis.size + place).filter(
      (at) => markAt(mark, at) !== Mark.absent,
    );
    worst[cell] = there.reduce(
      (most, at) => Math.max(most, markAt(mark, at)),
      there.length === 0 ? Mark.absent : Mark.exact,
    );
    marks[cell] = worst[cell]!;
    if (worst[cell]! >= Mark.missing) return null;
    const curve = curveThrough(
      [Float64Array.from(there, (at) => x.data[at]!)],
      Float64Array.from(there, (at) => y.data[at]!),
    );
    if (curve === null) marks[cell] = Mark.missing;
    return curve;
  });
  return told({ is: 'curves', axes, curves, mark: tidyMarks(marks) }, worst, expr, frame);
}

function curvesOf(value: Value): Curves {
  return isCurves(value) ? value : { is: 'curves', axes: noAxes, curves: [null], mark: Uint8Array.of(Mark.missing) };
}

export function evaluateCurveCall(expr: CurveCall, frame: Frame): Numbers {
  const of = curvesOf(frame.value(expr.curve));
  const args = expr.args.map((arg) => frame.tensor(arg));
  const axes = unionOf([...args.map((arg) => arg.axes), of.axes]);
  const cells = cellsAlong(axes);
  const wide = args.map((arg) => expand(arg, axes));
  const mark = wide.reduce((worst, arg) => worse(worst, arg.mark), expandMarks(of.mark, of.axes, axes));
  const which = of.curves.length === 1 ? null : mapBetween(of.axes, axes);
  const out = new Float64Array(cells).fill(NaN);
  const marks = new Uint8Array(cells);
  let outside = false;
  const [x, z] = [wide[0]!.data, wide[1]?.data];
  for (let cell = 0; cell < cells; cell++) {
    marks[cell] = markAt(mark, cell);
    if (marks[cell]! >= Mark.missing) continue;
    const curve = of.curves[which === null ? 0 : which[cell]!]!;
    const figure = curve.keys.length === 2 ? readTable(curve, x[cell]!, z![cell]!) : readCurve(curve, x[cell]!);
    if (figure === null) {
      outside = true;
      marks[cell] = Mark.missing;
    } else out[cell] = figure;
  }
  if (outside) frame.missing('the curve is read outside its data', expr.at);
  return numbers({ axes, data: out, mark: tidyMarks(marks) });
}

export function evaluateCurveApply(expr: CurveApply, frame: Frame): Value {
  const of = curvesOf(frame.value(expr.curve));
  switch (expr.function) {
    case 'through':
      return changed(of, (curve) => through(curve, expr.option), 'a logarithm needs keys above zero', expr, frame);
    case 'clamped':
      return changed(of, (curve) => ({ ...curve, clamped: true }), '', expr, frame);
    case 'slope':
      return sloped(of, expr, frame);
    case 'smoothed':
      return smoothed(of, expr, frame);
    case 'rises-at':
    case 'falls-at':
      return crossed(of, expr, frame);
    case 'greatest':
    case 'least': {
      const way = expr.function;
      return eachCell(
        of,
        (curve) => extremeOf(curve, way),
        'this curve has no one greatest or least figure',
        expr,
        frame,
      );
    }
    case 'keys':
    case 'values':
      return laidOut(of, expr, frame);
  }
}

function changed(
  of: Curves,
  change: (curve: Curve) => Curve | null,
  reason: string,
  expr: CurveApply,
  frame: Frame,
): Curves {
  const curves = of.curves.map((curve) => (curve === null ? null : change(curve)));
  const lost = curves.some((curve, cell) => curve === null && of.curves[cell] !== null);
  if (!lost) return { is: 'curves', axes: of.axes, curves, mark: of.mark };
  frame.missing(reason, expr.at);
  const mark = Uint8Array.from(curves, (curve, cell) =>
    curve === null ? Math.max(Mark.missing, markAt(of.mark, cell)) : markAt(of.mark, cell),
  );
  return { is: 'curves', axes: of.axes, curves, mark };
}

function through(curve: Curve, option: string | null): Curve | null {
  if (option === 'log' && curve.keys.some((keys) => !(keys[0]! > 0))) return null;
  return { ...curve, kind: option === 'linear' || option === 'log' ? option : 'monotone' };
}

function sloped(of: Curves, expr: CurveApply, frame: Frame): Curves {
  const order = expr.args.length === 0 ? 1 : Math.round(frame.tensor(expr.args[0]!).data[0]!);
  const derive = (curve: Curve): Curve | null => {
    const derivative = curve.derivative + order;
    return order >= 1 && derivative <= 2 ? { ...curve, derivative } : null;
  };
  return changed(of, derive, 'a slope is of order 1 or 2', expr, frame);
}

/** Points of a curve by local quadratics through their neighbours, of their values, slopes or second derivatives. */
function smoothed(of: Curves, expr: CurveApply, frame: Frame): Curves {
  const [window, order] = expr.args.map((arg) => frame.tensor(arg).data[0]!) as [number, number];
  const half = Math.floor((window + 1e-9) / 2);
  const smooth = (curve: Curve): Curve | null => {
    const { keys, values, derivative } = curve;
    const enough = keys.length === 1 && values.length >= 3 && half >= 1 && derivative === 0;
    if (!enough || ![0, 1, 2].includes(order)) return null;
    return { ...curve, values: localQuadratics(keys[0]!, values, half, order) };
  };
  return changed(
    of,
    smooth,
    'smoothing needs three points or more, an odd window and an order of 0, 1 or 2',
    expr,
    frame,
  );
}

function crossed(of: Curves, expr: CurveApply, frame: Frame): Numbers {
  const level = frame.tensor(expr.args[0]!);
  const axes = unionAxes(of.axes, level.axes);
  const wide = expand(level, axes);
  const which = mapBetween(of.axes, axes);
  const marks = worse(expandMarks(of.mark, of.axes, axes), wide.mark);
  const way = expr.function === 'rises-at' ? 'up' : 'down';
  const spread: Curves = { is: 'curves', axes, curves: Array.from(which, (cell) => of.curves[cell]!), mark: marks };
  const reason =
    way === 'up' ? 'the curve does not rise through that level' : 'the curve does not fall through that level';
  return eachCell(spread, (curve, cell) => crossingOf(curve, wide.data[cell]!, way), reason, expr, frame);
}

function eachCell(
  of: Curves,
  figureOf: (curve: Curve, cell: number) => number | null,
  reason: string,
  expr: CurveApply,
  frame: Frame,
): Numbers {
  const data = new Float64Array(of.curves.length).fill(NaN);
  const marks = new Uint8Array(data.length);
  let lost = false;
  of.curves.forEach((curve, cell) => {
    marks[cell] = markAt(of.mark, cell);
    if (curve === null || marks[cell]! >= Mark.missing) return;
    const figure = figureOf(curve, cell);
    if (figure === null) {
      lost = true;
      marks[cell] = Mark.missing;
    } else data[cell] = figure;
  });
  if (lost) frame.missing(reason, expr.at);
  return numbers({ axes: of.axes, data, mark: tidyMarks(marks) });
}

/** keys(c), values(c): along an axis as long as the longest of the curves. */
function laidOut(of: Curves, expr: CurveApply, frame: Frame): Numbers {
  const size = of.curves.reduce((most, curve) => Math.max(most, curve?.keys[0]!.length ?? 0), 1);
  const axis = frame.context.openAxis(expr.axis!, size, null);
  const axes = [...of.axes, axis];
  const data = new Float64Array(cellsAlong(axes)).fill(NaN);
  const marks = new Uint8Array(data.length);
  of.curves.forEach((curve, cell) => {
    for (let place = 0; place < size; place++) {
      const at = cell * size + place;
      const key = curve?.keys.length === 1 ? curve.keys[0]![place] : undefined;
      const figure =
        curve === null || key === undefined ? null : expr.function === 'keys' ? key : readCurve(curve, key);
      marks[at] = figure === null ? Math.max(Mark.missing, markAt(of.mark, cell)) : markAt(of.mark, cell);
      if (figure !== null) data[at] = figure;
    }
  });
  return numbers({ axes, data, mark: tidyMarks(marks) });
}
