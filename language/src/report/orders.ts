// Sizes that are to be ordered, in words, with the figures that made them. Places that take the same size are told together.
import { isNone } from '@thou/shared/dimension/dimension';
import type { SheetOrder } from '@thou/shared/result/sheet';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { toOrder } from '../semantics/due/to-order.ts';
import type { Order } from '../semantics/due/to-order.ts';
import { address, cellsInWords, placesOf } from './cells.ts';
import { pathWords } from './check-words.ts';
import { bareText, figureOf, withUnit } from './figures.ts';
import { inputsOf, singleCell, speakingFormula } from './inputs.ts';
import { capitalised, textOf } from './place.ts';
import { measureOf, showingsIn } from './units.ts';

/** The formula behind a size, and each single figure that it reads there; where that is the same size worked out before, what made that. */
export function madeOf(
  outcome: Outcome,
  { one, cell }: Pick<Order, 'one' | 'cell'>,
): { readonly formula: string; readonly from: readonly { readonly name: string; readonly figure: string }[] } {
  const formula = speakingFormula(one, cell, 'measured');
  if (formula === null) return { formula: '', from: [] };
  const inputs = new Map<string, { readonly one: SlotOutcome; readonly cell: number; readonly figure: string }>();
  for (const input of inputsOf(outcome, formula, one, placesOf(one.axes, cell), 'measured')) {
    const at = singleCell(input);
    const figure = at === null ? '—' : bareText(figureOf(outcome, input.one, at, input.view));
    const name = address(outcome.binding.schema, input.one.slot, input.one.axes, input.places);
    // places and counts say which size is taken, not how large it is
    if (figure !== '—' && isSized(input.one)) inputs.set(name, { one: input.one, cell: at!, figure });
  }
  const [only] = inputs.values();
  if (only !== undefined && inputs.size === 1 && isSame(only, { one, cell })) return madeOf(outcome, only);
  return {
    formula: textOf(formula.at) ?? '',
    from: [...inputs].map(([name, { figure }]) => ({ name, figure })),
  };
}

type Cell = Pick<Order, 'one' | 'cell'>;

function isSame(a: Cell, b: Cell): boolean {
  const [one, other] = [a, b].map(({ one: { views }, cell }) =>
    views.measured.is === 'numbers' ? views.measured.tensor.data[cell] : undefined,
  );
  return a.one.slot.sort === 'derive' && one !== undefined && one === other;
}

function isSized({ slot }: SlotOutcome): boolean {
  const measure = measureOf(slot.type);
  return measure !== null && !isNone(measure.dimension);
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
