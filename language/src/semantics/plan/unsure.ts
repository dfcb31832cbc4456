/**
 * What figures are unsure of: tolerances, what was written with a reading, and what an instrument can tell apart. Each is
 * a source of its own that moves one cell, or all cells read with one instrument together. Moves nothing itself.
 */
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Instrument } from '../bind/binding.ts';
import { markAt } from './cells.ts';
import { chainOf } from './figures.ts';
import type { Figure } from './figures.ts';
import { tolerancedIn } from '../reads.ts';
import type { Plan } from './run.ts';
import { Speaker } from './workings.ts';

export interface UnsureCell {
  readonly slot: SlotId;
  readonly cell: number;
  readonly middle: number;
}
export interface Source {
  /** The same in every plan of the build: what two figures share cancels in their difference. */
  readonly id: string;
  /** `tolerance` and `stated` bound the value; what an instrument adds is uncertain, not bounded. */
  readonly sort: 'tolerance' | 'stated' | 'resolution' | 'instrument';
  /** All that move together. */
  readonly cells: readonly UnsureCell[];
  readonly half: number;
  /** Its standard uncertainty in half widths. */
  readonly deviation: number;
}

const rectangular = 1 / Math.sqrt(3);
/** Calibrations and ± state two standard deviations. */
const coverage = 1 / 2;

/** All sources, in the order of slots and cells; instruments last. */
export function sourcesAmong(plan: Plan, slots: readonly SlotId[]): readonly Source[] {
  const instruments = instrumentsOf(plan);
  const readWith = new Map<string, UnsureCell[]>();
  const own = slots.flatMap((id) => sourcesOf(plan, id, instruments, readWith));
  const shared = [...readWith].map(([name, cells]): Source => {
    return {
      id: `with ${name}`,
      sort: 'instrument',
      cells,
      half: instruments.get(name)!.uncertainty!,
      deviation: coverage,
    };
  });
  return [...own, ...shared];
}

/** A variant sees the instruments of its base as well. */
function instrumentsOf(plan: Plan): ReadonlyMap<string, Instrument> {
  return new Map(chainOf(plan.binding).flatMap((binding) => [...binding.instruments]));
}

function sourcesOf(
  plan: Plan,
  id: SlotId,
  instruments: ReadonlyMap<string, Instrument>,
  readWith: Map<string, UnsureCell[]>,
): readonly Source[] {
  const slot = plan.schema.slots[id]!;
  const { value, sources } = plan.valueOf(id, 'measured');
  if (value.is !== 'numbers' || sources === null) return [];
  const found: Source[] = [];
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
    const name = figure === null ? null : instrumentOf(plan, figure);
    const instrument = name === null ? undefined : instruments.get(name);
    if (instrument === undefined) return;
    const at = { slot: id, cell, middle: value.tensor.data[cell]! };
    const { resolution, uncertainty } = instrument;
    if (resolution !== null && resolution > 0)
      found.push({
        id: `resolution ${id} ${cell}`,
        sort: 'resolution',
        cells: [at],
        half: resolution / 2,
        deviation: rectangular,
      });
    if (uncertainty !== null && uncertainty > 0) readWith.set(name!, [...(readWith.get(name!) ?? []), at]);
  });
  return found;
}

/** With the figure, else with its block. */
function instrumentOf(plan: Plan, figure: Figure): string | null {
  return figure.source.instrument ?? plan.given.blocks[figure.block!]?.instrument ?? null;
}
