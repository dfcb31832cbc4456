// Lists of tasks in words: what is done, when and by whom, and what is left. Knows no layout.
import type { SheetList } from '@thou/shared/result/sheet';
import type { Assignment } from '../semantics/bind/binding.ts';
import { toDo } from '../semantics/due/to-do.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { address, placesOf, placeWords } from './cells.ts';
import { pathWords } from './check-words.ts';
import { capitalised, docText } from './place.ts';

export function listsOf(outcome: Outcome): SheetList[] {
  const { schema } = outcome.binding;
  return toDo(outcome).map(({ one, tasks }) => ({
    title: capitalised(pathWords(one.slot.path)),
    doc: docText(one.slot.doc),
    address: one.slot.path,
    tasks: tasks.map(({ cell, done, said }) => {
      const places = placesOf(one.axes, cell);
      const wide = one.axes.flatMap((axis, at) => (axis.size > 1 ? [placeWords(axis, places[at]!)] : []));
      return {
        task: wide.join(', '),
        done,
        said: said === null ? '' : saidText(said),
        address: address(schema, one.slot, one.axes, places),
      };
    }),
  }));
}

/** `2026-03-02, by A. H., with the long bar`. */
function saidText({ date, hand, reason }: Assignment): string {
  return [date, hand === null ? null : `by ${hand}`, reason].filter((part) => part !== null).join(', ');
}
