// Tables of a chapter: single figures with their views in columns, and figures along an axis with a column a place.
import type { SheetRow, SheetSingle } from '@thou/shared/result/sheet';
import type { ViewName } from '@thou/shared/result/contract';
import { bareText, figureText } from '../figures.ts';
import { headedTable, placeOf, tag, type Markup } from './markup.ts';

/** More do not stand beside each other on a page. */
const mostColumns = 8;

const viewHeads: readonly (readonly [ViewName, string])[] = [
  ['specified', 'Specified'],
  ['ordered', 'Ordered'],
  ['before', 'Before'],
  ['measured', 'Now'],
];

export function singlesTable(title: string, singles: readonly SheetSingle[]): Markup {
  const views = viewHeads.filter(([view]) => view === 'measured' || singles.some(({ shown }) => shown.includes(view)));
  const limits = singles.some((one) => one.limits !== '');
  const states = singles.some((one) => one.state !== '' || one.note !== '');
  const heads = [
    'Figure',
    ...views.map(([, head]) => head),
    ...(limits ? ['Limits'] : []),
    ...(states ? ['State'] : []),
  ];
  return headedTable(
    {},
    title,
    heads,
    singles.map((one) =>
      tag(
        'tr',
        { 'data-row': one.address, ...placeOf(one.place) },
        tag('th', { scope: 'row' }, nameLink(one.name, one.address, one.each)),
        views.map(([view]) =>
          tag('td', { class: 'number' }, one.shown.includes(view) ? figureText(one.views[view]) : ''),
        ),
        limits ? tag('td', { class: 'number' }, one.limits) : '',
        states ? tag('td', {}, stateText(one)) : '',
      ),
    ),
  );
}

function nameLink(name: string, address: string, where: string): Markup {
  return tag(
    'span',
    {},
    tag('a', { href: '#', class: 'figure', 'data-path': address }, name),
    where === '' ? '' : `, ${where}`,
  );
}

function stateText({ state, note }: SheetSingle | SheetRow): string {
  return [state, note].filter((part) => part !== '').join('; ');
}

/** Neighbours along the same places share a table; what is too wide goes on below. */
export function gridTables(title: string, rows: readonly SheetRow[]): Markup[] {
  const groups: SheetRow[][] = [];
  for (const row of rows) {
    const last = groups.at(-1);
    if (last && sameHeads(last[0]!, row)) last.push(row);
    else groups.push([row]);
  }
  return groups.flatMap((group) => {
    const count = group[0]!.heads.length;
    return Array.from({ length: Math.ceil(count / mostColumns) }, (_, part) =>
      gridTable(title, group, part * mostColumns, part * mostColumns + mostColumns, count <= mostColumns),
    );
  });
}

function sameHeads(a: SheetRow, b: SheetRow): boolean {
  return a.axis === b.axis && a.heads.join('\n') === b.heads.join('\n');
}

function gridTable(title: string, group: readonly SheetRow[], from: number, to: number, whole: boolean): Markup {
  const { axis, heads } = group[0]!;
  const shown = heads.slice(from, to);
  const where = whole ? '' : ` ${shown[0]} to ${shown.at(-1)}`;
  return tag(
    'table',
    { class: 'grid' },
    tag('caption', {}, `${title}, by ${axis}${where}`),
    tag(
      'thead',
      {},
      tag(
        'tr',
        {},
        tag('th', { scope: 'col' }, 'Figure'),
        tag('th', { scope: 'col' }, 'Unit'),
        shown.map((head) => tag('th', { scope: 'col', class: 'number' }, head)),
        tag('th', { scope: 'col' }, 'Limits and state'),
      ),
    ),
    group.map((row) => rowLines(row, from, to)),
  );
}

function rowLines(row: SheetRow, from: number, to: number): Markup {
  const { lines, second, unit } = row;
  const count = lines.length + (second ? 1 : 0);
  const same = row.same.map(({ label, text }) => `${label} ${text}`);
  const limits = row.limits === '' ? '' : `limits ${row.limits}`;
  const notes = [...same, limits, stateText(row)].filter((part) => part !== '').join('; ');
  return tag(
    'tbody',
    { 'data-row': row.address, ...placeOf(row.place) },
    lines.flatMap(({ label, figures }, at) => {
      const cells = figures.slice(from, to).map((figure, place) =>
        tag(
          'td',
          {
            class: row.marked[from + place] && at === 0 ? 'number marked' : 'number',
            'data-cell': row.addresses[from + place]!,
          },
          row.marked[from + place] && at === 0 ? '!' : '',
          figure.unit === unit ? figure.number : bareText({ ...figure, second: null }),
        ),
      );
      const name =
        at === 0
          ? nameLink(row.name, row.address, [row.at, label].filter((part) => part !== '').join(', '))
          : tag('span', { class: 'view' }, label);
      const line = tag(
        'tr',
        {},
        tag('th', { scope: 'row' }, name),
        tag('td', {}, unit),
        cells,
        at === 0 ? tag('td', { rowspan: count, class: 'notes' }, notes) : '',
      );
      const beside =
        at === 0 && second
          ? [
              tag(
                'tr',
                { class: 'second' },
                tag('th', { scope: 'row' }, tag('span', { class: 'view' }, `in ${second.unit}`)),
                tag('td', {}, second.unit),
                second.numbers.slice(from, to).map((number) => tag('td', { class: 'number' }, number)),
              ),
            ]
          : [];
      return [line, ...beside];
    }),
  );
}
