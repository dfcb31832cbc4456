/** Reads what waited for names: defaults, formulas, readings of readings, rules, and the figures a mount starts with. */
import type * as ast from '../../grammar/generated/ast.ts';
import { unionAxes } from '../types/make.ts';
import { due as dueOf, target, type Env } from '../types/env.ts';
import { readFormula } from '../types/expression.ts';
import { perWords } from '../types/words.ts';
import type { Expr } from '../ir.ts';
import { envOf, type Setting } from './build.ts';
import type { Draft } from './draft.ts';
import type { Pending } from './members.ts';
import { readRule } from './rules.ts';
import { resolveFigure } from '../names/paths.ts';

/** Mounts' own figures are bound with every build: they are kept apart. */
export function readPending(draft: Draft, pending: readonly Pending[], setting: Setting): void {
  for (const one of pending) {
    if (one.is === 'property')
      readProperty(draft, one.slot, one.declared.item, envOf(draft, one.mount, one.declared.uri, setting));
    else if (one.is === 'derive')
      readDerive(draft, one.slot, one.declared.item, envOf(draft, one.mount, one.declared.uri, setting));
    else if (one.is === 'mount')
      draft.mountDefaults.push({ mount: one.mount, parent: one.parent, declared: one.declared });
  }
  for (const one of pending) {
    if (one.is !== 'rule') continue;
    const rule = readRule(
      one.declared.item,
      draft.mounts[one.mount]!,
      envOf(draft, one.mount, one.declared.uri, setting),
    );
    if (rule) draft.rules.push(rule);
  }
}

function readProperty(draft: Draft, id: number, item: ast.Property, env: Env): void {
  const slot = draft.change(id);
  const own = ownDue(slot, env);
  if (item.value) {
    slot.formula = covered(readFormula(item.value, undefined, env, own), slot.axes, slot.path, env);
    slot.exactDefault = isWritten(slot.formula);
  }
  if (item.measuredBy)
    slot.measuredBy = covered(readFormula(item.measuredBy, undefined, env, own), slot.axes, slot.path, env);
  slot.changedBy = item.changedBy
    .map((path) => resolveFigure(path, env))
    .filter((found): found is number => found !== null);
}

function readDerive(draft: Draft, id: number, item: ast.Derive, env: Env): void {
  const slot = draft.change(id);
  slot.formula = covered(readFormula(item.value, item.where, env, ownDue(slot, env)), slot.axes, slot.path, env);
}

function ownDue(slot: Draft['slots'][number], env: Env): ReturnType<typeof dueOf> {
  const mounted = env.draft.mounts[slot.mount]!.axes;
  const own = slot.axes.filter((axis) => !mounted.includes(axis));
  return dueOf(slot.type, [...mounted, ...own], slot.path, slot.shown[0]?.unit?.symbol);
}

/** A figure may vary only along the axes that it is declared for. */
export function covered(expr: Expr, axes: readonly number[], what: string, env: Env): Expr {
  const left = expr.type.axes.filter((axis) => !axes.includes(axis));
  if (left.length === 0 || !expr.at) return expr;
  const name = env.draft.axes[left[0]!]?.name ?? '';
  env.report.add('axes.left-over', target(env, expr.at), {
    what,
    due: perWords(axes, env),
    have: perWords(unionAxes(expr.type.axes), env),
    example: `mean(… over ${name})`,
  });
  return { op: 'missing', why: null, type: { value: expr.type.value, axes }, at: expr.at };
}

/** Written out in full: no other figure is in it. */
function isWritten(expr: Expr): boolean {
  return expr.op === 'constant' || (expr.op === 'toleranced' && expr.nominal.op === 'constant');
}
