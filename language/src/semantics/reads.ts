/** What an expression is made of: its parts and the slots that it reads. Reads text-free expressions only. */
import type { Expr, SlotId, Table } from './ir.ts';
import type { AxisId } from './types/type.ts';

/** Direct parts, in the order in which they stand. */
export function partsOf(expr: Expr): readonly Expr[] {
  const some = (...parts: readonly (Expr | null)[]): readonly Expr[] => parts.filter((part) => part !== null);
  switch (expr.op) {
    case 'constant':
    case 'missing':
    case 'slot':
    case 'local':
    case 'was':
    case 'place':
    case 'table':
    case 'offered':
      return [];
    case 'let':
      return [expr.value, expr.body];
    case 'coordinate':
      return some(expr.of);
    case 'binary':
      return [expr.left, expr.right];
    case 'negate':
    case 'not':
    case 'view':
    case 'inverse':
    case 'retitle':
      return [expr.of];
    case 'within':
      return [expr.value, expr.limits];
    case 'if':
      return [expr.condition, expr.yes, expr.no];
    case 'by-choice':
      return some(expr.subject, ...expr.cases.map((one) => one.value), expr.others);
    case 'apply':
      return expr.args;
    case 'reduce':
      return some(expr.of, expr.where, expr.by?.index ?? null);
    case 'along':
      return [expr.of, ...expr.args];
    case 'gather':
      return [expr.of, expr.index];
    case 'list':
      return some(...expr.entries.map((entry) => entry.value), expr.others);
    case 'toleranced':
      return [expr.nominal, expr.low, expr.high];
    case 'limits':
      return some(expr.low, expr.high);
    case 'repeated':
      return expr.readings;
    case 'curve':
      return [...expr.keys.flat(), ...expr.values];
    case 'curve-over':
      return [expr.keys, expr.values];
    case 'curve-call':
      return [expr.curve, ...expr.args];
    case 'curve-apply':
      return [expr.curve, ...expr.args];
    case 'solve':
      return [
        ...expr.unknowns.flatMap(({ from, to }) => [from, to]),
        ...expr.equations.flatMap(({ left, right }) => [left, right]),
      ];
    case 'assign':
      return some(expr.cost, expr.where, expr.stock?.of ?? null);
    case 'nearest-sum':
      return [expr.sizes, expr.target, expr.atMost];
    case 'pooled':
      return expr.parts;
  }
}

interface Contents {
  readonly slots: readonly SlotId[];
  readonly tables: readonly Table[];
  readonly axes: readonly AxisId[];
}
const known = new WeakMap<Expr, Contents>();

const nothingIn: Contents = { slots: [], tables: [], axes: [] };

function contentsOf(expr: Expr): Contents {
  if (expr.op === 'constant' && expr.type.axes.length === 0) return nothingIn;
  const done = known.get(expr);
  if (done !== undefined) return done;
  const slots = new Set<SlotId>();
  const tables: Table[] = [];
  const axes = new Set<AxisId>();
  const left = [expr];
  for (let next = left.pop(); next !== undefined; next = left.pop()) {
    if (next.op === 'slot') slots.add(next.slot);
    if (next.op === 'table') tables.push(next);
    for (const axis of next.type.axes) axes.add(axis);
    if (next.op === 'reduce') for (const axis of next.over) axes.add(axis);
    left.push(...partsOf(next).toReversed());
  }
  const contents = { slots: [...slots], tables, axes: [...axes] };
  known.set(expr, contents);
  return contents;
}

/** Slots that may be read, each once, in the order in which they stand. */
export function slotsIn(expr: Expr): readonly SlotId[] {
  return contentsOf(expr).slots;
}

/** Files read into it. */
export function tablesIn(expr: Expr): readonly Table[] {
  return contentsOf(expr).tables;
}

/** Axes along which anything in it lies. */
export function axesIn(expr: Expr): readonly AxisId[] {
  return contentsOf(expr).axes;
}

/** True where a local is read: such a part cannot be worked out by itself. */
export function readsLocals(expr: Expr): boolean {
  return expr.op === 'local' || partsOf(expr).some(readsLocals);
}

/** True where a figure with a tolerance is written in it. */
export function tolerancedIn(expr: Expr): boolean {
  return expr.op === 'toleranced' || partsOf(expr).some(tolerancedIn);
}

/** True where one of several things is chosen in it, by weighing them all. */
export function choosesIn(expr: Expr): boolean {
  return expr.op === 'assign' || expr.op === 'nearest-sum' || partsOf(expr).some(choosesIn);
}

/** On the way from a formula's cell to a slot's cell: the place on `axis` is what `index` gives, or the place on another axis. */
export interface Turn {
  readonly axis: AxisId;
  readonly index: Expr | null;
  readonly twin: AxisId | null;
}

/** One list for each read of the slot: the indices that stand directly on it. */
export function turnsTo(expr: Expr, slot: SlotId): readonly (readonly Turn[])[] {
  const found: (readonly Turn[])[] = [];
  const visit = (at: Expr, turns: readonly Turn[]): void => {
    switch (at.op) {
      case 'slot':
        if (at.slot === slot) found.push(turns);
        return;
      case 'gather':
        visit(at.of, [...turns, { axis: at.axis, index: at.index, twin: null }]);
        visit(at.index, []);
        return;
      case 'retitle':
        visit(at.of, [...turns, { axis: at.from, index: null, twin: at.to }]);
        return;
      case 'view':
        visit(at.of, turns);
        return;
      default:
        for (const part of partsOf(at)) visit(part, []);
    }
  };
  visit(expr, []);
  return found;
}
