// Figures that a sheet names by path, in one table; with lines of blanks where something is written in by hand.
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { pathWords } from '../check-words.ts';
import { capitalised } from '../place.ts';
import { rowsOf, type RowContext } from '../rows.ts';
import type { GridBlock, GridRow } from './document.ts';
import type { FigurePlan } from './plan.ts';
import { gridOf, noFigure } from './tables.ts';

export type Rows = Pick<RowContext, 'files'> & { checksOf(slot: number): RowContext['checks'] };

/** Null where none of them is known. */
export function figuresGrid(
  outcome: Outcome,
  title: string,
  plans: readonly FigurePlan[],
  { files, checksOf }: Rows,
): GridBlock | null {
  const blanks = new Map<string, string>();
  const lines = plans.flatMap(({ path, name, blank }) => {
    const one = knownAt(outcome, path);
    if (!one) return [];
    if (blank !== undefined) blanks.set(path, blank);
    const named = name ?? capitalised(pathWords(path));
    const eachPlace = blank !== undefined;
    return rowsOf(one, { outcome, files, checks: checksOf(one.slot.id), name: named, eachPlace });
  });
  const grid = gridOf({
    title,
    singles: lines.filter((line) => line.kind === 'single'),
    rows: lines.filter((line) => line.kind === 'row'),
  });
  return grid && withBlanks(grid, blanks);
}

/** The figure at a path, where at least one place of it has one. */
export function knownAt(outcome: Outcome, path: string): SlotOutcome | null {
  const id = outcome.binding.schema.slotAt.get(path);
  const one = id === undefined ? undefined : outcome.slots.find(({ slot }) => slot.id === id);
  return one?.states.some((state) => state !== 'missing' && state !== 'not-applicable') ? one : null;
}

function withBlanks(grid: GridBlock, blanks: ReadonlyMap<string, string>): GridBlock {
  return {
    ...grid,
    groups: grid.groups.map((group) => ({
      ...group,
      rows: group.rows.flatMap((row, at) => {
        const path = row.address.replaceAll(/\[[^\]]*\]/g, '');
        const blank = blanks.get(path);
        const isLast = group.rows[at + 1]?.address !== row.address;
        return blank === undefined || !isLast ? [row] : [row, blankLine(row, blank, group.by !== '')];
      }),
    })),
  };
}

/** Where the cells are views of one figure, the last of them is what stands there now. */
function blankLine(row: GridRow, name: string, isPlaces: boolean): GridRow {
  return {
    ...row,
    name: '',
    where: name,
    cells: row.cells.map(({ address }, at) => ({
      figure: isPlaces || at === row.cells.length - 1 ? null : noFigure,
      address,
      marked: false,
    })),
    limits: '',
    notes: '',
    further: true,
  };
}
