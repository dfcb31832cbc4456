/**
 * Formulas followed once, cell by cell, with the figures that are drawn left open: what comes out is a graph. What does not rest on
 * anything drawn is worked out by the interpreter and is constant from then on. Anything that is not understood is left to the interpreter.
 */
import { scalar } from '../../evaluate/tensor.ts';
import type { Elementwise, Expr, SlotId, View } from '../../ir.ts';
import { cellsFrom } from '../../plan/cells.ts';
import type { Moment, Sight } from '../../plan/moments.ts';
import type { Plan } from '../../plan/run.ts';
import { Speaker } from '../../plan/workings.ts';
import { choosesIn, partsOf } from '../../reads.ts';
import type { Moved } from './dirty.ts';
import type { DrawnFigures } from './drawn.ts';
import { along, constants, NotHere, together } from './cells.ts';
import type { Cells } from './cells.ts';
import { absent } from './graph.ts';
import type { Graph, Ref } from './graph.ts';
import { applied, binary, chosen, gathered } from './operations.ts';
import { reduced } from './reducing.ts';

/** Locals by number: what they stand for, with the locals that they see themselves. */
type Locals = ReadonlyMap<number, { readonly expr: Expr; readonly name: string; readonly locals: Locals }>;
const noLocals: Locals = new Map();

/** They look at who speaks, not at the figure. */
const standing: ReadonlySet<Elementwise> = new Set([
  'given',
  'present',
  'machined',
  'read-on',
  'read-at',
  'uncertainty',
]);

/** Views in which formulas are followed. */
const followed: ReadonlySet<Sight> = new Set(['measured', 'before', 'readings']);

export class Tracing {
  readonly graph: Graph;
  private readonly plan: Plan;
  private readonly drawn: DrawnFigures;
  private readonly moved: Moved;
  private readonly slots = new Map<number, Cells | NotHere | null>();

  constructor(plan: Plan, graph: Graph, drawn: DrawnFigures, moved: Moved) {
    this.plan = plan;
    this.graph = graph;
    this.drawn = drawn;
    this.moved = moved;
  }

  /** As measured. Throws NotHere where the interpreter must do it. */
  slot(slot: SlotId): Cells {
    return this.slotAt(slot, this.plan.clock.at('measured'));
  }

  expr(expr: Expr): Cells {
    return this.follow(expr, noLocals, this.plan.clock.at('measured'));
  }

  private slotAt(slot: SlotId, moment: Moment): Cells {
    const key = this.plan.keyOf(slot, moment);
    const known = this.slots.get(key);
    if (known === null) throw new NotHere('a circle');
    if (known instanceof NotHere) throw known;
    if (known !== undefined) return known;
    this.slots.set(key, null);
    try {
      const made = this.slotAnew(slot, moment, key);
      this.slots.set(key, made);
      return made;
    } catch (problem) {
      if (problem instanceof NotHere) this.slots.set(key, problem);
      throw problem;
    }
  }

  private slotAnew(slot: SlotId, moment: Moment, key: number): Cells {
    const { value, sources } = this.plan.nodeAt(key);
    const { sort, formula, measuredBy } = this.plan.schema.slots[slot]!;
    if (value.is !== 'numbers') throw new NotHere('no figures');
    const still = constants(this.graph, value.tensor);
    if (!this.moved.has(key) || (formula !== null && choosesIn(formula))) return still;
    if (!followed.has(moment.view)) throw new NotHere('another view');
    if (sources === null) throw new NotHere('nobody speaks');
    if (sort === 'derive' && this.plan.given.history(slot).length > 0)
      throw new NotHere('a derived figure that was read');
    const own = this.drawn.at(slot, this.plan.clock.momentOf(key));
    const { axes } = value.tensor;
    let byFormula: readonly Ref[] | null = null;
    let byReadings: readonly Ref[] | null = null;
    const laid = (expr: Expr, at: Moment): readonly Ref[] => {
      const cells = this.follow(expr, noLocals, at);
      return Array.from(cellsFrom(cells.axes, axes), (from) => cells.refs[from]!);
    };
    return along(axes, (cell) => {
      const put = own?.get(cell);
      if (put !== undefined && still.refs[cell]! > absent) return put;
      const speaker = sources[cell]!;
      if (speaker === Speaker.formula) return (byFormula ??= laid(formula!, moment))[cell]!;
      if (speaker <= Speaker.made) return (byReadings ??= laid(measuredBy!, this.readingsUnder(slot, key)))[cell]!;
      const given = this.plan.sourceAt(slot, speaker);
      if (given !== null && !this.isStill(given.source.value, noLocals, moment))
        throw new NotHere('a figure that moves');
      return still.refs[cell]!;
    });
  }

  /** Which readings a slot is made from: those since its last cut. */
  private readingsUnder(slot: SlotId, key: number): Moment {
    const { clock } = this.plan;
    const made = this.plan
      .nodeAt(key)
      .trace.filter((under) => under >= 0 && clock.slotOf(under) === slot)
      .map((under) => clock.momentOf(under))
      .filter(({ view }) => view === 'made');
    const [only] = made;
    if (only === undefined || made.length > 1) throw new NotHere('readings of several times');
    return clock.at('readings', only.upTo, false, only.from);
  }

  /** True where nothing drawn is under it. */
  private isStill(expr: Expr, locals: Locals, moment: Moment): boolean {
    switch (expr.op) {
      case 'slot':
        return !this.moved.has(this.plan.keyOf(expr.slot, moment));
      case 'was':
        return false;
      case 'local': {
        const local = locals.get(expr.local);
        return local !== undefined && this.isStill(local.expr, local.locals, moment);
      }
      case 'let':
        return this.isStill(expr.body, withLocal(locals, expr), moment);
      case 'view':
        return expr.view === 'computed'
          ? this.isStill(expr.of, locals, moment)
          : this.isStill(expr.of, locals, this.seenFrom(moment, expr.view));
      case 'apply':
        return standing.has(expr.function) || expr.args.every((arg) => this.isStill(arg, locals, moment));
      case 'solve':
        return partsOf(expr).every((part) => this.isStill(part, unbound(locals, expr), moment));
      default:
        return partsOf(expr).every((part) => this.isStill(part, locals, moment));
    }
  }

  /** Where a change of view leads to; what is made of readings sees readings. */
  private seenFrom(moment: Moment, view: View): Moment {
    return moment.view === 'readings' && view === 'measured' ? moment : this.plan.clock.at(view, moment.upTo);
  }

  private still(expr: Expr, locals: Locals, view: View): Cells {
    const { type, at } = expr;
    const seen: Expr = { op: 'view', view, of: closed(expr, locals), type, at };
    const tensor = this.plan.aside(seen);
    if (tensor === null) throw new NotHere('no figures');
    return constants(this.graph, tensor);
  }

  private follow(expr: Expr, locals: Locals, moment: Moment): Cells {
    const { graph } = this;
    const of = (one: Expr): Cells => this.follow(one, locals, moment);
    const { view, upTo } = moment;
    const asItStands = (view === 'measured' || view === 'before') && upTo === this.plan.clock.blocks;
    if (expr.op !== 'slot' && asItStands && this.isStill(expr, locals, moment)) return this.still(expr, locals, view);
    switch (expr.op) {
      case 'constant':
        return constants(graph, scalar(expr.value));
      case 'slot':
        return this.slotAt(expr.slot, moment);
      case 'let':
        return this.follow(expr.body, withLocal(locals, expr), moment);
      case 'local': {
        const local = locals.get(expr.local)!;
        return this.follow(local.expr, local.locals, moment);
      }
      case 'binary':
        return binary(graph, expr, of);
      case 'negate':
        return together([of(expr.of)], (a) => graph.step('negate', a!));
      case 'not':
        return together([of(expr.of)], (a) => graph.step('not', a!));
      case 'if':
        return chosen(graph, of(expr.condition), (figure) => (figure === 0 ? expr.no : expr.yes), of, [
          expr.yes,
          expr.no,
        ]);
      case 'by-choice': {
        const cases = new Map(expr.cases.map(({ key, value }) => [key, value]));
        return chosen(graph, of(expr.subject), (figure) => cases.get(figure) ?? expr.others, of, null);
      }
      case 'apply':
        return applied(graph, expr.function, expr.args.map(of));
      case 'view':
        if (expr.view === 'measured' || expr.view === 'before')
          return this.follow(expr.of, locals, this.seenFrom(moment, expr.view));
        if (expr.view === 'computed' && expr.of.op === 'slot') {
          const { formula } = this.plan.schema.slots[expr.of.slot]!;
          if (formula !== null) return this.follow(formula, noLocals, moment);
        }
        throw new NotHere('another view');
      case 'reduce': {
        const by = expr.by === null ? null : { index: of(expr.by.index), to: this.plan.axes.axis(expr.by.to) };
        const over = expr.over.map((id) => this.plan.axes.axis(id));
        return reduced(graph, expr, {
          of: of(expr.of),
          where: expr.where === null ? null : of(expr.where),
          by,
          over,
        });
      }
      case 'gather':
        return gathered(graph, of(expr.of), expr.axis, of(expr.index));
      default:
        throw new NotHere(expr.op);
    }
  }
}

function withLocal(locals: Locals, { local, name, value }: Extract<Expr, { op: 'let' }>): Locals {
  return new Map([...locals, [local, { expr: value, name, locals }]]);
}

/** Unknowns stand for figures that a search puts there: nothing drawn. */
function unbound(locals: Locals, { unknowns }: Extract<Expr, { op: 'solve' }>): Locals {
  const nothing: Expr = { op: 'missing', why: null, at: null, type: unknowns[0]!.type };
  return new Map([
    ...locals,
    ...unknowns.map(({ local, name }) => [local, { expr: nothing, name, locals: noLocals }] as const),
  ]);
}

/** The expression with its locals bound round it: it can be worked out by itself. */
function closed(expr: Expr, locals: Locals): Expr {
  return [...locals]
    .sort(([a], [b]) => b - a)
    .reduce(
      (body, [local, { expr: value, name }]): Expr => ({
        op: 'let',
        local,
        name,
        value,
        body,
        type: body.type,
        at: body.at,
      }),
      expr,
    );
}
