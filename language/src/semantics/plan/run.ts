/**
 * One build, laid out and worked out on demand: slots at moments, each at most once, with whatever an earlier plan knows
 * already. Figures come from the interpreter; this class only says what is asked, in which view, and remembers it.
 */
import type { AstNode } from 'langium';
import type { BuildBinding } from '../bind/binding.ts';
import type { EvalContext, EvaluationProblem } from '../evaluate/context.ts';
import { evaluate } from '../evaluate/interpreter.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { AxisKey, Expr, SlotId, View } from '../ir.ts';
import type { Origin, Schema, Slot } from '../schema/schema.ts';
import { AxisTable } from './axes.ts';
import { markAt, sameValue } from './cells.ts';
import { PlanContext } from './context.ts';
import type { Desk } from './context.ts';
import { Given } from './figures.ts';
import type { Figure } from './figures.ts';
import { nothing } from './layers.ts';
import { Masks } from './masks.ts';
import type { Mask } from './masks.ts';
import { Memo } from './memo.ts';
import type { Made, Maker, Node } from './memo.ts';
import { Clock } from './moments.ts';
import type { Moment } from './moments.ts';
import type { Outcome, PlanProblem } from './outcome.ts';
import { lanesAxis, overlaidBy } from './overrides.ts';
import type { Override } from './overrides.ts';
import { outcomeOf } from './report.ts';
import { Sensitivities, standardUncertainty } from './sensitivities.ts';
import { sourceOf } from './sources.ts';
import { blocksStamp, historyShape, stampOf } from './stamps.ts';
import { lastTouch } from './touched.ts';
import { inView } from './views.ts';
import { axesOf } from './workings.ts';

export interface Watched {
  readonly value: Value;
  readonly why: readonly string[];
  readonly trace: readonly number[];
}

interface Heard {
  readonly why: string[];
  readonly problems: PlanProblem[];
}

/** What a plan was made from. */
interface Start {
  readonly binding: BuildBinding;
  readonly texts: readonly string[];
  readonly previous: Plan | null;
  /** The plan that this one differs from by `overrides` only. */
  readonly parent: { readonly plan: Plan; readonly overrides: readonly Override[]; readonly lanes: number } | null;
}

export function planBuild(binding: BuildBinding, previous?: Plan, texts: readonly string[] = []): Plan {
  return new Plan({ binding, texts, previous: previous ?? null, parent: null });
}

const levels = 64;

export class Plan implements Desk, Maker {
  readonly binding: BuildBinding;
  readonly schema: Schema;
  readonly texts: readonly string[];
  readonly given: Given;
  readonly clock: Clock;
  readonly axes: AxisTable;
  readonly base: Plan | null;
  readonly overridden: boolean;
  private readonly parent: Start['parent'];
  private readonly lanes: Axis | null;
  private readonly masks: Masks;
  private readonly memo: Memo;
  private readonly touch: Int32Array;
  private readonly stamps = new Map<SlotId, string>();
  private readonly heard: Heard[] = [];
  private readonly slips: PlanProblem[] = [];
  private readonly circles = new Map<string, { readonly slots: readonly SlotId[]; readonly keys: readonly number[] }>();
  private readonly formulasCut = new Set<number>();
  private readonly watched = new Map<Expr, Watched & { readonly settled: boolean }>();
  private previous: Plan | null;
  private runs = 0;
  private shape: string | null = null;
  private made: Outcome | null = null;
  private certainty: Sensitivities | null = null;

  constructor(start: Start) {
    const { binding, texts, parent } = start;
    this.binding = binding;
    this.schema = binding.schema;
    this.texts = texts;
    this.parent = parent;
    this.overridden = parent !== null;
    this.lanes = parent === null || parent.lanes === 0 ? null : lanesAxis(parent.lanes);
    this.memo = new Memo(this);
    this.previous = comparable(start.previous, binding) ? start.previous : null;
    if (parent !== null) {
      const { plan } = parent;
      [this.base, this.given, this.clock, this.axes, this.masks, this.touch] = [
        plan.base,
        plan.given,
        plan.clock,
        plan.axes,
        plan.masks,
        plan.touch,
      ];
      return;
    }
    const { previous } = this;
    this.base =
      binding.base === null
        ? null
        : new Plan({ binding: binding.base, texts, previous: previous?.base ?? null, parent: null });
    this.given = new Given(binding);
    if (previous !== null && blocksStamp(previous.given) !== blocksStamp(this.given)) this.previous = null;
    this.clock = this.previous?.clock ?? new Clock(this.given.blocks.length, this.schema.slots.length);
    this.touch = lastTouch(this.schema, this.given);
    this.axes = new AxisTable(
      this.schema,
      (expr) => this.scalar(expr),
      (axis, size) => this.slips.push(tooLarge(axis.name, size, axis.origin)),
      previous?.axes ?? this.base?.axes ?? null,
    );
    this.masks = new Masks(this.schema, this.given, this.axes);
    this.settleAxes();
    previous?.forget();
  }

  /** Everything that follows, worked out once. */
  outcome(): Outcome {
    this.made ??= outcomeOf(this);
    return this.made;
  }

  /** How many figures and formulas of slots were worked out here, rather than taken over: the cost of an edit. */
  get evaluated(): number {
    return this.runs;
  }

  /** The same build with other figures in some cells; shares whatever does not rest on them. */
  withInputs(overrides: readonly Override[], lanes = 0): Plan {
    const { binding, texts } = this;
    return new Plan({ binding, texts, previous: null, parent: { plan: this, overrides, lanes } });
  }

  sensitivities(): Sensitivities {
    this.certainty ??= new Sensitivities(this);
    return this.certainty;
  }

  /** The same with no sources but those that the slot rests on: may be asked while others are being worked out. */
  sensitivitiesUnder(slot: SlotId): Sensitivities {
    const under = this.memo.under([this.keyOf(slot, this.clock.at('measured'))]);
    return new Sensitivities(this, new Set([...under].filter((key) => key >= 0).map((key) => this.clock.slotOf(key))));
  }

  /** A slot's value as the outcome shows it. */
  valueOf(slot: SlotId, view: View): Node {
    return this.node(slot, this.clock.at(view));
  }

  /** An expression outside of any slot, such as a side of a check, as measured. */
  watch(expr: Expr, origin: Origin = this.binding.origin): Watched {
    const known = this.watched.get(expr);
    if (known !== undefined) return known;
    const earlier = (this.parent?.plan ?? this.previous)?.watched.get(expr);
    const heard: Heard = { why: [], problems: [] };
    const { result, trace, settled } = this.memo.watch(() => {
      heard.why.length = heard.problems.length = 0;
      if (earlier?.settled === true && this.memo.unchanged(earlier.trace)) return earlier.value;
      return this.listening(heard, () =>
        evaluate(expr, new PlanContext(this, this.clock.at('measured'), { origin }, null)),
      );
    });
    const value = earlier !== undefined && sameValue(earlier.value, result) ? earlier.value : result;
    const why = value === earlier?.value ? earlier.why : heard.why;
    const made = { value, why, trace, settled: settled && heard.problems.length === 0 };
    if (this.parent === null) this.slips.push(...heard.problems);
    this.watched.set(expr, made);
    return made;
  }

  /** One figure or formula by itself, as measured: for showing the steps that led to a cell. */
  inspect(expr: Expr, slot: Slot, figure: Figure | null): Value {
    const heard: Heard = { why: [], problems: [] };
    return this.memo.settle(() => this.listening(heard, () => this.run(expr, this.clock.at('measured'), slot, figure)));
  }

  /** A machining or a reading by itself. */
  historyValue(slot: SlotId, index: number): Value {
    return this.node(slot, this.clock.at('figure', undefined, false, index)).value;
  }

  /** Keys that these rest on. */
  under(keys: readonly number[]): ReadonlySet<number> {
    return this.memo.under(keys);
  }

  /** Slips met so far. */
  problems(): readonly PlanProblem[] {
    return [...this.slips, ...this.memo.problems()];
  }

  /** Circles that were cut, with the slots that they run through. */
  cutCircles(): readonly { readonly slots: readonly SlotId[]; readonly keys: readonly number[] }[] {
    return [...this.circles.values()];
  }

  // What the parts of the plan ask

  maskOf(figure: Figure): Mask {
    return this.masks.of(figure, (key, axis) => this.slips.push(offAxis(key, axis.name, figure)));
  }

  node(slot: SlotId, moment: Moment): Node {
    const key = this.keyOf(slot, moment);
    return this.memo.settle(() => this.memo.fetch(key));
  }

  glance(slot: SlotId, moment: Moment): Node {
    const key = this.keyOf(slot, moment);
    return this.memo.settle(() => this.memo.fetchQuietly(key));
  }

  nodeAt(key: number): Node {
    return this.memo.settle(() => this.memo.fetch(key));
  }

  keyOf(slot: SlotId, moment: Moment): number {
    return this.clock.keyOf(slot, this.normal(slot, moment));
  }

  formulaCounts(slot: Slot, moment: Moment): boolean {
    return this.formulasCut.size === 0 || !this.formulasCut.has(this.keyOf(slot.id, moment));
  }

  run(expr: Expr, moment: Moment, slot: Slot, figure: Figure | null): Value {
    this.runs++;
    return evaluate(expr, new PlanContext(this, moment, slot, figure));
  }

  formulaIn(slot: Slot, context: EvalContext): Value {
    return evaluate(slot.formula!, context);
  }

  formulaThen(slot: SlotId, depth: number, upTo: number): Value {
    const level = this.given.depth - depth;
    if (level > 0) return this.baseValue(level, slot, 'measured', upTo, true);
    const here: Plan = this.root();
    const moment = this.clock.at('measured', upTo, true);
    return here === this ? this.node(slot, moment).value : here.nodeAt(here.keyOf(slot, moment)).value;
  }

  was(slot: SlotId, moment: Moment, figure: Figure | null): Value {
    const variant = figure !== null && figure.block === null ? this.given.depth - figure.depth + 1 : 0;
    if (variant === 0) return this.node(slot, moment).value;
    const view =
      moment.view === 'readings' || moment.view === 'made' || moment.view === 'figure' ? 'measured' : moment.view;
    return this.baseValue(variant, slot, view, moment.upTo, false);
  }

  uncertaintyOf(slot: SlotId, moment: Moment): Tensor {
    return standardUncertainty(this.root(), slot, moment, this.node(slot, moment));
  }

  sourceAt(slot: SlotId, speaker: number): Figure | null {
    return sourceOf(this, slot, speaker);
  }

  hear(reason: string): void {
    const why = this.heard.at(-1)?.why;
    if (why !== undefined && !why.includes(reason)) why.push(reason);
  }

  slip(code: EvaluationProblem, args: Readonly<Record<string, string>>, at: AstNode | null, about: Origin): void {
    const origin = at === null ? about : { uri: about.uri, at };
    const problem: PlanProblem = { code, severity: 'error', args, origin, related: [] };
    this.heard.at(-1)?.problems.push(problem);
  }

  sharedWithSpecified(slot: SlotId, moment: Moment): Node | null {
    const { view } = moment;
    if (view !== 'ordered' && view !== 'before' && view !== 'measured') return null;
    const specified = this.glance(slot, this.clock.at('specified', moment.upTo));
    if (!specified.settled) return null;
    return specified.trace.every((key) => this.sameAsSpecified(key, view)) ? specified : null;
  }

  private sameAsSpecified(key: number, view: View): boolean {
    if (key < 0) return this.foreignIn(key, 'specified') === this.foreignIn(key, view);
    const moment = this.clock.momentOf(key);
    if (moment.view !== 'specified') return this.memo.fetch(key) !== null;
    const slot = this.clock.slotOf(key);
    const there = this.keyOf(slot, this.clock.at(view, moment.upTo));
    return this.memo.fetch(there).value === this.memo.fetchQuietly(key).value;
  }

  // What the memo asks

  make(key: number): Made {
    const slot = this.schema.slots[this.clock.slotOf(key)]!;
    const moment = this.clock.momentOf(key);
    const heard: Heard = { why: [], problems: [] };
    const { value, sources } = this.listening(
      heard,
      () => this.overrideFor(slot, moment) ?? inView(this, slot, moment),
    );
    const earlier = this.parent === null && this.sameGiven(slot.id) ? this.previous!.memo.known(key) : null;
    const same = earlier !== null && sameValue(earlier.value, value) && sameSources(earlier.sources, sources);
    return { value: same ? earlier.value : value, sources, ...heard };
  }

  earlier(key: number): Node | null {
    const slot = this.clock.slotOf(key);
    if (this.parent !== null)
      return this.isOverridden(slot, this.clock.momentOf(key)) ? null : this.parent.plan.nodeAt(key);
    const { previous } = this;
    if (previous === null || !this.sameGiven(slot)) return null;
    const feelsHistory = this.touch[slot]! >= 0 || previous.touch[slot]! >= 0;
    if (feelsHistory && this.historyShape() !== previous.historyShape()) return null;
    const node = previous.memo.known(key);
    return node === null || node.problems.length > 0 ? null : node;
  }

  earlierValue(key: number): Value | null {
    if (this.parent !== null) return key < 0 ? this.foreign(key) : this.parent.plan.nodeAt(key).value;
    if (key >= 0) return this.previous?.memo.known(key)?.value ?? null;
    return this.previous?.foreignKnown(key) ?? null;
  }

  nothing(key: number): Made {
    return { ...nothing(this, this.schema.slots[this.clock.slotOf(key)]!), why: [], problems: [] };
  }

  withoutFormula(key: number): void {
    this.formulasCut.add(key);
  }

  head(circle: readonly number[]): number {
    const bySlot = (a: number, b: number): number => this.clock.slotOf(a) - this.clock.slotOf(b) || a - b;
    return [...circle].sort(bySlot)[0]!;
  }

  circle(keys: readonly number[]): void {
    const slots = [...new Set(keys.map((key) => this.clock.slotOf(key)))].sort((a, b) => a - b);
    const name = slots.join(' ');
    const known = this.circles.get(name);
    this.circles.set(name, { slots, keys: [...new Set([...(known?.keys ?? []), ...keys])] });
  }

  foreign(key: number): Value | null {
    return key < 0 ? this.foreignIn(key, null) : null;
  }

  // Bases of a variant

  private baseAt(level: number): Plan {
    return level === 0 ? this : this.base!.baseAt(level - 1);
  }

  /** A base's value; figures that lie along axes of another size there are missing here. */
  private baseValue(level: number, slot: SlotId, view: View, upTo: number, bare: boolean): Value {
    const base = this.root().baseAt(level);
    const moment = base.clock.at(view, Math.min(upTo, base.clock.blocks), bare);
    const key = base.keyOf(slot, moment);
    this.memo.note(-1 - (key * levels + level));
    return this.onOwnAxes(this.schema.slots[slot]!, base.nodeAt(key).value);
  }

  private onOwnAxes(slot: Slot, value: Value): Value {
    const axes = value.is === 'numbers' ? value.tensor.axes : value.is === 'limits' ? value.low.axes : value.axes;
    const fits = axes.every((axis) => this.schema.axes[axis.id]!.open || axis === this.axes.known(axis.id));
    return fits ? value : nothing(this, slot).value;
  }

  private foreignIn(key: number, view: View | null): Value {
    const level = (-1 - key) % levels;
    const base = this.root().baseAt(level);
    const there = Math.floor((-1 - key) / levels);
    if (view === null) return base.nodeAt(there).value;
    const { upTo, bare } = base.clock.momentOf(there);
    return base.valueAt(base.clock.slotOf(there), base.clock.at(view, upTo, bare));
  }

  private valueAt(slot: SlotId, moment: Moment): Value {
    return this.nodeAt(this.keyOf(slot, moment)).value;
  }

  private foreignKnown(key: number): Value | null {
    const level = (-1 - key) % levels;
    return this.baseAt(level).memo.known(Math.floor((-1 - key) / levels))?.value ?? null;
  }

  private root(): Plan {
    return this.parent === null ? this : this.parent.plan.root();
  }

  // Taking over

  private normal(slot: SlotId, moment: Moment): Moment {
    if (moment.view === 'figure') return moment;
    const { measuredBy } = this.schema.slots[slot]!;
    const plain = measuredBy === null && this.given.history(slot).length === 0;
    const bare = moment.bare && !plain && moment.view !== 'specified';
    const upTo = this.touch[slot]! < moment.upTo ? this.clock.blocks : moment.upTo;
    return bare === moment.bare && upTo === moment.upTo ? moment : this.clock.at(moment.view, upTo, bare, moment.from);
  }

  private sameGiven(slot: SlotId): boolean {
    return this.previous !== null && this.stamp(slot) === this.previous.stamp(slot);
  }

  private stamp(slot: SlotId): string {
    const known = this.stamps.get(slot);
    if (known !== undefined) return known;
    const stamp = stampOf(this.schema.slots[slot]!, this.given, (figure) => this.maskOf(figure));
    this.stamps.set(slot, stamp);
    return stamp;
  }

  private historyShape(): string {
    this.shape ??= historyShape(this.schema, this.given, (figure) => this.maskOf(figure));
    return this.shape;
  }

  private settleAxes(): void {
    const all = this.axes.settleAll();
    const before = this.previous?.axes.settleAll();
    if (before !== undefined && ![...all.values()].every((axis) => before.get(axis.id) === axis)) this.previous = null;
    if (before !== undefined && before.size !== all.size) this.previous = null;
    for (const { id } of this.schema.slots) this.stamp(id);
  }

  /** An earlier plan is needed no longer once its successor is made from it: chains of edits must not pile up. */
  private forget(): void {
    this.previous = null;
    this.axes.forget();
  }

  private scalar(expr: Expr): number | null {
    const { value } = this.watchSpecified(expr);
    if (value.is !== 'numbers' || value.tensor.data.length !== 1) return null;
    return markAt(value.tensor.mark, 0) >= Mark.missing ? null : value.tensor.data[0]!;
  }

  private watchSpecified(expr: Expr): { readonly value: Value } {
    const heard: Heard = { why: [], problems: [] };
    const { origin } = this.binding;
    const context = new PlanContext(this, this.clock.at('specified'), { origin }, null);
    return { value: this.memo.settle(() => this.listening(heard, () => evaluate(expr, context))) };
  }

  private isOverridden(slot: SlotId, moment: Moment): boolean {
    return this.overrideOf(slot, moment) !== null;
  }

  private overrideOf(slot: SlotId, moment: Moment): Override | null {
    if (this.parent === null || moment.bare || moment.upTo !== this.clock.blocks) return null;
    return (
      this.parent.overrides.find((one) => one.slot === slot && (one.view === null || one.view === moment.view)) ?? null
    );
  }

  private overrideFor(slot: Slot, moment: Moment): Pick<Made, 'value' | 'sources'> | null {
    const override = this.overrideOf(slot.id, moment);
    if (override === null) return null;
    const node = this.parent!.plan.nodeAt(this.keyOf(slot.id, moment));
    return { value: overlaidBy(node.value, override.cells, axesOf(this, slot), this.lanes), sources: node.sources };
  }

  private listening<T>(heard: Heard, task: () => T): T {
    this.heard.push(heard);
    try {
      return task();
    } finally {
      this.heard.pop();
    }
  }
}

function comparable(previous: Plan | null, binding: BuildBinding): boolean {
  return (
    previous !== null && previous.schema === binding.schema && (previous.base === null) === (binding.base === null)
  );
}

function sameSources(a: Int32Array | null, b: Int32Array | null): boolean {
  if (a === null || b === null) return a === b;
  return a.length === b.length && a.every((speaker, cell) => speaker === b[cell]);
}

function tooLarge(what: string, here: number, origin: Origin): PlanProblem {
  return { code: 'list.too-large', severity: 'error', args: { what, here: String(here) }, origin, related: [] };
}

function offAxis(key: AxisKey, axis: string, figure: Figure): PlanProblem {
  const { origin } = figure.source;
  const args = { key: key.label ?? String(key.number), axis };
  const at = key.at === null ? origin : { uri: origin.uri, at: key.at };
  return { code: 'list.no-such-place', severity: 'error', args, origin: at, related: [] };
}
