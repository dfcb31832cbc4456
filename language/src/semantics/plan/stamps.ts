/**
 * What is given to a slot, in one line of text: equal stamps mean equal figures in equal cells, whatever file, line or
 * syntax tree they stand in.
 */
import { describe } from '@thou/shared/dimension/dimension';
import type { SlotId } from '../ir.ts';
import type { Schema, Slot } from '../schema/schema.ts';
import type { Assignment } from '../bind/binding.ts';
import type { Exchanged } from './exchanged.ts';
import type { Figure, Given } from './figures.ts';
import type { Mask } from './masks.ts';
import { tablesIn } from '../reads.ts';

type MaskOf = (figure: Figure) => Mask;

export class Stamps {
  private readonly schema: Schema;
  private readonly given: Given;
  private readonly maskOf: MaskOf;
  private readonly bySlot = new Map<SlotId, string>();

  constructor(schema: Schema, given: Given, maskOf: MaskOf) {
    this.schema = schema;
    this.given = given;
    this.maskOf = maskOf;
  }

  of(slot: SlotId): string {
    const known = this.bySlot.get(slot);
    if (known !== undefined) return known;
    const stamp = stampOf(this.schema.slots[slot]!, this.given, this.maskOf);
    this.bySlot.set(slot, stamp);
    return stamp;
  }

  /** Of all slots but those whose figures were exchanged. */
  takeOver(earlier: Stamps, figures: Exchanged): void {
    const changed = new Set([...figures.keys()].map(({ slot }) => slot));
    for (const [slot, stamp] of earlier.bySlot) if (!changed.has(slot)) this.bySlot.set(slot, stamp);
  }

  /** Which cells are cut and read in which block: while this is the same of every slot, so is what a cut overtakes. */
  shapeOf(slot: SlotId): string {
    const figures = this.given.history(slot).map((figure) => {
      const { source, block, depth } = figure;
      return `${source.layer} ${block} ${depth} ${cellsOf(this.maskOf(figure))}`;
    });
    const whole = this.given.specified(slot).some((figure) => this.maskOf(figure) === null);
    return `${whole}\n${figures.join('\n')}`;
  }
}

function stampOf(slot: Slot, given: Given, maskOf: MaskOf): string {
  if (given.absent.has(slot.mount)) return 'absent';
  return [...given.specified(slot.id), ...given.history(slot.id)]
    .map((figure) => stampOfFigure(figure, maskOf))
    .join('\n');
}

function stampOfFigure(figure: Figure, maskOf: MaskOf): string {
  const { source, depth, block } = figure;
  return `${depth} ${block ?? ''} ${cellsOf(maskOf(figure))} ${stampOfSource(source)}`;
}

const bySource = new WeakMap<Assignment, string>();

/** A build and its variants have the figures of the build in common. */
function stampOfSource(source: Assignment): string {
  const known = bySource.get(source);
  if (known !== undefined) return known;
  const { layer, date, instrument, temperature, signature, value } = source;
  const rows = tablesIn(value).map((table) =>
    JSON.stringify(table.rows.map((row) => [row.keys.map((key) => key.label ?? key.number), row.value, row.line])),
  );
  const stamp = [layer, date, instrument, temperature, signature, ...rows].join('|');
  bySource.set(source, stamp);
  return stamp;
}

function cellsOf(mask: Mask): string {
  return mask === null ? 'all' : mask.join('');
}

/** What belongs to no slot: blocks without where they stand, what is not fitted, what was read with. */
export function wholeStamp({ given }: { readonly given: Given }): string {
  return JSON.stringify([
    given.blocks.map(({ kind, date, depth, instrument }) => [kind, date, depth, instrument]),
    [...given.absent],
    [...given.instruments.values()].map((one) => ({
      ...one,
      origin: null,
      measure: one.measure && describe(one.measure.dimension),
    })),
  ]);
}
