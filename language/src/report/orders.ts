// Sizes that are to be ordered, in words, with the figures that made them. Places that take the same size are told together.
import type { SheetOrder } from '@thou/shared/result/sheet';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { toOrder } from '../semantics/due/to-order.ts';
import type { Order } from '../semantics/due/to-order.ts';
import { address, cellsInWords, placesOf } from './cells.ts';
import { pathWords } from './check-words.ts';
import { bareText, figureOf, withUnit } from './figures.ts';
import { inputsOf, singleCell, speakingFormula } from './inputs.ts';
import { capitalised, textOf } from './place.ts';
import { showingsIn } from './units.ts';

/** The formula behind a size, and each single figure that it reads there. */
export function madeOf(
  outcome: Outcome,
  { one, cell }: Order,
): { readonly formula: string; readonly from: readonly { readonly name: string; readonly figure: string }[] } {
  const formula = speakingFormula(one, cell, 'measured');
  if (formula === null) return { formula: '', from: [] };
  const from = new Map<string, string>();
  for (const input of inputsOf(outcome, formula, one, placesOf(one.axes, cell), 'measured')) {
    const at = singleCell(input);
    const figure = at === null ? '—' : bareText(figureOf(outcome, input.one, at, input.view));
    if (figure !== '—') from.set(address(outcome.binding.schema, input.one.slot, input.one.axes, input.places), figure);
  }
  return { formula: textOf(formula.at) ?? '', from: [...from].map(([name, figure]) => ({ name, figure })) };
}

export function ordersOf(outcome: Outcome): SheetOrder[] {
  const groups = new Map<string, Order[]>();
  for (const order of toOrder(outcome)) {
    const key = `${order.one.slot.id} ${order.size.toPrecision(9)}`;
    groups.set(key, [...(groups.get(key) ?? []), order]);
  }
  return [...groups.values()].map((orders) => {
    const [first] = orders as [Order];
    const { one, cell } = first;
    const where = cellsInWords(
      one.axes,
      orders.map((order) => placesOf(one.axes, order.cell)),
    );
    const [showing] = showingsIn(outcome, one.slot);
    return {
      label: capitalised(pathWords(one.slot.path)) + (where === '' ? '' : `, ${where}`),
      size: withUnit(first.size, showing!),
      count: orders.length,
      from: madeOf(outcome, first)
        .from.map(({ name, figure }) => `${name} ${figure}`)
        .join(', '),
      address: address(outcome.binding.schema, one.slot, one.axes, placesOf(one.axes, cell)),
    };
  });
}
