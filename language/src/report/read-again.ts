// Readings that a later cut has overtaken, in words: what is to be read again, when it was read, and what overtook it. Knows no layout.
import type { SheetReadAgain } from '@thou/shared/result/sheet';
import type { HistoryBlock } from '../semantics/bind/binding.ts';
import { byReading } from '../semantics/check/read-again.ts';
import type { Outcome, Overtaken } from '../semantics/plan/outcome.ts';
import { cellsInWords, placesOf } from './cells.ts';
import { pathWords } from './check-words.ts';
import { capitalised, listed } from './place.ts';

/** Places that one figure gave and one cut overtook are told together. */
export function readAgainOf(outcome: Outcome): SheetReadAgain[] {
  const { slots } = outcome.binding.schema;
  return byReading(outcome.readAgain).map((cells) => {
    const [{ slot, reading, cut, what, carried }] = cells as [Overtaken];
    const axes = axesOf(outcome, slot);
    const where = cellsInWords(
      axes,
      cells.map(({ cell }) => placesOf(axes, cell)),
    );
    const path = slots[slot]!.path;
    const read = [reading.date ?? '', reading.hand === null ? '' : `by ${reading.hand}`].filter((part) => part !== '');
    const changed = `${cutWords(cut)} changed ${listed(what.map((id) => pathWords(slots[id]!.path)))}`;
    return {
      label: capitalised(pathWords(path)) + (where === '' ? '' : `, ${where}`),
      read: read.join(' '),
      since: carried ? `${changed}; worked out on from the reading until then` : changed,
      address: path,
    };
  });
}

/** What overtook a reading, for who wants to know why it is due again; empty where it was not overtaken. */
export function overtakenBy(outcome: Outcome, slot: number, cell: number): string {
  const one = outcome.readAgain.find((other) => other.slot === slot && other.cell === cell);
  return one === undefined ? '' : cutWords(one.cut);
}

/** `Order 1, 2026-02-20`. */
function cutWords({ label, date }: HistoryBlock): string {
  return [label === '' ? 'a machining' : label, date ?? ''].filter((part) => part !== '').join(', ');
}

function axesOf(outcome: Outcome, slot: number): Outcome['slots'][number]['axes'] {
  return outcome.slots.find((one) => one.slot.id === slot)?.axes ?? [];
}
