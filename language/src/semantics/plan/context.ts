/**
 * The plan as the interpreter sees it while one expression runs: slots in the view and at the block in question, axes,
 * and how cells stand (given, machined, read). Knows no arithmetic.
 */
import type { AstNode } from 'langium';
import type { EvalContext, EvaluationProblem } from '../evaluate/context.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import type { Origin, Slot } from '../schema/schema.ts';
import type { AxisId } from '../types/type.ts';
import { sizeOf } from './cells.ts';
import type { Figure } from './figures.ts';
import { lastCut } from './history.ts';
import type { Moment } from './moments.ts';
import { holdsAt } from './warmth.ts';
import { axesOf } from './workings.ts';
import type { Workings } from './workings.ts';

/** What a context needs beyond the workings: where slips go, what was before, and how sure a figure is. */
export interface Desk extends Workings {
  was(slot: SlotId, moment: Moment, figure: Figure | null): Value;
  uncertaintyOf(slot: SlotId, moment: Moment): Tensor;
  /** Runs a slot's formula in another context. */
  formulaIn(slot: Slot, context: EvalContext): Value;
  sourceAt(slot: SlotId, speaker: number): Figure | null;
  hear(reason: string): void;
  slip(code: EvaluationProblem, args: Readonly<Record<string, string>>, at: AstNode | null, about: Origin): void;
}

interface Put {
  readonly axis: Axis;
  readonly coordinates: Tensor;
}

export class PlanContext implements EvalContext {
  readonly view: View;
  private readonly desk: Desk;
  private readonly moment: Moment;
  private readonly about: { readonly origin: Origin };
  private readonly figure: Figure | null;
  private readonly put: ReadonlyMap<AxisId, Put>;
  private readonly anew = new Map<string, Value>();

  constructor(
    desk: Desk,
    moment: Moment,
    about: { readonly origin: Origin },
    figure: Figure | null,
    view?: View,
    put: ReadonlyMap<AxisId, Put> = new Map(),
  ) {
    this.desk = desk;
    this.moment = moment;
    this.about = about;
    this.figure = figure;
    this.view = view ?? viewOf(moment);
    this.put = put;
  }

  axis(id: AxisId): Axis {
    return this.put.get(id)?.axis ?? this.desk.axes.axis(id);
  }

  coordinates(id: AxisId): Tensor {
    const put = this.put.get(id);
    if (put !== undefined) return put.coordinates;
    const axis = this.desk.axes.axis(id);
    return { axes: [axis], data: axis.coordinates, mark: null };
  }

  stepped(id: AxisId): boolean {
    const { range } = this.desk.schema.axes[id]!;
    return range !== null && range.step !== null;
  }

  openAxis(id: AxisId, size: number, labels: readonly string[] | null): Axis {
    return this.desk.axes.open(id, size, labels);
  }

  slot(id: SlotId, view: View): Value {
    return this.read(id, view, false);
  }

  computed(id: SlotId, view: View): Value {
    return this.read(id, view, true);
  }

  was(id: SlotId): Value {
    return this.desk.was(id, this.moment, this.figure);
  }

  given(id: SlotId, view: View): Tensor {
    const { sources } = this.desk.node(id, this.momentOf(view, false));
    return this.flags(id, (cell) => {
      const source = this.desk.sourceAt(id, sources?.[cell] ?? -1)?.source;
      return (source !== undefined && source.layer !== 'mount-default') || (sources?.[cell] ?? 0) <= -10;
    });
  }

  machined(id: SlotId, _view: View): Tensor {
    const cut = lastCut(this.desk, this.desk.schema.slots[id]!, this.moment.upTo);
    return this.flags(id, (cell) => cut[cell]! >= 0);
  }

  present(id: SlotId, _view: View): Tensor {
    const absent = this.desk.given.absent.has(this.desk.schema.slots[id]!.mount);
    return this.flags(id, () => !absent);
  }

  readOn(id: SlotId, view: View): Tensor {
    return this.ofReading(id, view, ({ source }) => daysOf(source.date));
  }

  readAt(id: SlotId, view: View): Tensor {
    return this.ofReading(id, view, (figure) => holdsAt(this.desk, figure));
  }

  uncertainty(id: SlotId, view: View): Tensor {
    return this.desk.uncertaintyOf(id, this.momentOf(view, false));
  }

  withAxis(id: AxisId, axis: Axis, coordinates: Tensor): EvalContext {
    return this.with(this.view, new Map([...this.put, [id, { axis, coordinates }]]));
  }

  withSettled(id: AxisId): EvalContext {
    if (!this.put.has(id)) return this;
    return this.with(this.view, new Map([...this.put].filter(([other]) => other !== id)));
  }

  withView(view: View): EvalContext {
    return view === this.view ? this : this.with(view, this.put);
  }

  missing(reason: string, _at: AstNode | null): void {
    this.desk.hear(reason);
  }

  problem(code: EvaluationProblem, args: Readonly<Record<string, string>>, at: AstNode | null): void {
    this.desk.slip(code, args, at, this.figure?.source.origin ?? this.about.origin);
  }

  private with(view: View, put: ReadonlyMap<AxisId, Put>): PlanContext {
    return new PlanContext(this.desk, this.moment, this.about, this.figure, view, put);
  }

  private momentOf(view: View, bare: boolean): Moment {
    const { clock } = this.desk;
    if (this.moment.view === 'readings' && view === 'measured')
      return clock.at('readings', this.moment.upTo, false, this.moment.from);
    return clock.at(view, this.moment.upTo, bare);
  }

  private read(id: SlotId, view: View, bare: boolean): Value {
    const node = this.desk.node(id, this.momentOf(view, bare));
    const slot = this.desk.schema.slots[id]!;
    const moved = slot.axes.some((axis) => this.put.has(axis));
    // only a formula can be taken at other places; what was given along the axis stays where it stands
    if (!moved || slot.formula === null || node.sources === null || node.sources.some((speaker) => speaker !== -2))
      return node.value;
    const key = `${id} ${view}`;
    const value = this.anew.get(key) ?? this.desk.formulaIn(slot, this.withView(view));
    this.anew.set(key, value);
    return value;
  }

  private flags(id: SlotId, test: (cell: number) => boolean): Tensor {
    const axes = axesOf(this.desk, this.desk.schema.slots[id]!);
    return { axes, data: Float64Array.from({ length: sizeOf(axes) }, (_, cell) => (test(cell) ? 1 : 0)), mark: null };
  }

  private ofReading(id: SlotId, view: View, figureOf: (figure: Figure) => number | null): Tensor {
    const { sources } = this.desk.node(id, this.momentOf(view, false));
    const axes = axesOf(this.desk, this.desk.schema.slots[id]!);
    const data = Float64Array.from({ length: sizeOf(axes) }, (_, cell) => {
      const figure = this.desk.sourceAt(id, sources?.[cell] ?? -1);
      return figure?.source.layer === 'measured' ? (figureOf(figure) ?? NaN) : NaN;
    });
    return { axes, data, mark: Uint8Array.from(data, (x) => (Number.isNaN(x) ? Mark.missing : Mark.exact)) };
  }
}

/** Readings alone are looked at as measured. */
function viewOf(moment: Moment): View {
  const { view } = moment;
  return view === 'readings' || view === 'made' || view === 'figure' ? 'measured' : view;
}

function daysOf(date: string | null): number | null {
  return date === null ? null : Date.parse(`${date}T00:00:00Z`) / 86_400_000;
}
