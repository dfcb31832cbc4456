/** Written figures: a quantity with its unit and margins, a range, a margin, one-sided limits, a date, a text. */
import type * as ast from '../../grammar/generated/ast.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { add, canCompare, plainNumber, type Measure } from '@thou/shared/dimension/types';
import { parseNumber } from '@thou/shared/number/parse';
import { toSI, toSIDifference, type Unit } from '@thou/shared/unit/unit';
import type { Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { placeOfNumber } from './axes.ts';
import { target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { fit } from './fit.ts';
import { reportListUnit } from './list-units.ts';
import { binary, constant, date, measureOf, middleOf, nothing, number, text, typed, unionAxes } from './make.ts';
import { exprWords, textOf } from './words.ts';

const none: Unit | null = null;

/** The unit as a table finds it; reported at its own place where it is none. */
export function readUnit(
  written: string,
  at: ast.Expr | ast.UnitDeclaration | ast.Shown,
  property: string,
  env: Env,
): Unit | null {
  const read = env.library.units.parse(written);
  if ('unit' in read) return read.unit;
  const place = target(env, at, property);
  if (read.problem === 'unknown') {
    const fixes = read.near.map((near) => ({
      title: near,
      edits: [{ target: place, text: written.replace(read.name, near), place: 'instead' as const }],
    }));
    env.report.add('unit.unknown', place, { name: read.name, near: didYouMean(read.near) }, { fixes });
  } else if (read.problem === 'offset-in-product') {
    env.report.add('unit.malformed', place, {
      name: written,
      why: `${read.name} is a point on a scale; in a product write K or R`,
    });
  } else {
    env.report.add('unit.malformed', place, {
      name: written,
      why: 'write products with *, quotients with / and powers with ^',
    });
  }
  return null;
}

/** A figure in kelvins is a difference, and an absolute temperature where one is due: it has no kind. */
function measureOfUnit(unit: Unit): Measure {
  return unit.absoluteToo ? { dimension: unit.measure.dimension, kind: null } : unit.measure;
}

export function readQuantity(quantity: ast.Quantity, env: Env, due: Due): Expr {
  const value = parseNumber(quantity.number);
  const marginUnit = quantity.marginUnit ? readUnit(quantity.marginUnit, quantity, 'marginUnit', env) : none;
  if (
    (quantity.unit && env.library.units.parse(quantity.unit) && !('unit' in env.library.units.parse(quantity.unit))) ||
    (quantity.marginUnit && !marginUnit)
  ) {
    if (quantity.unit) readUnit(quantity.unit, quantity, 'unit', env);
    return nothing(quantity);
  }
  const unit = quantity.unit ? readUnit(quantity.unit, quantity, 'unit', env) : (marginUnit ?? env.unit);
  if (!unit && due.type?.is === 'index') {
    const place = placeOfNumber(value, due.type.axis, env);
    if (place !== null) return constant(place, due.type, quantity);
  }
  const measure = unit ? measureOfUnit(unit) : plainNumber;
  const nominal = constant(unit ? toSI(value, unit) : value, measureOf(measure), quantity);
  return quantity.margin ? withMargins(quantity, nominal, marginUnit ?? unit) : nominal;
}

function withMargins(quantity: ast.Quantity, nominal: Expr, unit: Unit | null): Expr {
  const [up = '0', down = '0'] = quantity.margin!.replace(/\s+/g, '').slice(1).split('/-');
  const size = (figure: string): number => (unit ? toSIDifference(parseNumber(figure), unit) : parseNumber(figure));
  const type = nominal.type.value;
  const base = nominal.op === 'constant' ? nominal.value : Number.NaN;
  return {
    op: 'toleranced',
    nominal,
    low: constant(base - size(down), type, quantity),
    high: constant(base + size(up), type, quantity),
    type: nominal.type,
    at: quantity,
  };
}

/** The unit written last: it serves the bare figures before it. */
export function trailingUnit(expr: ast.Expr | ast.Prefixed | undefined): string | undefined {
  switch (expr?.$type) {
    case 'Quantity':
      return expr.marginUnit ?? expr.unit;
    case 'Binary':
      return trailingUnit(expr.right);
    case 'Prefixed':
      return trailingUnit(expr.operand);
    case 'List': {
      const last = expr.entries[expr.entries.length - 1];
      return expr.unit ?? trailingUnit(last?.item ?? last?.value);
    }
    default:
      return undefined;
  }
}

/** The environment in which bare figures take the unit that stands at the end of `last`. */
export function withTrailingUnit(last: ast.Expr | ast.Prefixed | undefined, env: Env): Env {
  const written = trailingUnit(last);
  if (!written) return env;
  const read = env.library.units.parse(written);
  return 'unit' in read ? { ...env, unit: read.unit } : env;
}

/** `a..b`: a toleranced figure where a quantity is due, else limits. */
export function readRange(range: ast.Binary, env: Env, due: Due): Expr {
  const inner = {
    ...due,
    type: due.type?.is === 'limits' || due.type?.is === 'measure' ? measureOf(due.type.measure) : null,
  };
  const low = readExpression(range.left, withTrailingUnit(range.right, env), { ...inner, type: null });
  const high = readExpression(range.right, env, { ...inner, type: null });
  const pair = agreeing(low, high, range, env);
  if (!pair) return nothing(range);
  const axes = unionAxes(low.type.axes, high.type.axes);
  if (due.type?.is === 'measure') {
    const nominal = middleOf(low, high, range);
    return fit({ op: 'toleranced', nominal, low, high, type: typed(measureOf(pair), axes), at: range }, due, env);
  }
  return fit({ op: 'limits', low, high, type: typed({ is: 'limits', measure: pair }, axes), at: range }, due, env);
}

function agreeing(left: Expr, right: Expr, at: ast.Binary, env: Env): Measure | null {
  const [a, b] = [left.type.value, right.type.value];
  if (a.is === 'unsettled' || b.is === 'unsettled') return null;
  if (a.is === 'measure' && b.is === 'measure' && canCompare(a.measure, b.measure)) return b.measure;
  env.report.add('dimension.sum', target(env, at), {
    left: textOf(left.at),
    right: textOf(right.at),
    leftType: exprWords(left, env),
    rightType: exprWords(right, env),
    verb: 'go together',
  });
  return null;
}

/** `428 ± 1 g`, `12 in ± 2 %`. */
export function readMargin(margin: ast.Binary, env: Env, due: Due): Expr {
  const percent = trailingUnit(margin.right) === '%';
  const nominal = readExpression(
    margin.left,
    percent && trailingUnit(margin.left) ? env : withTrailingUnit(margin.right, env),
    { ...due, type: null, axes: [] },
  );
  const size = readExpression(margin.right, env, { type: null, axes: [], what: 'the margin' });
  const [a, b] = [nominal.type.value, size.type.value];
  if (a.is !== 'measure' || b.is !== 'measure') return nothing(margin);
  const relative = percent && !isNone(a.measure.dimension);
  const span = relative ? binary('*', nominal, size, a, margin) : size;
  if (
    !relative &&
    add(a.measure, { ...b.measure, kind: b.measure.kind === 'point' ? 'difference' : b.measure.kind }) === null
  ) {
    agreeing(nominal, size, margin, env);
    return nothing(margin);
  }
  const wide = relative ? span : asDifference(span, margin, env);
  const low = binary('-', nominal, wide, a, margin);
  const high = binary('+', nominal, wide, a, margin);
  return fit(
    { op: 'toleranced', nominal, low, high, type: typed(a, unionAxes(nominal.type.axes, size.type.axes)), at: margin },
    due,
    env,
  );
}

/** `20 ± 2 degC`: the margin is so many degrees, not a point on the scale. */
function asDifference(size: Expr, margin: ast.Binary, env: Env): Expr {
  const written = trailingUnit(margin.right);
  const read = written ? env.library.units.parse(written) : null;
  if (size.op !== 'constant' || !read || !('unit' in read) || read.unit.offset === 0) return size;
  return constant(size.value - read.unit.offset, size.type.value, size.at);
}

/** `>= 0.080 in`: limits open on the other side. */
export function readOneSided(limit: ast.Prefixed, env: Env, due: Due): Expr {
  const bound = readExpression(limit.operand, env, { ...due, type: null });
  const value = bound.type.value;
  if (value.is === 'unsettled') return nothing(limit);
  if (value.is !== 'measure') {
    env.report.add('dimension.limits', target(env, limit));
    return nothing(limit);
  }
  const atLeast = limit.operator.startsWith('>');
  return fit(
    {
      op: 'limits',
      low: atLeast ? bound : null,
      high: atLeast ? null : bound,
      type: typed({ is: 'limits', measure: value.measure }, bound.type.axes),
      at: limit,
    },
    due,
    env,
  );
}

export function readDay(day: ast.Day, env: Env, due: Due): Expr {
  return fit(constant(Math.round(Date.parse(`${day.date}T00:00:00Z`) / 86_400_000), date, day), due, env);
}

export function readText(written: ast.Text, env: Env, due: Due): Expr {
  return fit(constant(env.draft.textNumber(written.text), text, written), due, env);
}

export function readRepeated(repeated: ast.Repeated, env: Env, due: Due): Expr {
  const list = repeated.readings;
  const inner = list.unit ? { ...env, unit: readUnit(list.unit, list, 'unit', env) } : withTrailingUnit(list, env);
  if (reportListUnit(list, inner, env, due)) return nothing(repeated);
  const readings = list.entries.map((entry) => readExpression(entry.value, inner, { ...due, axes: [] }));
  const first = readings[0] ?? number(Number.NaN, repeated);
  return {
    op: 'repeated',
    readings,
    type: typed(first.type.value, unionAxes(...readings.map((reading) => reading.type.axes))),
    at: repeated,
  };
}
