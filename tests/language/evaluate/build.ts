/** Small expressions and a context to evaluate them in, for tests of the interpreter alone. */
import { plainNumber } from '@thou/shared/dimension/types';
import type { EvalContext } from '../../../language/src/semantics/evaluate/context.ts';
import { evaluate } from '../../../language/src/semantics/evaluate/interpreter.ts';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Axis, Numbers, Tensor, Value } from '../../../language/src/semantics/evaluate/value.ts';
import type {
  Along,
  AlongAxis,
  Apply,
  Binary,
  Elementwise,
  Expr,
  ListOf,
  Reduce,
  Reduction,
  Solve,
  View,
} from '../../../language/src/semantics/ir.ts';
import type { ValueType } from '../../../language/src/semantics/types/type.ts';

export const measure: ValueType = { is: 'measure', measure: plainNumber };
export const flag: ValueType = { is: 'flag' };
const common = (value: ValueType = measure) => ({ type: { value, axes: [] }, at: null }) as const;

export const axis = (id: number, name: string, size: number, from = 1, step = 1): Axis => ({
  id,
  name,
  size,
  labels: null,
  coordinates: Float64Array.from({ length: size }, (_, place) => from + place * step),
});
export const labelled = (id: number, name: string, labels: readonly string[]): Axis => ({
  ...axis(id, name, labels.length),
  labels,
});

/** `_` is missing, `x` absent, anything else a figure with mark exact. */
export type Cell = number | '_' | 'x';
function tensor(axes: readonly Axis[], cells: readonly Cell[], mark: number = Mark.exact): Tensor {
  const marks = Uint8Array.from(cells, (cell) => (cell === '_' ? Mark.missing : cell === 'x' ? Mark.absent : mark));
  return {
    axes,
    data: Float64Array.from(cells, (cell) => (typeof cell === 'number' ? cell : NaN)),
    mark: marks.every((one) => one === Mark.exact) ? null : marks,
  };
}
export const valued = (axes: readonly Axis[], cells: readonly Cell[], mark: number = Mark.exact): Numbers => ({
  is: 'numbers',
  tensor: tensor(axes, cells, mark),
  band: null,
});

export const n = (value: number, type: ValueType = measure): Expr => ({ op: 'constant', value, ...common(type) });
export const gap: Expr = { op: 'missing', why: null, ...common() };
export const slot = (id: number, type: ValueType = measure): Expr => ({ op: 'slot', slot: id, ...common(type) });
export const local = (index: number): Expr => ({ op: 'local', local: index, name: `local ${index}`, ...common() });
export const bind = (index: number, value: Expr, body: Expr): Expr => ({
  op: 'let',
  local: index,
  name: `local ${index}`,
  value,
  body,
  ...common(),
});
export const bin = (left: Expr, operator: Binary, right: Expr): Expr => ({
  op: 'binary',
  operator,
  left,
  right,
  ...common(['+', '-', '*', '/', '^', 'otherwise'].includes(operator) ? measure : flag),
});
export const sum = (...terms: Expr[]): Expr => terms.reduce((left, right) => bin(left, '+', right));
export const product = (...terms: Expr[]): Expr => terms.reduce((left, right) => bin(left, '*', right));
export const apply = (fn: Elementwise, args: readonly Expr[], option: string | null = null): Apply => ({
  op: 'apply',
  function: fn,
  args,
  option,
  ...common(),
});
export const iff = (condition: Expr, yes: Expr, no: Expr): Expr => ({ op: 'if', condition, yes, no, ...common() });
export const coordinate = (id: number): Expr => ({ op: 'coordinate', axis: id, of: null, ...common() });
export const place = (id: number): Expr => ({ op: 'place', axis: id, ...common({ is: 'index', axis: id }) });
export const gather = (of: Expr, id: number, index: Expr): Expr => ({ op: 'gather', of, axis: id, index, ...common() });
export const reduce = (
  fn: Reduction,
  of: Expr,
  over: readonly number[],
  more: Partial<Pick<Reduce, 'where' | 'by'>> = {},
): Reduce => ({
  op: 'reduce',
  function: fn,
  of,
  over,
  where: more.where ?? null,
  by: more.by ?? null,
  ...common(),
});
export const along = (fn: AlongAxis, of: Expr, id: number, ...args: Expr[]): Along => ({
  op: 'along',
  function: fn,
  of,
  axis: id,
  args,
  ...common(),
});
export const list = (
  id: number,
  values: readonly Expr[],
  others: Expr | null = null,
  keys: readonly (string | number)[] | null = null,
): ListOf => ({
  op: 'list',
  axis: id,
  entries: values.map((value, at) => {
    const key = keys?.[at];
    if (key === undefined) return { key: null, value };
    return {
      key: { label: typeof key === 'string' ? key : null, number: typeof key === 'number' ? key : null, at: null },
      value,
    };
  }),
  others,
  ...common(),
});
export const solve = (unknowns: readonly [number, number][], equations: readonly [Expr, Expr][], first = 0): Solve => ({
  op: 'solve',
  unknowns: unknowns.map(([from, to], at) => ({
    local: first + at,
    name: 'xyz'[at]!,
    from: n(from),
    to: n(to),
    type: { value: measure, axes: [] },
  })),
  equations: equations.map(([left, right]) => ({ left, right })),
  ...common(),
});
export const curve = (points: readonly (readonly [number, number])[]): Expr => ({
  op: 'curve',
  keys: [points.map(([x]) => n(x))],
  values: points.map(([, y]) => n(y)),
  ...common({ is: 'curve', result: plainNumber, against: [plainNumber] }),
});
export const call = (of: Expr, ...args: Expr[]): Expr => ({ op: 'curve-call', curve: of, args, ...common() });
export const onCurve = (
  fn: (Expr & { op: 'curve-apply' })['function'],
  of: Expr,
  args: readonly Expr[] = [],
  option: string | null = null,
): Expr => ({
  op: 'curve-apply',
  function: fn,
  curve: of,
  args,
  option,
  axis: null,
  ...common(),
});
export const limits = (low: Expr | null, high: Expr | null): Expr => ({
  op: 'limits',
  low,
  high,
  ...common({ is: 'limits', measure: plainNumber }),
});
export const toleranced = (nominal: number, low: number, high: number): Expr => ({
  op: 'toleranced',
  nominal: n(nominal),
  low: n(low),
  high: n(high),
  ...common(),
});

interface World {
  readonly axes?: readonly Axis[];
  readonly stepped?: readonly number[];
  /** A slot is a value given, or a formula. */
  readonly slots?: readonly (Value | Expr)[];
  readonly views?: Partial<Record<View, readonly (Value | Expr)[]>>;
}
export interface Heard {
  readonly reasons: string[];
  readonly problems: { readonly code: string; readonly args: Readonly<Record<string, string>> }[];
}

class TestContext implements EvalContext {
  readonly view: View;
  readonly heard: Heard;
  /** How often a formula was evaluated. */
  evaluations = 0;
  private readonly world: World;
  private readonly replaced: ReadonlyMap<number, { readonly axis: Axis; readonly coordinates: Tensor }>;

  constructor(
    world: World,
    view: View = 'measured',
    replaced: TestContext['replaced'] = new Map(),
    heard: Heard = { reasons: [], problems: [] },
  ) {
    this.world = world;
    this.view = view;
    this.replaced = replaced;
    this.heard = heard;
  }

  axis(id: number): Axis {
    return this.replaced.get(id)?.axis ?? this.settled(id);
  }
  private settled(id: number): Axis {
    return this.world.axes!.find((one) => one.id === id)!;
  }
  coordinates(id: number): Tensor {
    const axisHere = this.settled(id);
    return this.replaced.get(id)?.coordinates ?? { axes: [axisHere], data: axisHere.coordinates, mark: null };
  }
  stepped(id: number): boolean {
    return this.world.stepped?.includes(id) ?? false;
  }
  openAxis(id: number, size: number, labels: readonly string[] | null): Axis {
    return { id, name: 'open', size, labels, coordinates: Float64Array.from({ length: size }, (_, at) => at + 1) };
  }
  slot(id: number, view: View): Value {
    const found = (this.world.views?.[view] ?? this.world.slots!)[id]!;
    if ('is' in found) return found;
    this.evaluations++;
    return evaluate(found, this.withView(view));
  }
  computed(id: number, view: View): Value {
    return this.slot(id, view);
  }
  was(id: number): Value {
    return this.slot(id, 'specified');
  }
  private flags(id: number): Tensor {
    const value = this.slot(id, this.view) as Numbers;
    return { ...value.tensor, data: value.tensor.data.map((figure) => (Number.isNaN(figure) ? 0 : 1)), mark: null };
  }
  given(id: number): Tensor {
    return this.flags(id);
  }
  machined(id: number): Tensor {
    return this.flags(id);
  }
  present(id: number): Tensor {
    const value = this.slot(id, this.view) as Numbers;
    return {
      ...value.tensor,
      data: Float64Array.from(value.tensor.data, (_, cell) => (value.tensor.mark?.[cell] === Mark.absent ? 0 : 1)),
      mark: null,
    };
  }
  readOn(): Tensor {
    return { axes: [], data: Float64Array.of(20_000), mark: null };
  }
  readAt(): Tensor {
    return { axes: [], data: Float64Array.of(293.15), mark: null };
  }
  uncertainty(): Tensor {
    return { axes: [], data: Float64Array.of(0.01), mark: null };
  }
  withAxis(id: number, axisHere: Axis, coordinates: Tensor): EvalContext {
    return new TestContext(
      this.world,
      this.view,
      new Map(this.replaced).set(id, { axis: axisHere, coordinates }),
      this.heard,
    );
  }
  withSettled(id: number): EvalContext {
    const replaced = new Map(this.replaced);
    replaced.delete(id);
    return new TestContext(this.world, this.view, replaced, this.heard);
  }
  withView(view: View): EvalContext {
    return new TestContext(this.world, view, this.replaced, this.heard);
  }
  missing(reason: string): void {
    this.heard.reasons.push(reason);
  }
  problem(code: string, args: Readonly<Record<string, string>>): void {
    this.heard.problems.push({ code, args });
  }
}

export interface Run extends Heard {
  readonly value: Value;
  readonly axes: readonly string[];
  readonly cells: readonly Cell[];
  readonly marks: readonly number[];
}
/** Evaluates and lays the answer out for comparing: `_` missing, `x` absent. */
export function run(expr: Expr, world: World = {}): Run {
  const context = new TestContext(world);
  const value = evaluate(expr, context);
  const { axes, data, mark } =
    value.is === 'numbers' ? value.tensor : { axes: [], data: new Float64Array(), mark: null };
  return {
    value,
    axes: axes.map(({ name }) => name),
    cells: Array.from(data, (figure, cell) =>
      mark?.[cell] === Mark.absent ? 'x' : mark?.[cell] === Mark.missing ? '_' : figure,
    ),
    marks: Array.from(data, (_, cell) => mark?.[cell] ?? Mark.exact),
    ...context.heard,
  };
}
