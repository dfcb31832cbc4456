// Parts that are fitted, one line for each that differs, with what is said of them. Which of it, the trade library says.
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { cellCount, cellOfPlaces, cellsInWords, held, placesOf } from '../cells.ts';
import { pathWords } from '../check-words.ts';
import { bareText, figureOf } from '../figures.ts';
import { fittedParts, isChosen, type Fitted } from '../parts.ts';
import { capitalised } from '../place.ts';
import type { Cell, TableBlock } from './document.ts';
import type { PartsPart } from './plan.ts';

export function partsTable(outcome: Outcome, { title, columns, without = [] }: PartsPart): TableBlock[] {
  const named = fittedParts(outcome).filter((one) => isChosen(one) && !without.includes(one.mount.component));
  const rows = named.flatMap((fitted) => {
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
      return {
        cells: [
          place,
          part,
          { text: cells.length > 1 ? String(cells.length) : '', is: 'number' as const },
          ...columns.map(({ name }): Cell => saidOf(outcome, fitted, cells[0]!, name) || { is: 'blank' }),
        ],
      };
    });
  });
  const heads = ['Where', 'Part', 'How many', ...columns.map(({ head }) => head)];
  return rows.length === 0 ? [] : [{ is: 'table', caption: title, heads, rows }];
}

/** Of the first of them. */
function saidOf(outcome: Outcome, { mount, axes }: Fitted, cell: number, name: string): string {
  const id = outcome.binding.schema.slotAt.get(`${mount.path}.${name}`);
  const one = outcome.slots.find(({ slot }) => slot.id === id);
  if (!one || cellCount(one.axes) === 0) return '';
  const at = cellOfPlaces(one.axes, axes, placesOf(axes, cell));
  return held(one.views.measured, one.axes, at).is === 'number' ? bareText(figureOf(outcome, one, at, 'measured')) : '';
}
