// Parts that are fitted, one line for each that differs, with what is said of them. Which of it, the trade library says.
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { cellCount, cellOfPlaces, cellsInWords, held, placesOf } from '../cells.ts';
import { pathWords } from '../check-words.ts';
import { bareText, figureOf } from '../figures.ts';
import { fittedParts, isChosen, type Fitted } from '../parts.ts';
import { capitalised } from '../place.ts';
import type { Cell, TableBlock } from './document.ts';
import type { PartsPart } from './plan.ts';
import { priceIn, totalsTable } from './price-totals.ts';

export function partsTable(outcome: Outcome, { title, columns, sum, without = [] }: PartsPart): TableBlock[] {
  const named = fittedParts(outcome).filter((one) => isChosen(one) && !without.includes(one.mount.component));
  const lines = named.flatMap((fitted) => {
    const byPart = new Map<string, number[]>();
    fitted.parts.forEach((part, cell) => {
      if (part !== null) byPart.set(part.part, [...(byPart.get(part.part) ?? []), cell]);
    });
    return [...byPart].map(([part, cells]) => {
      const where = cellsInWords(
        fitted.axes,
        cells.map((cell) => placesOf(fitted.axes, cell)),
      );
      const place = capitalised(pathWords(fitted.mount.path)) + (where === '' ? '' : `, ${where}`);
      const priced = sum ? slotOf(outcome, fitted, cells[0]!, sum.name) : null;
      const price = priced && priceIn(priced.one, priced.cell);
      const row: TableBlock['rows'][number] = {
        cells: [
          place,
          part,
          { text: cells.length > 1 ? String(cells.length) : '', is: 'number' as const },
          ...columns.map(({ name }): Cell => saidOf(outcome, fitted, cells[0]!, name) || { is: 'blank' }),
        ],
      };
      return { row, priced: { name: part, count: cells.length, price } };
    });
  });
  const heads = ['Where', 'Part', 'How many', ...columns.map(({ head }) => head)];
  if (lines.length === 0) return [];
  const list: TableBlock = { is: 'table', caption: title, heads, rows: lines.map(({ row }) => row) };
  const priced = lines.map((line) => line.priced);
  return [list, ...(sum ? totalsTable(sum.title, priced) : [])];
}

/** Of the first of them. */
function saidOf(outcome: Outcome, fitted: Fitted, first: number, name: string): string {
  const found = slotOf(outcome, fitted, first, name);
  if (found === null) return '';
  const { one, cell } = found;
  const isKnown = held(one.views.measured, one.axes, cell).is === 'number';
  return isKnown ? bareText(figureOf(outcome, one, cell, 'measured')) : '';
}

/** What is said of a part under this name, and in which cell. */
function slotOf(
  outcome: Outcome,
  { mount, axes }: Fitted,
  cell: number,
  name: string,
): { readonly one: SlotOutcome; readonly cell: number } | null {
  const id = outcome.binding.schema.slotAt.get(`${mount.path}.${name}`);
  const one = outcome.slots.find(({ slot }) => slot.id === id);
  if (!one || cellCount(one.axes) === 0) return null;
  return { one, cell: cellOfPlaces(one.axes, axes, placesOf(axes, cell)) };
}
