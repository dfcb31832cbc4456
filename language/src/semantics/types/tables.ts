/** `from "readings.csv"`: a column for each axis and one for the figure, or a column for each label of the last axis. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare } from '@thou/shared/dimension/types';
import { toSI, type Unit } from '@thou/shared/unit/unit';
import type { AxisKey, Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { labelsOf } from './axes.ts';
import { parseCsv, type Csv, type CsvCell } from './csv.ts';
import { target, type Due, type Env } from './env.ts';
import { nothing, typed } from './make.ts';
import type { AxisId, ValueType } from './type.ts';
import { listed, typeWords } from './words.ts';

interface Column {
  readonly index: number;
  readonly header: string;
  /** `width-reading [in]` → name and unit. */
  readonly name: string;
  readonly unit: string | null;
}

interface Shape {
  readonly axes: readonly { readonly axis: AxisId; readonly column: Column }[];
  /** Figures: one column, or one for each label of `spread`. */
  readonly figures: readonly { readonly column: Column; readonly label: string | null; readonly unit: Unit | null }[];
  readonly spread: AxisId | null;
}

export function readTable(from: ast.FromFile, env: Env, due: Due): Expr {
  const file = env.files.read(env.uri, from.file ?? '');
  const at = target(env, from, 'file');
  if ('problem' in file) {
    env.report.add(file.problem === 'not-found' ? 'csv.not-found' : 'csv.refused', at, {
      path: from.file,
      why: file.why,
    });
    return nothing(from);
  }
  const type = due.type;
  if (!type) return nothing(from);
  if (type.is !== 'measure') {
    if (type.is !== 'unsettled') env.report.add('csv.figure', at, { what: due.what, type: typeWords(type, env) });
    return nothing(from);
  }
  const parsed = parseCsv(file.text);
  if ('problem' in parsed) {
    env.report.add('csv.unreadable', at, { path: from.file, why: parsed.problem });
    return nothing(from);
  }
  const shape = shapeOf(parsed.header, from, env, due, type);
  if (!shape) return nothing(from);
  const rows = rowsOf(parsed, shape, from, env);
  const axes = due.axes.filter((axis) => shape.spread === axis || shape.axes.some((one) => one.axis === axis));
  return {
    op: 'table',
    axes,
    rows: rows.map((row) => ({ ...row, keys: axes.map((axis) => row.keys.get(axis)!) })),
    file: file.uri,
    type: typed(type, axes),
    at: from,
  };
}

function columnOf(header: string, index: number): Column {
  const match = /^\s*(.*?)\s*(?:\[([^\]]*)\])?\s*$/.exec(header);
  return { index, header: header.trim(), name: match?.[1] ?? '', unit: match?.[2]?.trim() ?? null };
}

function shapeOf(header: readonly string[], from: ast.FromFile, env: Env, due: Due, type: ValueType): Shape | null {
  const columns = header.map(columnOf);
  const axes: Shape['axes'][number][] = [];
  const rest: Column[] = [];
  for (const column of columns) {
    const axis = due.axes.find(
      (one) => env.draft.axes[one]?.name === column.name && !axes.some((taken) => taken.axis === one),
    );
    if (axis === undefined) rest.push(column);
    else axes.push({ axis, column });
  }
  const property = due.what.slice(due.what.lastIndexOf('.') + 1);
  const own = rest.find((column) => column.name === property);
  if (own) {
    const odd = rest.find((column) => column !== own);
    if (odd) return oddColumn(odd, due, [], from, env);
    const unit = unitOf(own, from, env, type, due.unit);
    return unit === undefined ? null : { axes, figures: [{ column: own, label: null, unit }], spread: null };
  }
  const spread = due.axes.filter((axis) => !axes.some((one) => one.axis === axis)).at(-1);
  const labels = spread === undefined ? null : labelsOf(spread, env);
  if (spread === undefined || rest.length === 0) return noColumn(property, from, env);
  const figures: Shape['figures'][number][] = [];
  for (const column of rest) {
    const isPlace = labels ? labels.includes(column.name) : /^\d+(\.\d+)?$/.test(column.name);
    if (!isPlace || figures.some(({ label }) => label === column.name))
      return oddColumn(column, due, labels ?? [], from, env);
    const unit = unitOf(column, from, env, type, due.unit);
    if (unit === undefined) return null;
    figures.push({ column, label: column.name, unit });
  }
  return { axes, figures, spread };
}

function oddColumn(column: Column, due: Due, labels: readonly string[], from: ast.FromFile, env: Env): null {
  const names = [...labels, ...due.axes.map((axis) => env.draft.axes[axis]?.name ?? '')];
  env.report.add('csv.column', target(env, from, 'file'), {
    path: from.file,
    line: '1',
    column: column.header,
    what: due.what,
    near: didYouMean(env.report.nearest(column.name, names)),
  });
  return null;
}

function noColumn(column: string, from: ast.FromFile, env: Env): null {
  env.report.add('csv.no-column', target(env, from, 'file'), { path: from.file, column });
  return null;
}

/** The column's unit; undefined where it was reported. */
function unitOf(
  column: Column,
  from: ast.FromFile,
  env: Env,
  type: ValueType,
  written: string | undefined,
): Unit | null | undefined {
  const due = type.is === 'measure' ? type.measure : null;
  const plain = due !== null && isNone(due.dimension);
  if (!due || (plain && !column.unit)) return null;
  const read = column.unit ? env.library.units.parse(column.unit) : null;
  if (read && 'unit' in read && canCompare(read.unit.measure, due)) return read.unit;
  if (plain) {
    env.report.add('csv.no-unit', target(env, from, 'file'), {
      path: from.file,
      column: column.header,
      example: column.name,
    });
    return undefined;
  }
  const example = `${column.name} [${written ?? env.library.units.offered(due.dimension)[0]?.symbol ?? ''}]`;
  env.report.add('csv.unit', target(env, from, 'file'), {
    path: from.file,
    column: column.header,
    wrong: column.unit ? ` (${column.unit} does not fit)` : '',
    example,
  });
  return undefined;
}

interface Row {
  readonly keys: ReadonlyMap<AxisId, AxisKey>;
  readonly value: number | null;
  readonly line: number;
}

function rowsOf({ header, rows, decimalComma }: Csv, shape: Shape, from: ast.FromFile, env: Env): Row[] {
  const seen = new Map<string, number>();
  const result: Row[] = [];
  for (const cells of rows) {
    if (cells.length !== header.length) {
      const line = cells[0]?.line ?? 0;
      env.report.add(
        'csv.shape',
        { ...target(env, from, 'file'), index: line },
        { path: from.file, line: String(line), here: String(cells.length), due: String(header.length) },
      );
      continue;
    }
    const keys = keysOf(cells, shape, from, env);
    if (!keys) continue;
    for (const { column, label, unit } of shape.figures) {
      const cell = cells[column.index];
      const all = new Map(keys);
      if (shape.spread !== null && label !== null) all.set(shape.spread, keyOf(label, from));
      const value = cell ? figureOf(cell, decimalComma, unit, from, env) : null;
      const line = cell?.line ?? cells[0]?.line ?? 0;
      const place = [...all.values()].map((key) => key.label ?? key.number).join(' ');
      const first = seen.get(place);
      if (first !== undefined) {
        env.report.add(
          'csv.double',
          { ...target(env, from, 'file'), index: line },
          { path: from.file, line: String(line), first: String(first) },
        );
        continue;
      }
      seen.set(place, line);
      result.push({ keys: all, value, line });
    }
  }
  return result;
}

function keysOf(cells: readonly CsvCell[], shape: Shape, from: ast.FromFile, env: Env): Map<AxisId, AxisKey> | null {
  const keys = new Map<AxisId, AxisKey>();
  for (const { axis, column } of shape.axes) {
    const text = cells[column.index]?.text.trim() ?? '';
    const labels = labelsOf(axis, env);
    const key = labels
      ? labels.includes(text)
        ? keyOf(text, from)
        : null
      : Number.isFinite(Number(text)) && text !== ''
        ? { label: null, number: Number(text), at: from }
        : null;
    if (!key) {
      const line = cells[0]?.line ?? 0;
      const places = labels
        ? `${env.draft.axes[axis]?.name} (${listed(labels, 'and')})`
        : (env.draft.axes[axis]?.name ?? '');
      env.report.add(
        'csv.key',
        { ...target(env, from, 'file'), index: line },
        { path: from.file, line: String(line), key: text, axis: places },
      );
      return null;
    }
    keys.set(axis, key);
  }
  return keys;
}

function keyOf(label: string, at: ast.FromFile): AxisKey {
  return /^\d+(\.\d+)?$/.test(label) ? { label: null, number: Number(label), at } : { label, number: null, at };
}

function figureOf(cell: CsvCell, comma: boolean, unit: Unit | null, from: ast.FromFile, env: Env): number | null {
  const text = cell.text.trim();
  if (text === '' || text === '_') return null;
  const plain = comma ? text.replace(',', '.') : text;
  const value = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
  if (Number.isFinite(value)) return unit ? toSI(value, unit) : value;
  env.report.add(
    'csv.not-a-number',
    { ...target(env, from, 'file'), index: cell.line },
    { path: from.file, line: String(cell.line), text },
  );
  return null;
}
