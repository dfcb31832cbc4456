/**
 * What figures are unsure of: tolerances, what was written with a reading, what an instrument can tell apart, how far repeats scatter, how
 * far apart in warmth instrument and thing may be. Each is a source of its own that moves one figure wherever it stands, as measured or as
 * before; or all figures read under one calibration together. Moves nothing itself.
 */
import { Mark } from '../evaluate/value.ts';
import type { Value } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Instrument } from '../bind/binding.ts';
import type { Slot } from '../schema/schema.ts';
import { cellsFrom, markAt } from './cells.ts';
import type { Figure } from './figures.ts';
import { instrumentOf } from './instruments.ts';
import type { Node } from './memo.ts';
import type { FigureAt } from './overrides.ts';
import { tolerancedIn } from '../reads.ts';
import { scatterOf } from './repeats.ts';
import type { Plan } from './run.ts';
import type { Stand, Stands } from './standings.ts';
import { growthOf } from './warmth.ts';
import { axesOf, Speaker } from './workings.ts';

export interface UnsureCell extends FigureAt {
  /** Whose figure it is: a `Speaker`, or its place among those of the slot. */
  readonly speaker: number;
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

/** All sources, in the order of slots and cells; then what calibrations share, then those of earlier figures alone. */
export function sourcesAmong(plan: Plan, slots: readonly SlotId[], stands: Stands): readonly Source[] {
  const all = slots.flatMap((id) => unsureIn(plan, id, stands.of(id)));
  const [now, then] = [
    all.filter(({ cells }) => countsNow(cells[0]!)),
    all.filter(({ cells }) => !countsNow(cells[0]!)),
  ];
  return [...now.flatMap(({ own }) => own), ...calibrations([...now, ...then]), ...then.flatMap(({ own }) => own)];
}

/** One figure that is unsure. */
interface Unsure {
  /** One for each of the values that it has where it stands, mostly one. */
  readonly cells: readonly UnsureCell[];
  readonly own: readonly Source[];
  /** Whose calibration moves it. */
  readonly readWith: Instrument | null;
}

/** False of a figure that something came after. */
export function countsNow({ at }: Pick<UnsureCell, 'at'>): boolean {
  return at.includes('measured');
}

function calibrations(unsure: readonly Unsure[]): readonly Source[] {
  const shared = new Map<string, { readonly half: number; readonly cells: UnsureCell[] }>();
  for (const { readWith, cells } of unsure) {
    if (readWith === null) continue;
    const known = shared.get(readWith.calibration) ?? { half: readWith.uncertainty!, cells: [] };
    known.cells.push(...cells);
    shared.set(readWith.calibration, known);
  }
  return [...shared].map(([name, { half, cells }]) => ({
    id: `with ${name}`,
    sort: 'instrument',
    cells,
    half,
    deviation: coverage,
  }));
}

/** By its value as measured: what a slot's figures are unsure of stands as long as they do. */
const byNode = new WeakMap<Node, { readonly stands: readonly Stand[]; readonly found: readonly Unsure[] }>();

function unsureIn(plan: Plan, id: SlotId, stands: readonly Stand[]): readonly Unsure[] {
  const { node } = stands[0]!;
  const known = byNode.get(node);
  if (known !== undefined && sameStands(known.stands, stands)) return known.found;
  const found = new UnsureSlot(plan, plan.schema.slots[id]!).at(stands);
  byNode.set(node, { stands, found });
  return found;
}

function sameStands(a: readonly Stand[], b: readonly Stand[]): boolean {
  return a.length === b.length && a.every((stand, one) => sameStand(stand, b[one]!));
}

function sameStand(a: Stand, b: Stand): boolean {
  return a.node === b.node && a.at.length === b.at.length && a.at.every((standing, one) => standing === b.at[one]);
}

/** Bounds that a figure has itself, or the reading that it is. */
type Part =
  | { readonly middle: number; readonly sort: 'tolerance' | 'stated'; readonly half: number }
  | { readonly middle: number; readonly figure: Figure };

/** What the figures of one slot are unsure of. */
class UnsureSlot {
  private readonly plan: Plan;
  private readonly slot: Slot;
  private readonly readings: Readings;

  constructor(plan: Plan, slot: Slot) {
    this.plan = plan;
    this.slot = slot;
    this.readings = new Readings(plan, slot);
  }

  /** A figure that stands in several places is one. */
  at(stands: readonly Stand[]): readonly Unsure[] {
    const found = new Map<string, Unsure & { readonly cells: UnsureCell[] }>();
    for (const { at, node } of stands)
      node.sources?.forEach((speaker, cell) => {
        const part = this.partAt(node.value, speaker, cell);
        if (part === null) return;
        const here: UnsureCell = { slot: this.slot.id, cell, at, speaker, middle: part.middle };
        const key = `${cell} ${speaker}`;
        const known = found.get(key);
        if (known !== undefined) stand(known.cells, here);
        else found.set(key, this.unsureThrough(part, [here]));
      });
    return [...found.values()].filter(({ own, readWith }) => own.length > 0 || readWith !== null);
  }

  private partAt(value: Value, speaker: number, cell: number): Part | null {
    if (value.is !== 'numbers') return null;
    const { tensor, band } = value;
    const measured = markAt(tensor.mark, cell) === Mark.measured;
    const [low, high] = [band?.low.data[cell] ?? NaN, band?.high.data[cell] ?? NaN];
    if (high > low && Number.isFinite(high - low)) {
      const sort = measured ? 'stated' : 'tolerance';
      return this.speaks(speaker) ? { middle: (low + high) / 2, sort, half: (high - low) / 2 } : null;
    }
    const figure = measured && speaker >= 0 ? this.plan.sourceAt(this.slot.id, speaker) : null;
    return figure === null ? null : { middle: tensor.data[cell]!, figure };
  }

  /** A figure that was given, or a default that is written with a tolerance: not one that is worked out. */
  private speaks(speaker: number): boolean {
    const { sort, formula } = this.slot;
    return speaker >= 0 || (speaker === Speaker.formula && sort === 'property' && tolerancedIn(formula!));
  }

  private unsureThrough(part: Part, cells: UnsureCell[]): Unsure & { readonly cells: UnsureCell[] } {
    if (!('figure' in part)) {
      const deviation = part.sort === 'stated' ? coverage : rectangular;
      return { cells, own: [sourceOf(this.slot, part.sort, cells, part.half, deviation)], readWith: null };
    }
    const instrument = instrumentOf(this.plan, part.figure);
    const shares = instrument !== null && (instrument.uncertainty ?? 0) > 0;
    return { cells, own: this.readings.ownParts(part.figure, instrument, cells), readWith: shares ? instrument : null };
  }
}

function stand(cells: UnsureCell[], here: UnsureCell): void {
  const same = cells.findIndex(({ middle }) => middle === here.middle);
  if (same < 0) cells.push(here);
  else cells[same] = { ...here, at: [...cells[same]!.at, ...here.at] };
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
  ownParts(figure: Figure, instrument: Instrument | null, cells: readonly UnsureCell[]): readonly Source[] {
    const { cell, middle } = cells[0]!;
    const step = (instrument?.resolution ?? 0) / 2;
    const scatter = this.scatterAt(figure, cell);
    const warmth = (instrument?.soak ?? 0) * this.growsAt(cell) * Math.abs(middle);
    return [
      scatter > step * rectangular
        ? sourceOf(this.slot, 'repeats', cells, scatter / coverage, coverage)
        : sourceOf(this.slot, 'resolution', cells, step, rectangular),
      sourceOf(this.slot, 'warmth', cells, warmth, rectangular),
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

/**
 * Named by the path of its figure, whatever stands before it in the trade library: chance draws by the name, and the same trials come
 * again. Of a figure that counts now the name does not change with what was read before it.
 */
function sourceOf(
  { path }: Slot,
  sort: Source['sort'],
  cells: readonly UnsureCell[],
  half: number,
  deviation: number,
): Source {
  const first = cells[0]!;
  const id = `${sort} ${path} ${first.cell}`;
  return { id: countsNow(first) ? id : `${id} of ${first.speaker}`, sort, cells, half, deviation };
}
