// One table for all figures of a chapter: those of which there is one with their views side by side, then those along each axis.
import type { SheetRow, SheetSection, SheetSingle } from '@thou/shared/result/sheet';
import type { ViewName } from '@thou/shared/result/contract';
import type { GridBlock, GridRow } from './document.ts';

const viewHeads: readonly (readonly [ViewName, string])[] = [
  ['specified', 'Specified'],
  ['ordered', 'Ordered'],
  ['before', 'Before'],
  ['measured', 'Now'],
];

type Group = GridBlock['groups'][number];

export function gridOf({ title, singles, rows }: Pick<SheetSection, 'title' | 'singles' | 'rows'>): GridBlock | null {
  const groups = [...(singles.length === 0 ? [] : [singlesGroup(singles)]), ...rowGroups(rows)];
  return groups.length === 0 ? null : { is: 'grid', caption: title, groups };
}

function singlesGroup(singles: readonly SheetSingle[]): Group {
  const views = viewHeads.filter(([view]) => view === 'measured' || singles.some(({ shown }) => shown.includes(view)));
  return {
    by: '',
    heads: views.map(([, head]) => head),
    rows: singles.map((one) => ({
      name: one.name,
      address: one.address,
      where: one.each,
      unit: '',
      cells: views.map(([view]) => ({
        figure: one.shown.includes(view) ? one.views[view] : noFigure,
        address: null,
        marked: view === 'measured' && /out of limits|at risk/.test(one.state),
      })),
      limits: one.limits,
      notes: joined([one.state, one.note]),
      further: false,
      place: one.place,
    })),
  };
}

export const noFigure = { number: '', unit: '', second: null, plusMinus: null };

/** Figures along the same places stand together, in the order in which the first of them comes. */
function rowGroups(rows: readonly SheetRow[]): Group[] {
  const groups = new Map<string, SheetRow[]>();
  for (const row of rows) {
    const key = [row.axis, ...row.heads].join('\n');
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()].map((all) => ({
    by: all[0]!.axis,
    heads: all[0]!.heads,
    rows: all.flatMap((row, at) => linesOf(row, all[at - 1])),
  }));
}

function linesOf(row: SheetRow, above: SheetRow | undefined): GridRow[] {
  const goesOn = above?.address === row.address && row.at !== '';
  return row.lines.map(({ label, figures }, at) => ({
    name: at === 0 && !goesOn ? row.name : '',
    address: row.address,
    where: at === 0 ? joined([row.at, label], ', ') : label,
    unit: row.unit,
    cells: figures.map((figure, place) => ({
      figure,
      address: row.addresses[place]!,
      marked: at === 0 && row.marked[place] === true,
    })),
    limits: at === 0 ? row.limits : '',
    notes: at === 0 ? joined([...row.same.map(({ label: view, text }) => `${view} ${text}`), row.state, row.note]) : '',
    further: at > 0 || goesOn,
    place: row.place,
  }));
}

export function joined(parts: readonly string[], between = '; '): string {
  return parts.filter((part) => part !== '').join(between);
}
