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
import type { Node } from './memo.ts';
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
  const own: Source[] = [];
  for (const id of slots) {
    const here = unsureIn(plan, id, instruments);
    own.push(...here.own);
    for (const [name, at] of here.readWith) {
      const cells = readWith.get(name) ?? [];
      cells.push(at);
      readWith.set(name, cells);
    }
  }
  const shared = [...readWith].map(([name, cells]): Source => {
    const half = instruments.get(name)!.uncertainty!;
    return { id: `with ${name}`, sort: 'instrument', cells, half, deviation: coverage };
  });
  return [...own, ...shared];
}

interface Unsure {
  readonly own: readonly Source[];
  readonly readWith: readonly (readonly [string, UnsureCell])[];
}
/** What a slot's value is unsure of stands as long as the value does. */
const byNode = new WeakMap<Node, Unsure>();

function unsureIn(plan: Plan, id: SlotId, instruments: ReadonlyMap<string, Instrument>): Unsure {
  const node = plan.valueOf(id, 'measured');
  const known = byNode.get(node) ?? sourcesOf(plan, id, node, instruments);
  byNode.set(node, known);
  return known;
}

/** A variant sees the instruments of its base as well. */
function instrumentsOf(plan: Plan): ReadonlyMap<string, Instrument> {
  return new Map(chainOf(plan.binding).flatMap((binding) => [...binding.instruments]));
}

const sure: Unsure = { own: [], readWith: [] };

function sourcesOf(
  plan: Plan,
  id: SlotId,
  { value, sources }: Node,
  instruments: ReadonlyMap<string, Instrument>,
): Unsure {
  const slot = plan.schema.slots[id]!;
  if (value.is !== 'numbers' || sources === null) return sure;
  const found: Source[] = [];
  const readWith: [string, UnsureCell][] = [];
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
    if (uncertainty !== null && uncertainty > 0) readWith.push([name!, at]);
  });
  return found.length + readWith.length === 0 ? sure : { own: found, readWith };
}

/** With the figure, else with its block. */
function instrumentOf(plan: Plan, figure: Figure): string | null {
  return figure.source.instrument ?? plan.given.blocks[figure.block!]?.instrument ?? null;
}
