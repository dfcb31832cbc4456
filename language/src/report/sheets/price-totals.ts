// What parts cost together, currency by currency, and which of them have no price. Currencies are never added to each other.
import { describe, isMoney } from '@thou/shared/dimension/dimension';
import { fixed } from '@thou/shared/number/format';
import { held } from '../cells.ts';
import { listed } from '../place.ts';
import { measureOf } from '../units.ts';
import type { SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { TableBlock } from './document.ts';

/** One line of the parts list; null where nobody said what one of it costs. */
export interface Priced {
  readonly name: string;
  readonly count: number;
  readonly price: Price | null;
}
export interface Price {
  readonly currency: string;
  readonly each: number;
}

/** The price in one cell; null where there is none, or where its currency is not known. */
export function priceIn(one: SlotOutcome, cell: number): Price | null {
  const content = held(one.views.measured, one.axes, cell);
  const written = one.sourceOf(cell, 'measured')?.value;
  const measure = written === undefined ? null : measureOf(written.type.value);
  if (content.is !== 'number' || measure === null || !isMoney(measure.dimension)) return null;
  return { currency: describe(measure.dimension), each: content.value };
}

/** Nothing where no part has a price. */
export function totalsTable(caption: string, lines: readonly Priced[]): TableBlock[] {
  const sums = new Map<string, { sum: number; count: number }>();
  for (const { count, price } of lines) {
    if (price === null) continue;
    const before = sums.get(price.currency) ?? { sum: 0, count: 0 };
    sums.set(price.currency, { sum: before.sum + count * price.each, count: before.count + count });
  }
  if (sums.size === 0) return [];
  const rows = [...sums].map(([currency, { sum, count }]) => ({
    cells: [currency, { text: fixed(sum, 2), is: 'number' as const }, { text: String(count), is: 'number' as const }],
  }));
  const without = lines.filter(({ price }) => price === null);
  const count = without.reduce((all, one) => all + one.count, 0);
  const names = [...new Set(without.map(({ name }) => name))];
  const left = { cells: [`No price: ${listed(names)}`, '', { text: String(count), is: 'number' as const }] };
  const heads = ['Currency', 'Together', 'Parts'];
  return [{ is: 'table', caption, heads, rows: without.length === 0 ? rows : [...rows, left] }];
}
