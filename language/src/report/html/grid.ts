// A table of figures with a column a place. Groups with other heads follow each other under one head; long ones name their heads again,
// so that a page of paper never has figures without them. Decides no content.
import { bareText, figureText } from '../figures.ts';
import type { GridBlock, GridCell, GridRow } from '../sheets/document.ts';
import { made, placeOf, tag, waysTo, type Markup } from './markup.ts';

/** More do not stand beside each other on a page. */
const mostColumns = 8;
/** So many lines stand under one row of heads; paper is cut between them. */
const mostLines = 7;

type Group = GridBlock['groups'][number];

export function gridTable({ caption, groups }: GridBlock): Markup {
  const narrow = groups.flatMap(narrowed);
  const columns = Math.max(...narrow.map(({ heads }) => heads.length));
  const limits = narrow.some(({ rows }) => rows.some((row) => row.limits !== ''));
  return tag(
    'table',
    { class: 'grid' },
    tag('caption', {}, tag('span', { class: 'told' }, caption)),
    tag(
      'thead',
      {},
      tag(
        'tr',
        {},
        tag('th', { scope: 'col' }, 'Figure'),
        tag('th', { scope: 'col' }, 'Unit'),
        tag('th', { scope: 'colgroup', colspan: columns }, 'Value'),
        tag('th', { scope: 'col' }, limits ? 'Limits and notes' : 'Notes'),
      ),
    ),
    narrow.flatMap((group) => chunks(group.rows).map((rows) => groupBody({ ...group, rows }, columns))),
  );
}

/** A group of more places than stand beside each other, as several; who is led to a figure comes to the first of them. */
function narrowed(group: Group): Group[] {
  const parts = Math.ceil(group.heads.length / mostColumns);
  const width = Math.ceil(group.heads.length / parts);
  return Array.from({ length: parts }, (_, part) => ({
    ...group,
    heads: group.heads.slice(part * width, part * width + width),
    rows: group.rows.map(({ anchor, ...row }) => ({
      ...row,
      cells: row.cells.slice(part * width, part * width + width),
      ...(part === 0 && anchor !== undefined ? { anchor } : {}),
    })),
  }));
}

/** Lines of one figure stay together. */
function chunks(rows: readonly GridRow[]): GridRow[][] {
  const all: GridRow[][] = [];
  let lines = 0;
  for (const row of rows) {
    if (all.length === 0 || (lines >= mostLines && !row.further)) {
      all.push([]);
      lines = 0;
    }
    all.at(-1)!.push(row);
    lines += 1;
  }
  return all;
}

function groupBody({ by, heads, rows }: Group, columns: number): Markup {
  const spans = spread(heads.length, columns, by === '');
  const filler = columns - spans.reduce((sum, span) => sum + span, 0);
  const rest = filler > 0 ? tag('td', { colspan: filler }) : '';
  const places = by === '' ? 'text' : 'number';
  const start = tag('td', { colspan: 2, class: 'by' }, by === '' ? '' : `by ${by}`);
  const isBare = heads.length === 1 && by === '';
  const headRow = tag(
    'tr',
    { class: 'heads' },
    start,
    heads.map((head, at) => tag('th', { scope: 'col', class: places, colspan: spans[at]! }, head)),
    rest,
    tag('td', {}),
  );
  return tag(
    'tbody',
    {},
    isBare ? '' : headRow,
    rows.map((row) => rowLine(row, spans, rest, places)),
  );
}

/** Few places share the room of many, so that a long figure of one widens no column of the others; views fill all of it. */
function spread(count: number, columns: number, filled: boolean): number[] {
  const width = Math.floor(columns / count);
  const last = filled ? columns - width * (count - 1) : width;
  return Array.from({ length: count }, (_, at) => (at === count - 1 ? last : width));
}

function rowLine(row: GridRow, spans: readonly number[], rest: Markup | '', look: string): Markup {
  return tag(
    'tr',
    {
      id: row.anchor ?? null,
      class: row.further ? 'further' : null,
      'data-row': row.further ? null : row.address.replaceAll(/\[[^\]]*\]/g, ''),
      ...placeOf(row.further ? null : row.place),
    },
    tag('th', { scope: 'row' }, nameOf(row)),
    tag('td', {}, row.unit),
    row.cells.map((cell, at) => cellMarkup(cell, row.unit, spans[at]!, look)),
    rest,
    tag(
      'td',
      { class: 'notes' },
      row.limits === '' ? '' : tag('span', { class: 'limits' }, row.limits),
      row.limits === '' || row.notes === '' ? '' : '; ',
      row.notes,
      row.drawings ? tag('span', { class: 'ways' }, ' Drawn: ', waysTo(row.drawings)) : '',
    ),
  );
}

function nameOf(row: GridRow): Markup {
  const { name, address, where, apart } = row;
  if (apart && name !== '')
    return tag(
      'details',
      { class: 'apart' },
      tag('summary', {}, where === '' ? name : `${name}, ${where}`),
      stepList('Made of', apart.made),
      stepList('Used by', apart.used),
    );
  const link = name === '' ? '' : tag('a', { href: '#', class: 'figure', 'data-path': address }, name);
  const view = name === '' ? tag('span', { class: 'view' }, where) : where === '' ? '' : `, ${where}`;
  return tag('span', {}, link, view);
}

function stepList(title: string, texts: readonly string[]): Markup | '' {
  if (texts.length === 0) return '';
  return tag(
    'div',
    {},
    title,
    tag(
      'ul',
      {},
      texts.map((text) => tag('li', {}, text)),
    ),
  );
}

function cellMarkup({ figure, address, marked }: GridCell, unit: string, span: number, look: string): Markup {
  const attributes = {
    class: [look, marked ? 'marked' : '', figure === null ? 'blank' : ''].filter((one) => one !== '').join(' '),
    colspan: span === 1 ? null : span,
    'data-cell': address,
  };
  if (figure === null) return tag('td', attributes, made('&#160;'));
  const alone = figure.unit === unit ? figure.number : bareText({ ...figure, second: null });
  const text = look === 'text' ? figureText(figure) : alone;
  return tag('td', attributes, marked ? '! ' : '', text);
}
