/** What a plan tells its readers: every slot in every view with whose figures they are, and all that was checked. */
import { checkBuild } from '../check/checks.ts';
import { toBeReadAgain } from '../check/read-again.ts';
import { once } from '../once.ts';
import { Mark } from '../evaluate/value.ts';
import type { Axis, Value } from '../evaluate/value.ts';
import type { Assignment, Layer } from '../bind/binding.ts';
import type { SlotId, View } from '../ir.ts';
import type { MountId, Slot } from '../schema/schema.ts';
import { cellsFrom, markAt, marksOf } from './cells.ts';
import type { Circle } from './circles.ts';
import { isDue, isGivenOutsideLibrary } from './outside-library.ts';
import type { Figure } from './figures.ts';
import type { Node } from './memo.ts';
import type { Outcome, PlanProblem, ReadWarm, SlotOutcome, ValueState } from './outcome.ts';
import type { Plan } from './run.ts';
import { axesWithoutLanes, rootSumSquare, worstCase } from './sensitivities.ts';
import { overtakenReadings } from './overtaken.ts';
import { layerOf } from './sources.ts';
import { warmthOf } from './warmth.ts';
import { Speaker } from './workings.ts';

export function outcomeOf(plan: Plan): Outcome {
  workOutAll(plan);
  const slots = once(() => plan.schema.slots.map((slot) => new SlotFigures(plan, slot)));
  const checked = checkBuild(plan);
  const overtaken = overtakenReadings(plan);
  return {
    binding: plan.binding,
    axes: plan.axes.settleAll(),
    get slots() {
      return slots();
    },
    checks: checked.checks,
    get causes() {
      return checked.causes();
    },
    get toMeasure() {
      return checked.toMeasure();
    },
    readAgain: overtaken,
    problems: eachOnce([...plan.problems(), ...circles(plan), ...checked.problems, ...toBeReadAgain(plan, overtaken)]),
    texts: plan.texts,
    tensorOf: (slot, view = 'measured') => {
      const { value } = plan.valueOf(slot, view);
      return value.is === 'numbers' ? value.tensor : null;
    },
  };
}

const views: readonly View[] = ['specified', 'ordered', 'before', 'measured'];

/** Works out what is not only on demand, in every view, so that whatever there is to object to is met. */
function workOutAll(plan: Plan): void {
  for (const view of views) {
    const moment = plan.clock.at(view);
    for (const slot of plan.schema.slots)
      if (isDue(plan.given, slot) && plan.known(plan.clock.keyOf(slot.id, moment)) === null) plan.node(slot.id, moment);
  }
}

const states = new Map<number, ValueState>([
  [Mark.exact, 'specified'],
  [Mark.measured, 'measured'],
  [Mark.carriedOver, 'carried-over'],
  [Mark.ordered, 'ordered'],
  [Mark.specified, 'specified'],
  [Mark.missing, 'missing'],
  [Mark.absent, 'not-applicable'],
]);

/** Figures are in the plan already; how they are shown is made when somebody looks. */
class SlotFigures implements SlotOutcome {
  readonly slot: Slot;
  private readonly plan: Plan;
  private laid: Readonly<Record<View, Node>> | null = null;
  private shown: { readonly axes: readonly Axis[]; readonly states: readonly ValueState[] } | null = null;

  constructor(plan: Plan, slot: Slot) {
    this.plan = plan;
    this.slot = slot;
  }

  private get nodes(): Readonly<Record<View, Node>> {
    const at = (view: View): Node => this.plan.valueOf(this.slot.id, view);
    this.laid ??= {
      specified: at('specified'),
      ordered: at('ordered'),
      before: at('before'),
      measured: at('measured'),
    };
    return this.laid;
  }

  get views(): Readonly<Record<View, Value>> {
    const { specified, ordered, before, measured } = this.nodes;
    return { specified: specified.value, ordered: ordered.value, before: before.value, measured: measured.value };
  }

  get axes(): readonly Axis[] {
    return this.look().axes;
  }

  get states(): readonly ValueState[] {
    return this.look().states;
  }

  layerOf(cell: number, view: View): Layer | 'formula' | null {
    return layerOf(this.plan, this.slot.id, this.speakerOf(cell, view));
  }

  sourceOf(cell: number, view: View): Assignment | null {
    return this.plan.sourceAt(this.slot.id, this.speakerOf(cell, view))?.source ?? null;
  }

  warmOf(cell: number, view: View): ReadWarm | null {
    const { value } = this.nodes[view];
    const figure = this.plan.sourceAt(this.slot.id, this.speakerOf(cell, view));
    return figure === null
      ? null
      : warmAt(this.plan, figure, this.slot, figureAt(value, this.axes, cell), this.axes, cell);
  }

  historyOf(cell: number): readonly Step[] {
    return historyOf(this.plan, this.slot, this.axes, cell);
  }

  band(): ReturnType<SlotOutcome['band']> {
    return bandsOf(this.plan, this.slot, this.nodes.measured.value);
  }

  uncertainty(): readonly (number | null)[] {
    return uncertaintiesOf(this.plan, this.slot, this.nodes.measured.value);
  }

  private speakerOf(cell: number, view: View): number {
    return this.nodes[view].sources?.[cell] ?? Speaker.none;
  }

  private look(): NonNullable<SlotFigures['shown']> {
    const { value } = this.nodes.measured;
    const axes = this.shown?.axes ?? axesWithoutLanes(value);
    this.shown ??= { axes, states: Array.from(marksOf(value, axes), (mark) => states.get(mark)!) };
    return this.shown;
  }
}

type Step = ReturnType<SlotOutcome['historyOf']>[number];

/** Formula or default, figures of all layers, cuts and readings that name the cell; a figure for limits and curves is NaN. */
function historyOf(plan: Plan, slot: Slot, axes: readonly Axis[], cell: number): readonly Step[] {
  const node = plan.valueOf(slot.id, 'measured');
  const speaker = node.sources?.[cell] ?? Speaker.none;
  const steps: Step[] = [];
  const push = (layer: Layer | 'formula', value: Value, source: Figure | null, speaks: boolean): void => {
    const figure = figureAt(value, axes, cell);
    if (figure === null) return;
    const warm = source === null ? null : warmAt(plan, source, slot, figure, axes, cell);
    steps.push({ layer, value: figure, source: source?.source ?? null, warm, speaks });
  };
  if (slot.formula !== null)
    push(
      layerOf(plan, slot.id, Speaker.formula)!,
      plan.inspect(slot.formula, slot, null),
      null,
      speaker === Speaker.formula,
    );
  const specified = plan.given.specified(slot.id);
  [...specified, ...plan.given.history(slot.id)].forEach((figure, index) => {
    const mask = plan.maskOf(figure);
    if (mask !== null && mask[cell] === 0) return;
    const value =
      index < specified.length
        ? plan.inspect(figure.source.value, slot, figure)
        : plan.historyValue(slot.id, index - specified.length);
    push(figure.source.layer, value, figure, index === speaker);
  });
  if (speaker <= Speaker.made) push('measured', node.value, plan.sourceAt(slot.id, speaker), true);
  return steps;
}

/** As it was read, where the reading is one of this slot. */
function warmAt(
  plan: Plan,
  figure: Figure,
  slot: Slot,
  value: number | null,
  axes: readonly Axis[],
  cell: number,
): ReadWarm | null {
  const warmth = warmthOf(plan, figure);
  if (warmth?.is !== 'brought') return warmth;
  if (value === null || figure.source.slot !== slot.id) return { is: 'brought', asRead: null };
  const { factor } = warmth;
  return { is: 'brought', asRead: value / factor.data[cellsFrom(factor.axes, axes)[cell]!]! };
}

/** Null where the value has none there. */
function figureAt(value: Value, axes: readonly Axis[], cell: number): number | null {
  if (marksOf(value, axes)[cell]! >= Mark.missing) return null;
  return value.is === 'numbers' ? value.tensor.data[cellsFrom(value.tensor.axes, axes)[cell]!]! : NaN;
}

function bandsOf(
  plan: Plan,
  slot: Slot,
  value: Value,
): readonly ({ readonly low: number; readonly high: number } | null)[] {
  if (value.is !== 'numbers') return Array.from(marksOf(value, axesWithoutLanes(value)), () => null);
  const spread = plan.sensitivities().ofSlot(slot.id);
  const reach = worstCase(spread);
  return Array.from(spread.middle, (middle, cell) => {
    const reached = reach[cell]!;
    return reached === 0 || markAt(value.tensor.mark, cell) >= Mark.missing
      ? null
      : { low: middle - reached, high: middle + reached };
  });
}

function uncertaintiesOf(plan: Plan, slot: Slot, value: Value): readonly (number | null)[] {
  if (value.is !== 'numbers') return Array.from(marksOf(value, axesWithoutLanes(value)), () => null);
  const own = rootSumSquare(plan.sensitivities().ofSlot(slot.id));
  return Array.from(own, (u, cell) => (u === 0 || markAt(value.tensor.mark, cell) >= Mark.missing ? null : u));
}

/** Slots that are worked out from each other while none of them is given. A build not written to its end is no mistake. */
function circles(plan: Plan): readonly PlanProblem[] {
  const open = joined(plan.cutCircles().filter((circle) => isOpen(plan, circle)));
  return open
    .filter((slots) => isBegun(plan, slots))
    .map((slots) => {
      const { uri } = plan.binding.origin;
      const names = slots.map((id) => plan.schema.slots[id]!.path).join(', ');
      const related = slots.map((id) => plan.schema.slots[id]!.origin);
      return { code: 'cycle', severity: 'hint', args: { names }, origin: { uri, at: plan.binding.nameAt }, related };
    });
}

function isOpen(plan: Plan, { keys }: Circle): boolean {
  return keys.some((key) => {
    const { value } = plan.nodeAt(key);
    return marksOf(value, axesWithoutLanes(value)).includes(Mark.missing);
  });
}

/** Of a part of which nothing is said yet nothing is asked for. */
function isBegun(plan: Plan, slots: readonly SlotId[]): boolean {
  const onParts = slots.map((id) => plan.schema.slots[id]!.mount).filter((mount) => mount !== 0);
  const said = (mount: MountId): boolean =>
    plan.schema.slots.some((slot) => slot.mount === mount && isGivenOutsideLibrary(plan.given, slot));
  return onParts.length === 0 || onParts.some(said);
}

/** Circles with a slot in common are one question. */
function joined(circles: readonly Circle[]): readonly (readonly SlotId[])[] {
  const groups: Set<SlotId>[] = [];
  for (const { slots } of circles) {
    const touching = groups.filter((group) => slots.some((id) => group.has(id)));
    for (const group of touching) groups.splice(groups.indexOf(group), 1);
    groups.push(new Set([...touching.flatMap((group) => [...group]), ...slots]));
  }
  return groups.map((group) => [...group].sort((a, b) => a - b));
}

function eachOnce(problems: readonly PlanProblem[]): readonly PlanProblem[] {
  const seen = new Map<unknown, Set<string>>();
  return problems.filter(({ code, args, origin }) => {
    const key = `${code} ${JSON.stringify(args)}`;
    const known = seen.get(origin.at) ?? new Set<string>();
    seen.set(origin.at, known);
    return !known.has(key) && known.add(key);
  });
}
