/**
 * One build, laid out and worked out on demand: slots at moments, each at most once, with whatever an earlier plan knows
 * already. Figures come from the interpreter; this class only says what is asked, in which view, and remembers it.
 */
import type { AstNode } from 'langium';
import type { BuildBinding } from '../bind/binding.ts';
import type { EvalContext, EvaluationProblem } from '../evaluate/context.ts';
import { evaluate } from '../evaluate/interpreter.ts';
import type { Tensor, Value } from '../evaluate/value.ts';
import type { Expr, SlotId, View } from '../ir.ts';
import type { Origin, Schema, Slot } from '../schema/schema.ts';
import { Asides, type Watched } from './asides.ts';
import { AxisTable } from './axes.ts';
import { Bases } from './bases.ts';
import { Circles, type Circle } from './circles.ts';
import { PlanContext, type Desk } from './context.ts';
import { comparable, FromParent, FromPrevious, nothingEarlier, sameSizes, type Earlier } from './earlier.ts';
import { exchanged, readAlike, type Exchanged } from './exchanged.ts';
import { Given, type Figure } from './figures.ts';
import { Listener } from './listener.ts';
import { Masks, type Mask } from './masks.ts';
import { Making } from './making.ts';
import { Memo, type Node } from './memo.ts';
import { Clock, type Moment } from './moments.ts';
import type { Outcome, PlanProblem } from './outcome.ts';
import type { Override, Overriding } from './overrides.ts';
import { outcomeOf } from './report.ts';
import { sharedWithSpecified } from './sharing.ts';
import { Sensitivities, standardUncertainty } from './sensitivities.ts';
import { sourceOf } from './sources.ts';
import { Stamps } from './stamps.ts';
import { lastTouch } from './touched.ts';

/** What a plan was made from. */
interface Start {
  readonly binding: BuildBinding;
  readonly texts: readonly string[];
  readonly previous: Plan | null;
  /** The plan that this one differs from by `overrides` only. */
  readonly parent: {
    readonly plan: Plan;
    readonly overrides: readonly Override[];
    readonly lanes: number;
    readonly how: Overriding;
  } | null;
}

/** The build that a variant, or a variant of it, is based on. */
function rootOf({ base }: Plan): Plan | null {
  return base === null ? null : (rootOf(base) ?? base);
}

/** Plans by what they were made from, so that a build and its variants share one plan of the build. */
const plans = new WeakMap<BuildBinding, Plan>();

/** Lays a build out. `previous`: an earlier plan of the same build; what did not change is taken over from it. */
export function planBuild(binding: BuildBinding, previous?: Plan, texts: readonly string[] = []): Plan {
  const known = plans.get(binding);
  if (known !== undefined) return known;
  const plan = new Plan({ binding, texts, previous: previous ?? null, parent: null });
  plans.set(binding, plan);
  return plan;
}

export class Plan implements Desk {
  readonly binding: BuildBinding;
  readonly schema: Schema;
  readonly texts: readonly string[];
  readonly given: Given;
  readonly clock: Clock;
  readonly axes: AxisTable;
  readonly base: Plan | null;
  readonly overridden: boolean;
  readonly carriesReadings: boolean;
  /** It differs from an earlier plan of the same build, not from that of its base. */
  readonly isEdited: boolean;
  readonly stamps: Stamps;
  readonly bases: Bases;
  readonly asides: Asides;
  /** By slot: the last block that it may feel. */
  readonly touch: Int32Array;
  private readonly parent: Plan | null;
  private readonly masks: Masks;
  private readonly memo: Memo;
  private readonly circles: Circles;
  private readonly listener = new Listener();
  private earlierOnes: Earlier = nothingEarlier;
  private runs = 0;
  private made: Outcome | null = null;
  /** As far as anybody asked. */
  certainty: Sensitivities | null = null;

  constructor(start: Start) {
    const { binding, texts, parent, previous } = start;
    this.binding = binding;
    this.schema = binding.schema;
    this.texts = texts;
    this.parent = parent?.plan ?? null;
    this.overridden = parent !== null;
    this.isEdited = false;
    this.carriesReadings = parent !== null && (parent.how === 'changed' || parent.plan.carriesReadings);
    const standing = () => ({ earlier: this.earlierOnes, circles: this.circles });
    this.memo = new Memo(new Making(this, this.listener, standing));
    this.asides = new Asides(this, this.memo, this.listener);
    if (parent !== null) {
      const { plan, overrides, lanes } = parent;
      [this.base, this.bases, this.given, this.clock] = [plan.base, plan.bases, plan.given, plan.clock];
      [this.axes, this.masks, this.stamps, this.touch] = [plan.axes, plan.masks, plan.stamps, plan.touch];
      this.circles = new Circles(this.clock);
      this.earlierOnes = new FromParent(this, plan, overrides, lanes);
      return;
    }
    this.base = binding.base === null ? null : planBuild(binding.base, previous?.base ?? undefined, texts);
    this.bases = new Bases(this);
    const kept = previous === null ? null : exchanged(previous.binding, binding);
    this.given = kept === null ? new Given(binding) : previous!.given.with(kept);
    const like = [previous, rootOf(this)].find((one) => one !== null && comparable(one, this)) ?? null;
    this.isEdited = like !== null && like === previous;
    this.clock = like?.clock ?? new Clock(this.given.blocks.length, this.schema.slots.length);
    this.circles = new Circles(this.clock);
    this.touch = kept !== null && readAlike(kept) ? previous!.touch : lastTouch(this.schema, this.given);
    const size = (expr: Expr): number | null => this.asides.scalar(expr, binding.origin);
    const tooLarge = this.listener.tooLarge.bind(this.listener);
    this.axes = new AxisTable(this.schema, size, tooLarge, like?.axes ?? this.base?.axes ?? null);
    this.masks = new Masks(this.schema, this.given, this.axes);
    this.stamps = new Stamps(this.schema, this.given, (figure) => this.maskOf(figure));
    if (like !== null) this.takeOver(like, kept);
    this.axes.settleAll(); // finds axes that are too large
    for (const { id } of this.schema.slots) this.stamps.of(id); // finds keys that are off their axes
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

  /**
   * The same build with other figures in some cells; shares whatever does not rest on them. `lanes`: how many runs beside
   * each other, 0 for one.
   */
  withInputs(overrides: readonly Override[], lanes = 0, how: Overriding = 'changed'): Plan {
    const { binding, texts } = this;
    return new Plan({ binding, texts, previous: null, parent: { plan: this, overrides, lanes, how } });
  }

  /** The plan that this one takes over from: that before the edit, or that of the build which a variant is based on. */
  get before(): Plan | null {
    return this.earlierOnes instanceof FromPrevious ? this.earlierOnes.previous : null;
  }

  /** The same, where all of these keys are here what they were there, down to the last figure; else null. */
  sameBefore(trace: readonly number[]): Plan | null {
    const { earlierOnes } = this;
    return earlierOnes instanceof FromPrevious && earlierOnes.untouched(trace) ? earlierOnes.previous : null;
  }

  sensitivities(): Sensitivities {
    this.certainty ??= new Sensitivities(this);
    return this.certainty;
  }

  /** The same with no sources but those that the slot rests on: may be asked while others are being worked out. */
  sensitivitiesUnder(slot: SlotId, view: View): Sensitivities {
    return new Sensitivities(this, this.memo.under([this.keyOf(slot, this.clock.at(view))]));
  }

  /** A slot's value as the outcome shows it. */
  valueOf(slot: SlotId, view: View): Node {
    return this.node(slot, this.clock.at(view));
  }

  /** An expression outside of any slot, such as a side of a check, as measured. */
  watch(expr: Expr, origin: Origin = this.binding.origin): Watched {
    return this.asides.watch(expr, origin, this.earlierOnes);
  }

  /** One figure or formula by itself, as measured: for showing the steps that led to a cell. */
  inspect(expr: Expr, slot: Slot, figure: Figure | null): Value {
    const moment = this.clock.at('measured');
    return this.memo.settle(() =>
      this.listener.during({ why: [], problems: [] }, () => this.run(expr, moment, slot, figure)),
    );
  }

  /** Figures of an expression as measured, such as an index; null where it has none. Not remembered. */
  aside(expr: Expr): Tensor | null {
    const value = this.asides.once(expr, this.clock.at('measured'), this.binding.origin);
    return value.is === 'numbers' ? value.tensor : null;
  }

  /** A machining or a reading by itself. */
  historyValue(slot: SlotId, index: number): Value {
    return this.node(slot, this.clock.at('figure', undefined, false, index)).value;
  }

  /** What has been worked out for a key. */
  known(key: number): Node | null {
    return this.memo.known(key);
  }

  /** Keys that these rest on. */
  under(keys: readonly number[]): ReadonlySet<number> {
    return this.memo.under(keys);
  }

  /** Slips met so far. */
  problems(): readonly PlanProblem[] {
    return [...this.listener.slips, ...this.memo.problems()];
  }

  /** Circles that were cut, with the slots that they run through. */
  cutCircles(): readonly Circle[] {
    return this.circles.all();
  }

  // What the parts of the plan ask

  maskOf(figure: Figure): Mask {
    return this.masks.of(figure, (key, axis) => this.listener.offAxis(key, axis, figure));
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
    const { withoutFormula } = this.circles;
    return withoutFormula.size === 0 || !withoutFormula.has(this.keyOf(slot.id, moment));
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
    if (level > 0) return this.bases.valueHere(this.bases.keyOf(level, slot, 'measured', upTo, true), slot);
    const here: Plan = this.root();
    const moment = this.clock.at('measured', upTo, true);
    return here === this ? this.node(slot, moment).value : here.nodeAt(here.keyOf(slot, moment)).value;
  }

  was(slot: SlotId, moment: Moment, figure: Figure | null): Value {
    if (figure === null || figure.block !== null) return this.node(slot, moment).value;
    return this.bases.was(this.given.depth - figure.depth + 1, slot, moment);
  }

  /** What is being worked out rests on a value that another plan keeps. */
  restsOn(key: number): void {
    this.memo.note(key);
  }

  uncertaintyOf(slot: SlotId, moment: Moment): Tensor {
    return standardUncertainty(this.root(), slot, moment, this.node(slot, moment));
  }

  sourceAt(slot: SlotId, speaker: number): Figure | null {
    return sourceOf(this, slot, speaker);
  }

  hear(reason: string): void {
    this.listener.hear(reason);
  }

  slip(code: EvaluationProblem, args: Readonly<Record<string, string>>, at: AstNode | null, about: Origin): void {
    this.listener.slip(code, args, at, about);
  }

  sharedWithSpecified(slot: SlotId, moment: Moment): Node | null {
    return sharedWithSpecified(this, this.memo, slot, moment);
  }

  private root(): Plan {
    return this.parent === null ? this : this.parent.root();
  }

  // Taking over

  /** Where the axes are the same. Apart from the constructor, whose closures would hold on to the earlier plan. */
  private takeOver(like: Plan, kept: Exchanged | null): void {
    const earlier = new FromPrevious(this, like);
    this.earlierOnes = earlier;
    if (!sameSizes(this.axes.settleAll(), like.axes.settleAll())) {
      this.earlierOnes = nothingEarlier;
      return;
    }
    // keys that are off their axes are told by each plan anew
    if (kept !== null && like.listener.slips.length === 0) {
      this.masks.takeOver(like.masks, kept);
      this.stamps.takeOver(like.stamps, kept);
    }
    this.memo.seed(like.memo, (key) => earlier.stands(key));
  }

  private normal(slot: SlotId, moment: Moment): Moment {
    if (moment.view === 'figure') return moment;
    const { measuredBy } = this.schema.slots[slot]!;
    const plain = measuredBy === null && this.given.history(slot).length === 0;
    const bare = moment.bare && !plain && moment.view !== 'specified';
    const upTo = this.touch[slot]! < moment.upTo ? this.clock.blocks : moment.upTo;
    return bare === moment.bare && upTo === moment.upTo ? moment : this.clock.at(moment.view, upTo, bare, moment.from);
  }

  /** An earlier plan is needed no longer once its successor is made from it: chains of edits must not pile up. */
  private forget(): void {
    this.earlierOnes = nothingEarlier;
    this.axes.forget();
  }
}
