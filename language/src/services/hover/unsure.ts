/** What a hover says of what a figure is unsure through: the largest sources, each with its share. */
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { Files } from '../../report/place.ts';
import { unsureLines } from '../../report/unsureness.ts';
import type { Piece } from './page.ts';

const most = 4;

/** Nothing where the figure was typed, or rests on nothing unsure. */
export function unsurePieces(outcome: Outcome, one: SlotOutcome, cell: number, files: Files): Piece[] {
  if (one.slot.type.is !== 'measure' || one.layerOf(cell, 'measured') !== 'formula') return [];
  const lines = unsureLines(outcome, one, cell, { most, files });
  if (lines.length === 0) return [];
  return [
    { is: 'text', text: 'Unsure through' },
    { is: 'figures', lines },
  ];
}
