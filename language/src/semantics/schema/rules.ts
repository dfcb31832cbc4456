/** A rule or an expectation: what is compared with which limits, when it applies, why, and what may be turned. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf, sourceText } from '../../grammar/file.ts';
import type { Expr, SlotId } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { resolveTarget } from '../names/paths.ts';
import { due as dueOf, target, type Env } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { condition } from '../types/operators.ts';
import type { MountDraft } from './draft.ts';
import type { AdjustTarget, Comparison, Demand, SchemaRule } from './schema.ts';

export function readRule(item: ast.Rule, mount: MountDraft, env: Env): SchemaRule | null {
  const clauses = <T extends ast.Clause['$type']>(type: T): Extract<ast.Clause, { $type: T }>[] =>
    item.clauses.filter((clause): clause is Extract<ast.Clause, { $type: T }> => clause.$type === type);
  const expect = clauses('Expect')[0];
  const severity = severityOf(item, env);
  if (!expect?.value || !severity || !item.name) {
    if (!expect && item.name) env.report.add('declare.no-expect', target(env, item, 'name'));
    return null;
  }
  const when = clauses('When')[0]?.condition;
  const demand = readDemand(expect.value, env);
  if (!demand) return null;
  return {
    id: mount.path === '' ? item.name : `${mount.path}.${item.name}`,
    name: item.name,
    mount: mount.id,
    severity,
    when: when ? condition(when, env) : null,
    demand,
    because: clauses('Because')[0]?.text ?? expect.reason ?? '',
    adjust: clauses('Adjust').flatMap((adjust) => readAdjust(adjust, env)),
    doc: docOf(item),
    origin: { uri: env.uri, at: item },
  };
}

function severityOf(item: ast.Rule, env: Env): SchemaRule['severity'] | null {
  const name = item.severity;
  if (name === 'error' || name === 'warning' || name === 'advice') return name;
  if (name) {
    const near = env.report.nearest(name, ['error', 'warning', 'advice']);
    const at = target(env, item, 'severity');
    env.report.add('declare.severity', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  }
  return null;
}

function readAdjust(adjust: ast.Adjust, env: Env): AdjustTarget[] {
  const targets: AdjustTarget[] = [];
  adjust.targets.forEach((one, i) => {
    const found = one.path ? resolveTarget(one.path, env) : null;
    if (!found) return;
    const link = i === 0 ? null : adjust.links[i - 1] === 'then' ? 'then' : 'or';
    targets.push({ ...found, even: one.even, link });
  });
  return targets;
}

/** Null where nothing can be compared; reported. */
export function readDemand(expr: ast.Expr, env: Env): Demand | null {
  const comparisons: Comparison[] = [];
  if (collect(expr, env, comparisons)) return comparisons.length > 0 ? { comparisons, flag: null, at: expr } : null;
  const flag = readExpression(expr, { ...env, unit: null }, dueOf(null));
  const { is } = flag.type.value;
  if (is !== 'flag' && is !== 'unsettled') env.report.add('given.no-shape', target(env, expr));
  return is !== 'flag' || flag.op === 'missing' ? null : { comparisons: [], flag, at: expr };
}

/** True where the whole is figures against limits, joined by `and`. */
function collect(expr: ast.Expr | ast.Prefixed, env: Env, comparisons: Comparison[]): boolean {
  if (expr.$type === 'Paren' && expr.keys.length === 0) return collect(expr.value, env, comparisons);
  if (expr.$type !== 'Binary') return false;
  if (expr.operator === 'and') {
    const before = comparisons.length;
    if (collect(expr.left, env, comparisons) && collect(expr.right, env, comparisons)) return true;
    comparisons.length = before;
    return false;
  }
  const comparison = compared(expr, env);
  if (comparison === 'not-figures') return false;
  if (comparison) comparisons.push(comparison);
  return true;
}

const compares: ReadonlySet<string> = new Set(['within', '<=', '>=', '<', '>', '==']);

/** Null: reported already. */
function compared(expr: ast.Binary, env: Env): Comparison | null | 'not-figures' {
  if (!compares.has(expr.operator)) return 'not-figures';
  const read = readExpression(expr, env, dueOf(null));
  if (read.op === 'within')
    return read.value.type.value.is === 'measure' ? made(expr, read.value, { limits: read.limits }) : 'not-figures';
  if (read.op !== 'binary') return null;
  if (read.left.type.value.is !== 'measure' || read.right.type.value.is !== 'measure') return 'not-figures';
  const swapped = read.left.op === 'constant' && read.right.op !== 'constant';
  const [value, limit] = swapped ? [read.right, read.left] : [read.left, read.right];
  const least = read.operator === '==' || read.operator.startsWith('>') !== swapped;
  const most = read.operator === '==' || read.operator.startsWith('<') !== swapped;
  const open = read.operator === '<' || read.operator === '>';
  return made(expr, value, { low: least ? limit : null, high: most ? limit : null, open });
}

function made(
  at: ast.Binary,
  value: Expr,
  given: { low?: Expr | null; high?: Expr | null; limits?: Expr; open?: boolean },
): Comparison {
  const { low = null, high = null, limits = null, open = false } = given;
  return {
    value,
    low,
    high,
    limits,
    lowOpen: open && low !== null,
    highOpen: open && high !== null,
    slot: slotOf(value),
    at,
  };
}

/** The slot that the whole left side is, or cells of it. */
function slotOf(value: Expr): SlotId | null {
  if (value.op === 'slot') return value.slot;
  return value.op === 'gather' && value.index.op === 'constant' ? slotOf(value.of) : null;
}

export function demandText(expr: ast.Expr): string {
  return sourceText(expr).replace(/\s+/g, ' ').trim();
}
