/** Questions about a figure that are not computed from it: was it given, read, cut; the ends of its band; its view. */
import type { Apply, Elementwise, Expr, InView, SlotId, View } from '../ir.ts';
import { axesOfAll } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { gather } from './gather.ts';
import { pairUp } from './pairs.ts';
import { figures, marksOf, numbers, ownMarks, scalar, without, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Tensor, Value } from './value.ts';

type Ends = 'low' | 'middle' | 'high';
type Standing = Ends | 'given' | 'present' | 'machined' | 'uncertainty' | 'read-on' | 'read-at';
const standings: ReadonlySet<string> = new Set<Standing>([
  'low',
  'middle',
  'high',
  'given',
  'present',
  'machined',
  'uncertainty',
  'read-on',
  'read-at',
]);

export function isStanding(name: Elementwise): name is Standing {
  return standings.has(name);
}

export function evaluateStanding(expr: Apply, frame: Frame): Tensor {
  const arg = expr.args[0]!;
  const name = expr.function as Standing;
  switch (name) {
    case 'low':
    case 'middle':
    case 'high':
      return endOf(frame.value(arg), name);
    case 'present':
      return figures(ofSlot(arg, frame, (id, view) => numbers(frame.context.present(id, view)), presence));
    case 'given':
      return asked(arg, frame, (id, view) => frame.context.given(id, view), scalar(0));
    case 'machined':
      return asked(arg, frame, (id, view) => frame.context.machined(id, view), scalar(0));
    case 'uncertainty':
      return asked(arg, frame, (id, view) => frame.context.uncertainty(id, view), without([]));
    case 'read-on':
      return asked(arg, frame, (id, view) => frame.context.readOn(id, view), without([]));
    case 'read-at':
      return asked(arg, frame, (id, view) => frame.context.readAt(id, view), without([]));
  }
}

function asked(arg: Expr, frame: Frame, ask: (id: SlotId, view: View) => Tensor, otherwise: Tensor): Tensor {
  return figures(
    ofSlot(
      arg,
      frame,
      (id, view) => numbers(ask(id, view)),
      () => numbers(otherwise),
    ),
  );
}

/** The slot that `expr` reads, through views, indices and locals; anything else goes to `otherwise`. */
function ofSlot(
  expr: Expr,
  frame: Frame,
  ask: (id: SlotId, view: View) => Value,
  otherwise: (expr: Expr, frame: Frame) => Value,
): Value {
  switch (expr.op) {
    case 'slot':
      return ask(expr.slot, frame.context.view);
    case 'gather':
      return gather(
        ofSlot(expr.of, frame.settled([expr.axis]), ask, otherwise),
        expr.axis,
        frame.tensor(expr.index),
        expr,
        frame,
      );
    case 'retitle': {
      const value = ofSlot(expr.of, frame, ask, otherwise);
      const places = frame.tensor({ op: 'place', axis: expr.to, type: expr.type, at: expr.at });
      return gather(value, expr.from, places, expr, frame);
    }
    case 'view':
      if (expr.view === 'computed') return ofSlot(expr.of, frame, ask, otherwise);
      return ofSlot(expr.of, frame.inView(expr.view), (id) => ask(id, expr.view as View), otherwise);
    case 'local': {
      const bound = frame.localExpr(expr.local);
      return bound === null ? otherwise(expr, frame) : ofSlot(bound, frame, ask, otherwise);
    }
    default:
      return otherwise(expr, frame);
  }
}

function presence(expr: Expr, frame: Frame): Value {
  const value = frame.value(expr);
  const marks = marksOf(value);
  const axes = axesOfAll(value);
  if (marks === null) return numbers(scalar(1));
  return numbers({ axes, data: Float64Array.from(marks, (mark) => (mark === Mark.absent ? 0 : 1)), mark: null });
}

export function evaluateView(expr: InView, frame: Frame): Value {
  if (expr.view !== 'computed') return frame.inView(expr.view).value(expr.of);
  return ofSlot(
    expr.of,
    frame,
    (id, view) => frame.context.computed(id, view),
    (other, within) => within.value(other),
  );
}

/** An end of limits or of a band; an open end is not there: absent. A figure without a band is its own low and high. */
function endOf(value: Value, end: Ends): Tensor {
  if (value.is === 'limits')
    return end === 'middle' ? middle(value.low, value.high) : closed(end === 'low' ? value.low : value.high);
  const tensor = figures(value);
  if (value.is !== 'numbers' || value.band === null) return tensor;
  const { low, high } = value.band;
  const data = tensor.data.map((figure, cell) => {
    const [a, b] = [low.data[cell]!, high.data[cell]!];
    if (Number.isNaN(a) || Number.isNaN(figure)) return figure;
    return end === 'low' ? a : end === 'high' ? b : (a + b) / 2;
  });
  return { axes: tensor.axes, data, mark: tensor.mark };
}

function middle(low: Tensor, high: Tensor): Tensor {
  const { axes, cells, a, b, stepA, stepB, mark, out } = pairUp(closed(low), closed(high), false, false);
  for (let i = 0; i < cells; i++) out[i] = (a[i * stepA]! + b[i * stepB]!) / 2;
  return { axes, data: out, mark };
}

function closed(end: Tensor): Tensor {
  if (end.data.every((figure) => Math.abs(figure) !== Infinity)) return end;
  const open = Uint8Array.from(end.data, (figure) => (Math.abs(figure) === Infinity ? Mark.absent : Mark.exact));
  const data = end.data.map((figure) => (Math.abs(figure) === Infinity ? NaN : figure));
  return { axes: end.axes, data, mark: worse(ownMarks(end.mark, data.length), open) };
}
