/**
 * One evaluation under way: the plan's context, the locals of the formula, and where reasons for missing cells go.
 * Locals are evaluated when they are first read, so that a change of view or of an axis's coordinates reaches them too.
 */
import type { AstNode } from 'langium';
import type { Expr, View } from '../ir.ts';
import type { AxisId } from '../types/type.ts';
import { refinementOf } from './refined.ts';
import type { EvalContext } from './context.ts';
import { figures } from './tensor.ts';
import type { Axis, Tensor, Value } from './value.ts';

/** `expr` null: a figure put there by a search. */
interface Local {
  readonly expr: Expr | null;
  value: Value | null;
}
interface Reason {
  readonly reason: string;
  readonly at: AstNode | null;
}
export type Run = (expr: Expr, frame: Frame) => Value;

export class Frame {
  readonly context: EvalContext;
  private readonly run: Run;
  private readonly locals: (Local | undefined)[];
  private readonly held: Reason[] | null;

  constructor(context: EvalContext, run: Run, locals: (Local | undefined)[] = [], held: Reason[] | null = null) {
    this.context = context;
    this.run = run;
    this.locals = locals;
    this.held = held;
  }

  value(expr: Expr): Value {
    return this.run(expr, this);
  }

  tensor(expr: Expr): Tensor {
    return figures(this.run(expr, this));
  }

  axis(id: AxisId): Axis {
    return this.context.axis(id);
  }

  missing(reason: string, at: AstNode | null): void {
    if (this.held === null) this.context.missing(reason, at);
    else this.held.push({ reason, at });
  }

  /** The same evaluation with its reasons held back until `tell`: what a branch lacks matters only where it is taken. */
  holding(): Frame {
    return new Frame(this.context, this.run, this.locals, []);
  }
  tell(to: Frame): void {
    for (const { reason, at } of this.held ?? []) to.missing(reason, at);
  }

  /** `let`: the body sees one more local, evaluated when it is read. */
  bind(index: number, expr: Expr, body: Expr): Value {
    const before = this.locals[index];
    this.locals[index] = { expr, value: null };
    try {
      return this.value(body);
    } finally {
      this.locals[index] = before;
    }
  }

  local(index: number): Value {
    const local = this.locals[index];
    if (local === undefined) throw new Error(`There is no local ${index} here.`);
    local.value ??= this.value(local.expr!);
    return local.value;
  }

  /** What a local stands for; null for the unknown of a search. */
  localExpr(index: number): Expr | null {
    return this.locals[index]?.expr ?? null;
  }

  /** With figures in the place of unknowns; their reasons are nobody's business while a search is on. */
  trying(unknowns: readonly { readonly local: number; readonly value: Value }[]): Frame {
    const locals = this.locals.slice();
    for (const { local, value } of unknowns) locals[local] = { expr: null, value };
    return new Frame(this.context, this.run, locals, []);
  }

  inView(view: View): Frame {
    return view === this.context.view ? this : this.elsewhere(this.context.withView(view));
  }

  withAxis(id: AxisId, axis: Axis, coordinates: Tensor): Frame {
    return this.elsewhere(this.context.withAxis(id, axis, coordinates));
  }

  /** With the settled axes in their places: inside of what runs along a whole axis. */
  settled(ids: readonly AxisId[]): Frame {
    const replaced = ids.filter((id) => refinementOf(this.context.axis(id)) !== null);
    if (replaced.length === 0) return this;
    return this.elsewhere(replaced.reduce((context, id) => context.withSettled(id), this.context));
  }

  private elsewhere(context: EvalContext): Frame {
    const locals = this.locals.map((local) => (local?.expr ? { expr: local.expr, value: null } : local));
    return new Frame(context, this.run, locals, this.held);
  }
}
