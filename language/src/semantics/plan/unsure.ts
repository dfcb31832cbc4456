/**
 * What figures are unsure of: tolerances, what was written with a reading, what an instrument can tell apart, how far repeats scatter, how
 * far apart in warmth instrument and thing may be. Each is a source of its own that moves one cell, or all cells read under one calibration
 * together. Moves nothing itself.
 */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Instrument } from '../bind/binding.ts';
import type { Slot } from '../schema/schema.ts';
import { cellsFrom, markAt } from './cells.ts';
import type { Figure } from './figures.ts';
import { instrumentOf } from './instruments.ts';
import type { Node } from './memo.ts';
import { tolerancedIn } from '../reads.ts';
import { scatterOf } from './repeats.ts';
import type { Plan } from './run.ts';
import { growthOf } from './warmth.ts';
import { axesOf, Speaker } from './workings.ts';

export interface UnsureCell {
  readonly slot: SlotId;
  readonly cell: number;
  readonly middle: number;
}
export interface Source {
  /** The same in every plan of the build: what two figures share cancels in their difference. */
  readonly id: string;
  /** `tolerance` and `stated` bound the value; what an instrument adds is uncertain, not bounded. */
  readonly sort: 'tolerance' | 'stated' | 'resolution' | 'repeats' | 'warmth' | 'instrument';
  /** All that move together. */
  readonly cells: readonly UnsureCell[];
  readonly half: number;
  /** Its standard uncertainty in half widths. */
  readonly deviation: number;
}

const rectangular = 1 / Math.sqrt(3);
/** Calibrations and ± state two standard deviations. */
const coverage = 1 / 2;

/** All sources, in the order of slots and cells; what a calibration shares last. */
export function sourcesAmong(plan: Plan, slots: readonly SlotId[]): readonly Source[] {
  const shared = new Map<string, { readonly half: number; readonly cells: UnsureCell[] }>();
  const own: Source[] = [];
  for (const id of slots) {
    const here = unsureIn(plan, id);
    own.push(...here.own);
    for (const [{ calibration, uncertainty }, at] of here.readWith) {
      const known = shared.get(calibration) ?? { half: uncertainty!, cells: [] };
      known.cells.push(at);
      shared.set(calibration, known);
    }
  }
  const calibrations = [...shared].map(([name, { half, cells }]): Source => ({
    id: `with ${name}`,
    sort: 'instrument',
    cells,
    half,
    deviation: coverage,
  }));
  return [...own, ...calibrations];
}

interface Unsure {
  readonly own: readonly Source[];
  readonly readWith: readonly (readonly [Instrument, UnsureCell])[];
}
/** What a slot's value is unsure of stands as long as the value does. */
const byNode = new WeakMap<Node, Unsure>();

function unsureIn(plan: Plan, id: SlotId): Unsure {
  const node = plan.valueOf(id, 'measured');
  const known = byNode.get(node) ?? sourcesOf(plan, id, node);
  byNode.set(node, known);
  return known;
}

const sure: Unsure = { own: [], readWith: [] };

function sourcesOf(plan: Plan, id: SlotId, { value, sources }: Node): Unsure {
  const slot = plan.schema.slots[id]!;
  if (value.is !== 'numbers' || sources === null) return sure;
  const found: Source[] = [];
  const readWith: [Instrument, UnsureCell][] = [];
  const read = new Readings(plan, slot);
  sources.forEach((speaker, cell) => {
    const measured = markAt(value.tensor.mark, cell) === Mark.measured;
    const [low, high] = [value.band?.low.data[cell] ?? NaN, value.band?.high.data[cell] ?? NaN];
    if (high > low && Number.isFinite(high - low)) {
      const own =
        speaker >= 0 || (speaker === Speaker.formula && slot.sort === 'property' && tolerancedIn(slot.formula!));
      const at = { slot: id, cell, middle: (low + high) / 2 };
      const [sort, deviation] = measured ? (['stated', coverage] as const) : (['tolerance', rectangular] as const);
      if (own) found.push({ id: `${sort} ${id} ${cell}`, sort, cells: [at], half: (high - low) / 2, deviation });
      return;
    }
    const figure = measured && speaker >= 0 ? plan.sourceAt(id, speaker) : null;
    if (figure === null) return;
    const at = { slot: id, cell, middle: value.tensor.data[cell]! };
    const instrument = instrumentOf(plan, figure);
    found.push(...read.ownParts(figure, instrument, at));
    const shared = instrument?.uncertainty ?? 0;
    if (instrument !== null && shared > 0) readWith.push([instrument, at]);
  });
  return found.length + readWith.length === 0 ? sure : { own: found, readWith };
}

/** What the readings of one slot are unsure of by themselves. */
class Readings {
  private readonly plan: Plan;
  private readonly slot: Slot;
  private readonly scatters = new Map<Figure, Float64Array | null>();
  private growth: Float64Array | null | undefined = undefined;

  constructor(plan: Plan, slot: Slot) {
    this.plan = plan;
    this.slot = slot;
  }

  /** Scatter is of what the instrument can tell apart already: the greater of both counts. */
  ownParts(figure: Figure, instrument: Instrument | null, at: UnsureCell): readonly Source[] {
    const step = (instrument?.resolution ?? 0) / 2;
    const scatter = this.scatterAt(figure, at.cell);
    const warmth = (instrument?.soak ?? 0) * this.growsAt(at.cell) * Math.abs(at.middle);
    return [
      scatter > step * rectangular
        ? sourceOf('repeats', at, scatter / coverage, coverage)
        : sourceOf('resolution', at, step, rectangular),
      sourceOf('warmth', at, warmth, rectangular),
    ].filter(({ half }) => half > 0);
  }

  private scatterAt(figure: Figure, cell: number): number {
    let known = this.scatters.get(figure);
    if (known === undefined) {
      known = scatterOf(this.plan, this.slot, figure);
      this.scatters.set(figure, known);
    }
    const scatter = known?.[cell] ?? 0;
    return Number.isNaN(scatter) ? 0 : scatter;
  }

  private growsAt(cell: number): number {
    this.growth ??= this.growths();
    return this.growth?.[cell] ?? 0;
  }

  private growths(): Float64Array | null {
    const growth = growthOf(this.plan, this.slot);
    return growth === null ? null : cellsIn(growth.data, cellsFrom(growth.axes, axesOf(this.plan, this.slot)));
  }
}

function cellsIn(data: Float64Array, from: Int32Array): Float64Array {
  return Float64Array.from(from, (at) => data[at]!);
}

function sourceOf(sort: Source['sort'], at: UnsureCell, half: number, deviation: number): Source {
  return { id: `${sort} ${at.slot} ${at.cell}`, sort, cells: [at], half, deviation };
}
