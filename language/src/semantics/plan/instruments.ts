/** What a reading was taken with: named with the figure, else with its block. */
import type { Instrument } from '../bind/binding.ts';
import type { Figure } from './figures.ts';
import type { Workings } from './workings.ts';

type Bench = Pick<Workings, 'given' | 'schema'>;

/** Null where none is named, or none that could show such a figure. */
export function instrumentOf(bench: Bench, figure: Figure): Instrument | null {
  const named = instrumentNamed(bench, figure);
  return named !== null && canShow(bench, named, figure) ? named : null;
}

export function instrumentNamed({ given }: Bench, figure: Figure): Instrument | null {
  if (figure.source.layer !== 'measured') return null;
  const name = figure.source.instrument ?? given.blocks[figure.block!]?.instrument ?? null;
  return name === null ? null : (given.instruments.get(name) ?? null);
}

/** A gauge of lengths shows no masses. */
export function canShow({ schema }: Bench, { measure }: Instrument, { source }: Figure): boolean {
  const { type } = schema.slots[source.slot]!;
  return measure === null || type.is !== 'measure' || type.measure.dimension === measure.dimension;
}
