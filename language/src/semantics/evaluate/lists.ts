/** Figures written out along axes: lists with or without keys, cells from a file, cells pooled or offered; bands, limits, repeats. */
import type { AxisKey, LimitsOf, ListOf, Offered, Pooled, Repeated, Table, Toleranced } from '../ir.ts';
import { axesOfAll, expand, expandValue, unionAxes, unionOf } from './broadcast.ts';
import { ValueBuilder } from './builder.ts';
import type { Frame } from './frame.ts';
import { pairUp } from './pairs.ts';
import { refinementOf } from './refined.ts';
import { cellsAlong, numbers, scalar, tidyMarks, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Numbers, Tensor, Value } from './value.ts';

/** Of a coordinate's size. */
const tolerance = 1e-9;

/** The place of a key on an axis, from 0; -1 where there is none. */
function placeOfKey(axis: Axis, key: AxisKey): number {
  if (key.label !== null) return axis.labels?.indexOf(key.label) ?? -1;
  const wanted = key.number ?? NaN;
  return axis.coordinates.findIndex(
    (at) => Math.abs(at - wanted) <= tolerance * Math.max(Math.abs(at), Math.abs(wanted)),
  );
}

function keyName(key: AxisKey): string {
  return key.label ?? String(key.number);
}

/** The settled axis: a list is written for its places, whatever is looked for between them. */
function settledAxis(axis: Axis): Axis {
  return refinementOf(axis)?.settled ?? axis;
}

export function evaluateList(expr: ListOf, frame: Frame): Value {
  const axis = settledAxis(frame.axis(expr.axis));
  const entryAt = entriesByPlace(expr, axis, frame);
  const values = expr.entries.map(({ value }) => frame.value(value));
  const others = expr.others === null ? null : frame.value(expr.others);
  const all = others === null ? values : [...values, others];
  const inner = unionOf(all.map(axesOfAll)).filter((one) => one !== axis);
  const axes = [axis, ...inner];
  const builder = new ValueBuilder(axes, cellsAlong(axes));
  const row = cellsAlong(inner);
  const wide = values.map((value) => rowsOf(value, axis, inner));
  const wideOthers = others === null ? null : rowsOf(others, axis, inner);
  for (let place = 0; place < axis.size; place++) {
    const entry = entryAt[place]!;
    const value = entry < 0 ? wideOthers : wide[entry]!;
    if (value === null) continue;
    const start = value.alongAxis ? place * row : 0;
    for (let cell = 0; cell < row; cell++) builder.copy(place * row + cell, value.value, start + cell, Mark.exact);
  }
  return builder.done();
}

/** An entry may itself vary along the list's axis: then each place takes its own cell. */
function rowsOf(
  value: Value,
  axis: Axis,
  inner: readonly Axis[],
): { readonly value: Value; readonly alongAxis: boolean } {
  const alongAxis = axesOfAll(value).includes(axis);
  return { value: expandValue(value, alongAxis ? [axis, ...inner] : inner), alongAxis };
}

/** Which entry stands at each place; -1: none. Tells of entries too many, too few or out of place. */
function entriesByPlace(expr: ListOf, axis: Axis, frame: Frame): Int32Array {
  const at = new Int32Array(axis.size).fill(-1);
  const tell = (
    code: Parameters<Frame['context']['problem']>[0],
    args: Record<string, string>,
    key: AxisKey | null,
  ): void => frame.context.problem(code, { ...args, axis: axis.name }, key?.at ?? expr.at);
  let bare = 0;
  expr.entries.forEach(({ key }, entry) => {
    if (key === null) {
      if (bare < axis.size) at[bare] = entry;
      bare++;
      return;
    }
    const place = placeOfKey(axis, key);
    if (place < 0) tell('list.no-such-place', { key: keyName(key) }, key);
    else if (at[place] !== -1) tell('axes.duplicate-key', { key: keyName(key) }, key);
    else at[place] = entry;
  });
  const counts = { due: String(axis.size), here: String(bare) };
  if (bare > axis.size) tell('list.too-long', counts, null);
  if (bare > 0 && bare < axis.size && expr.others === null) tell('list.too-short', counts, null);
  if (expr.others !== null && axis.size > 0 && !at.includes(-1)) tell('list.others-covers-nothing', {}, null);
  return at;
}

/** Rows of a file laid at their places; a cell without a row is no reading. */
export function evaluateTable(expr: Table, frame: Frame): Numbers {
  const axes = expr.axes.map((id) => settledAxis(frame.axis(id)));
  const cells = cellsAlong(axes);
  const data = new Float64Array(cells).fill(NaN);
  const mark = new Uint8Array(cells).fill(Mark.missing);
  const known = axes.map(() => new Map<string, number>());
  for (const { keys, value, line } of expr.rows) {
    let cell = 0;
    let odd = -1;
    keys.forEach((key, at) => {
      const axis = axes[at]!;
      const name = keyName(key);
      const place = known[at]!.get(name) ?? placeOfKey(axis, key);
      known[at]!.set(name, place);
      if (place < 0 && odd < 0) odd = at;
      cell = cell * axis.size + place;
    });
    if (odd >= 0) {
      const args = { key: keyName(keys[odd]!), axis: axes[odd]!.name, file: expr.file, line: String(line) };
      frame.context.problem('table.no-such-place', args, expr.at);
    } else if (value !== null) {
      data[cell] = value;
      mark[cell] = Mark.exact;
    }
  }
  return numbers({ axes, data, mark: tidyMarks(mark) });
}

/** `low` and `high` are the ends of the band, not margins. */
export function evaluateToleranced(expr: Toleranced, frame: Frame): Numbers {
  const [nominal, low, high] = [expr.nominal, expr.low, expr.high].map((one) => frame.tensor(one)) as [
    Tensor,
    Tensor,
    Tensor,
  ];
  const axes = unionOf([nominal.axes, low.axes, high.axes]);
  const tensor = expand(nominal, axes);
  const [a, b] = [expand(low, axes), expand(high, axes)];
  const bare = (data: Float64Array): Tensor => ({ axes, data, mark: null });
  const mark = worse(tensor.mark, worse(a.mark, b.mark));
  const data = tensor.data.map((figure, cell) => (mark !== null && mark[cell]! >= Mark.missing ? NaN : figure));
  return numbers({ axes, data, mark }, { low: bare(a.data), high: bare(b.data) });
}

export function evaluateLimits(expr: LimitsOf, frame: Frame): Value {
  return {
    is: 'limits',
    low: expr.low === null ? scalar(-Infinity) : frame.tensor(expr.low),
    high: expr.high === null ? scalar(Infinity) : frame.tensor(expr.high),
  };
}

export function evaluateRepeated(expr: Repeated, frame: Frame): Numbers {
  const readings = expr.readings.map((reading) => frame.tensor(reading));
  const sum = readings.reduce((left, right) => {
    const { axes, cells, a, b, stepA, stepB, mark, out } = pairUp(left, right, false, false);
    for (let i = 0; i < cells; i++) out[i] = a[i * stepA]! + b[i * stepB]!;
    return { axes, data: out, mark };
  });
  return numbers({ axes: sum.axes, data: sum.data.map((total) => total / readings.length), mark: sum.mark });
}

/** Cells of several values in one row: those of the first part first. */
export function evaluatePooled(expr: Pooled, frame: Frame): Value {
  const parts = expr.parts.map((part, at) => {
    const value = frame.settled([expr.from[at]!]).value(part);
    const axis = settledAxis(frame.axis(expr.from[at]!));
    return { axis, value };
  });
  const size = parts.reduce((places, { axis }) => places + axis.size, 0);
  const to = frame.context.openAxis(expr.to, size, null);
  const inner = unionOf(parts.map(({ axis, value }) => axesOfAll(value).filter((one) => one !== axis)));
  const axes = unionAxes([to], inner);
  const row = cellsAlong(inner);
  const builder = new ValueBuilder(axes, cellsAlong(axes));
  let next = 0;
  for (const { axis, value } of parts) {
    const wide = expandValue(value, [axis, ...inner]);
    for (let cell = 0; cell < axis.size * row; cell++) builder.copy(next++, wide, cell, Mark.exact);
  }
  return builder.done();
}

export function evaluateOffered(expr: Offered, frame: Frame): Numbers {
  const axis = frame.context.openAxis(expr.to, expr.values.length, expr.names);
  const mark = Uint8Array.from(expr.values, (figure) => (Number.isNaN(figure) ? Mark.missing : Mark.exact));
  return numbers({ axes: [axis], data: Float64Array.from(expr.values), mark: tidyMarks(mark) });
}
