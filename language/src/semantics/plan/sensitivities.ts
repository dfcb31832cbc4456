/**
 * How much what follows moves when one figure moves inside its tolerance: central differences of one half width, from the
 * point where all toleranced figures are at their middles, many figures beside each other as lanes of one run.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { Expr, SlotId, View } from '../ir.ts';
import { along, lanesId, marksOf, sizeOf } from './cells.ts';
import type { Node } from './memo.ts';
import type { Moment } from './moments.ts';
import { choosesIn, tolerancedIn } from '../reads.ts';
import type { Schema } from '../schema/schema.ts';
import { overridesOf } from './overrides.ts';
import type { Override } from './overrides.ts';
import type { Plan } from './run.ts';
import { keyOfStanding, Stands } from './standings.ts';
import { sourcesAmong } from './unsure.ts';
import type { Source, UnsureCell } from './unsure.ts';

/** What one output does as each source moves by its half width. Cells along `axes`. */
export interface Spread {
  readonly axes: readonly Axis[];
  readonly middle: Float64Array;
  readonly moves: readonly { readonly source: Source; readonly by: Float64Array }[];
}

const chunkSize = 32;
const rectangular = 1 / Math.sqrt(3);

export class Sensitivities {
  private readonly plan: Plan;
  private readonly only: ReadonlySet<number> | null;
  private found: readonly Source[] | null = null;
  private moving: Moving | null = null;
  private atMiddles: Plan | null = null;
  /** Held on to for as long as memory allows: what was asked of them is known, other questions make them anew. */
  private readonly chunks: (WeakRef<Plan> | undefined)[] = [];
  private readonly byKey = new Map<number, Spread>();
  private readonly byExpr = new Map<Expr, Spread>();

  /** `only`: look for sources among the slots of these keys alone. */
  constructor(plan: Plan, only: ReadonlySet<number> | null = null) {
    this.plan = plan;
    this.only = only;
  }

  /** Toleranced figures that speak in the value, readings with ±, and instruments. */
  sources(): readonly Source[] {
    this.found ??= this.search();
    return this.found;
  }

  ofSlot(slot: SlotId, view: View = 'measured'): Spread {
    const key = keyOfStanding(this.plan, slot, view);
    const known = this.byKey.get(key);
    if (known !== undefined) return known;
    this.plan.nodeAt(key); // what lies under it is known once it was worked out
    const before = this.before([key])?.byKey.get(key);
    const spread = before ?? this.spread([key], (plan) => plan.valueOf(slot, view).value);
    this.byKey.set(key, spread);
    return spread;
  }

  ofExpr(expr: Expr): Spread {
    if (expr.op === 'slot') return this.ofSlot(expr.slot);
    const known = this.byExpr.get(expr);
    if (known !== undefined) return known;
    const { trace } = this.plan.watch(expr);
    const spread = this.before(trace)?.byExpr.get(expr) ?? this.spread(trace, (plan) => plan.watch(expr).value);
    this.byExpr.set(expr, spread);
    return spread;
  }

  private search(): readonly Source[] {
    const { plan, only } = this;
    const slots = only === null ? null : new Set([...only].filter(isOwn).map((key) => plan.clock.slotOf(key)));
    const among = mayBeUnsure(plan).filter((id) => slots === null || slots.has(id));
    return sourcesAmong(plan, among, new Stands(plan, only));
  }

  /** What was found before an edit that touched nothing under these keys. */
  private before(keys: readonly number[]): Sensitivities | null {
    return this.only === null ? (this.plan.sameBefore(keys)?.certainty ?? null) : null;
  }

  private spread(keys: readonly number[], read: (plan: Plan) => Value): Spread {
    const relevant = this.sourcesUnder(keys);
    const at = read(relevant.length === 0 ? this.plan : this.middles());
    const axes = axesWithoutLanes(at);
    const middle = figuresAlong(at, axes);
    const moves: { source: Source; by: Float64Array }[] = [];
    for (const { plan, sources } of this.lanesFor(relevant)) {
      const moved = read(plan);
      const lanes = lanesIn(moved);
      if (lanes === null) continue;
      const data = figuresAlong(moved, [lanes, ...axes]);
      sources.forEach((one, lane) => {
        const by = one === null ? null : differences(data, middle, lane * 2);
        if (by?.some((x) => x !== 0)) moves.push({ source: this.sources()[one!]!, by });
      });
    }
    return { axes, middle, moves };
  }

  /** Places among all sources, in order. */
  private sourcesUnder(keys: readonly number[]): readonly number[] {
    this.moving ??= movingOf(this.plan, this.sources());
    const { asMeasured, earlier } = this.moving;
    const found = new Set<number>();
    for (const key of this.plan.under(keys)) {
      if (!isOwn(key)) continue;
      for (const one of asMeasured.get(this.plan.clock.slotOf(key)) ?? []) found.add(one);
      for (const one of earlier.get(key) ?? []) found.add(one);
    }
    return [...found].sort((a, b) => a - b);
  }

  /**
   * Runs in which these sources move, and which of them moves in which two lanes. After an edit few are asked for and
   * they move alone; else they move with their neighbours, since other questions will want those.
   */
  private lanesFor(relevant: readonly number[]): readonly { plan: Plan; sources: readonly (number | null)[] }[] {
    if (this.plan.isEdited && relevant.length > 0 && relevant.length <= chunkSize)
      return [{ plan: this.movedBy(relevant.map((one) => this.sources()[one]!)), sources: relevant }];
    return [...new Set(relevant.map((one) => Math.floor(one / chunkSize)))].map((chunk) => ({
      plan: this.chunk(chunk),
      sources: Array.from({ length: chunkSize }, (_, at) => {
        const one = chunk * chunkSize + at;
        return relevant.includes(one) ? one : null;
      }),
    }));
  }

  private middles(): Plan {
    if (this.atMiddles !== null) return this.atMiddles;
    const moved = this.sources().flatMap(({ cells }) => cells.filter((at) => this.figureOf(at) !== at.middle));
    const middles = overridesOf(moved.map((at) => [at, at.middle]));
    this.atMiddles = moved.length === 0 ? this.plan : this.plan.withInputs(middles, 0, 'unsure');
    return this.atMiddles;
  }

  private figureOf({ slot, cell, at }: UnsureCell): number {
    const { value } = this.plan.nodeAt(keyOfStanding(this.plan, slot, at[0]!));
    return value.is === 'numbers' ? value.tensor.data[cell]! : NaN;
  }

  private chunk(index: number): Plan {
    const known = this.chunks[index]?.deref();
    if (known !== undefined) return known;
    const made = this.movedBy(this.sources().slice(index * chunkSize, (index + 1) * chunkSize));
    this.chunks[index] = new WeakRef(made);
    return made;
  }

  private movedBy(sources: readonly Source[]): Plan {
    const lanes = sources.length * 2;
    return this.middles().withInputs(
      [...overridesOf(lanesOf(sources, lanes)), ...chosenOnes(this.plan.schema)],
      lanes,
      'unsure',
    );
  }
}

/** Only what is given can be unsure of itself, and a default that is written with a tolerance. In the order of the schema. */
function mayBeUnsure({ schema, given }: Plan): readonly SlotId[] {
  return [...new Set([...given.slots(), ...tolerancedDefaults(schema)])].sort((a, b) => a - b);
}

const toleranced = new WeakMap<Schema, ReadonlySet<SlotId>>();

function tolerancedDefaults(schema: Schema): ReadonlySet<SlotId> {
  const known =
    toleranced.get(schema) ??
    new Set(schema.slots.flatMap(({ id, formula }) => (formula !== null && tolerancedIn(formula) ? [id] : [])));
  toleranced.set(schema, known);
  return known;
}

const choices = new WeakMap<Schema, readonly Override[]>();

/** What was chosen stays chosen: that a figure is known only so well does not put another part in its place. */
export function chosenOnes(schema: Schema): readonly Override[] {
  const known =
    choices.get(schema) ??
    schema.slots.flatMap(({ id, formula }): Override[] =>
      formula !== null && choosesIn(formula)
        ? (['measured', 'before'] as const).map((view) => ({ slot: id, view, cells: new Map() }))
        : [],
    );
  choices.set(schema, known);
  return known;
}

/** Places of the sources that move a cell of a slot as measured, by slot; and as it was earlier, by key. */
interface Moving {
  readonly asMeasured: ReadonlyMap<SlotId, readonly number[]>;
  readonly earlier: ReadonlyMap<number, readonly number[]>;
}

function movingOf(plan: Plan, sources: readonly Source[]): Moving {
  const [asMeasured, earlier] = [new Map<SlotId, number[]>(), new Map<number, number[]>()];
  sources.forEach(({ cells }, place) => {
    for (const { slot, at } of cells)
      for (const standing of at)
        if (standing === 'measured') note(asMeasured, slot, place);
        else note(earlier, keyOfStanding(plan, slot, standing), place);
  });
  return { asMeasured, earlier };
}

function note(places: Map<number, number[]>, of: number, place: number): void {
  const known = places.get(of);
  if (known === undefined) places.set(of, [place]);
  else if (known.at(-1) !== place) known.push(place);
}

/** Not one of the build that a variant is based on. */
function isOwn(key: number): boolean {
  return key >= 0;
}

/** Two lanes a source, one up and one down; a cell may be moved by several. */
function lanesOf(sources: readonly Source[], lanes: number): readonly (readonly [UnsureCell, Float64Array])[] {
  const moved = new Map<UnsureCell, readonly [UnsureCell, Float64Array]>();
  sources.forEach(({ cells, half }, at) => {
    for (const cell of cells) {
      const known = moved.get(cell) ?? ([cell, new Float64Array(lanes).fill(cell.middle)] as const);
      known[1][at * 2]! += half;
      known[1][at * 2 + 1]! -= half;
      moved.set(cell, known);
    }
  });
  return [...moved.values()];
}

/** Half of what lies between both lanes; where one of them has no figure, the other's distance from the middle. */
function differences(data: Float64Array, middle: Float64Array, lane: number): Float64Array {
  const size = middle.length;
  return middle.map((at, cell) => {
    const [up, down] = [data[lane * size + cell]!, data[(lane + 1) * size + cell]!];
    if (!Number.isNaN(up) && !Number.isNaN(down)) return (up - down) / 2;
    if (!Number.isNaN(up - at)) return up - at;
    return Number.isNaN(at - down) ? 0 : at - down;
  });
}

/** Greatest distance from the middle that all sources with bounds can bring about together, one a cell. */
export function worstCase(spread: Spread): Float64Array {
  return spread.middle.map((_, cell) =>
    spread.moves.reduce((sum, { source, by }) => sum + (isBounded(source) ? Math.abs(by[cell]!) : 0), 0),
  );
}

/** An instrument makes a reading unsure, but sets no bounds to it. */
export function isBounded({ sort }: Source): boolean {
  return sort === 'tolerance' || sort === 'stated';
}

/** Standard uncertainty from independent sources, one a cell. */
export function rootSumSquare(spread: Spread): Float64Array {
  return spread.middle.map((_, cell) =>
    Math.sqrt(spread.moves.reduce((sum, { source, by }) => sum + (by[cell]! * source.deviation) ** 2, 0)),
  );
}

/** What `uncertainty(x)` is in a formula: from the tolerances of whatever x rests on. */
export function standardUncertainty(plan: Plan, slot: SlotId, moment: Moment, node: Node): Tensor {
  const axes = axesWithoutLanes(node.value);
  const marks = marksOf(node.value, axes);
  const { view, upTo } = moment;
  const asItStands = (view === 'measured' || view === 'before') && upTo === plan.clock.blocks;
  const own = asItStands
    ? rootSumSquare(plan.sensitivitiesUnder(slot, view).ofSlot(slot, view))
    : ownUncertainty(node.value, axes);
  return { axes, data: own.map((u, cell) => (marks[cell]! >= Mark.missing ? NaN : u)), mark: marks };
}

function ownUncertainty(value: Value, axes: readonly Axis[]): Float64Array {
  if (value.is !== 'numbers' || value.band === null) return new Float64Array(sizeOf(axes));
  const { low, high } = value.band;
  return low.data.map((from, cell) => (Number.isNaN(from) ? 0 : ((high.data[cell]! - from) / 2) * rectangular));
}

function lanesIn(value: Value): Axis | null {
  return allAxes(value).find((axis) => axis.id === lanesId) ?? null;
}

function allAxes(value: Value): readonly Axis[] {
  if (value.is === 'numbers') return value.tensor.axes;
  return value.is === 'limits' ? [...new Set([...value.low.axes, ...value.high.axes])] : value.axes;
}

export function axesWithoutLanes(value: Value): readonly Axis[] {
  return allAxes(value).filter((axis) => axis.id !== lanesId);
}

function figuresAlong(value: Value, axes: readonly Axis[]): Float64Array {
  return value.is === 'numbers' ? along(value.tensor, axes).data : new Float64Array(sizeOf(axes)).fill(NaN);
}
