// A sheet as markup: the same for paper, for a browser and beside the text. Decides no content and no colour.
import { createDigest } from './digest.ts';
import type { SheetDrawing, SheetFinding, SheetList } from '@thou/shared/result/sheet';
import { drawn, figuresIn } from '@thou/shared/drawing/drawing';
import { stateWords } from '../check-words.ts';
import { placeInWords } from '../place.ts';
import type { Block, Cell, Part, SheetDocument, TableBlock } from '../sheets/document.ts';
import { gridTable } from './grid.ts';
import { headedTable, made, placeOf, plainTable, tag, waysTo, type Markup } from './markup.ts';

/** A piece of the page, told apart from other states of itself by `of`. */
export interface Piece {
  readonly id: string;
  readonly of: string;
  readonly html: string;
}

/** What stands inside the page's `main`. */
export function sheetBody(sheet: SheetDocument): string {
  const pieces = [headPiece(sheet), ...sheet.parts.map(partPiece)].map(({ html }) => made(html));
  return tag('article', { class: `sheet ${sheet.kind}`, 'data-build': sheet.build }, pieces).html;
}

export function headPiece({ title, head }: SheetDocument): Piece {
  return pieceOf('head', tag('header', { 'data-part': 'head' }, tag('h1', {}, title), head.map(blockMarkup)));
}

export function partPiece(part: Part): Piece {
  return pieceOf(part.id, partMarkup(part, part.blocks().map(blockMarkup)));
}

/** The title of a folded part, its inside left out until somebody opens it. */
export function closedPiece(part: Part): Piece {
  return pieceOf(part.id, partMarkup(part, []));
}

function pieceOf(id: string, { html }: Markup): Piece {
  return { id, of: createDigest(html), html };
}

function partMarkup({ id, title, about, counted, folded }: Part, inside: readonly Markup[]): Markup {
  const note = about === '' ? [] : [tag('p', { class: 'note' }, about)];
  if (!folded)
    return tag(
      'section',
      { 'data-part': id, 'aria-label': title === '' ? null : title },
      title === '' ? '' : tag('h2', {}, title),
      note,
      inside,
    );
  const count = counted === '' ? '' : tag('span', { class: 'counted' }, ` ${counted}`);
  return tag(
    'section',
    { 'data-part': id, 'aria-label': title },
    tag('details', { class: 'fold' }, tag('summary', {}, tag('h2', {}, title), count), note, inside),
  );
}

function blockMarkup(block: Block): Markup {
  switch (block.is) {
    case 'text':
      return tag('p', { class: textLooks[block.look] }, block.look === 'mistake' ? `✕ ${block.text}` : block.text);
    case 'list':
      return tag(
        'ul',
        { class: 'lines' },
        block.lines.map((line) => tag('li', {}, line)),
      );
    case 'blanks':
      return blanks(block.names);
    case 'findings':
      return tag('ul', { class: 'findings' }, block.findings.map(finding));
    case 'tasks':
      return tasks(block.list);
    case 'steps':
      return steps(block.steps);
    case 'drawing':
      return figure(block.drawing, block);
    case 'table':
      return table(block);
    case 'grid':
      return gridTable(block);
  }
}

const textLooks = {
  plain: null,
  from: 'from',
  note: 'note',
  summary: 'summary',
  mistake: 'state error',
} as const;

const signs: Readonly<Record<string, string>> = {
  'holds-measured': '●',
  'holds-on-paper': '○',
  'at-risk': '◆',
  'out-of-limits': '✕',
  accepted: '□',
  'cannot-tell': '?',
};

function finding({ state, severity, headline, lines, id, place }: SheetFinding): Markup {
  const word = stateWords[state as keyof typeof stateWords] ?? state;
  const weight = severity === 'hint' ? '' : `, ${severity}`;
  const told = lines.map(({ label, text }) => [tag('dt', {}, label), tag('dd', {}, text)]);
  return tag(
    'li',
    { class: `finding ${state}`, ...placeOf(place), 'data-finding': id },
    tag(
      'p',
      {},
      tag('strong', { class: `state ${severity}` }, `${signs[state] ?? '·'} ${word}${weight}`),
      ' ',
      tag('a', { href: '#', class: 'figure', 'data-finding': id }, headline),
    ),
    told.length === 0 ? '' : tag('dl', {}, told),
    place === null ? '' : tag('p', { class: 'from' }, `${placeInWords(place)}  ${id}`),
  );
}

function linked(label: string, address: string): Markup {
  return tag('a', { href: '#', class: 'figure', 'data-path': address }, label);
}

function blank(): Markup {
  return tag('span', { class: 'blank' }, made('&#160;'));
}

function blanks(names: readonly string[]): Markup {
  return tag(
    'ul',
    { class: 'blanks' },
    names.map((name) => tag('li', {}, `${name} `, blank())),
  );
}

function tasks({ title, doc, tasks: all, address }: SheetList): Markup {
  const [about = ''] = doc.split(/\n\s*\n/);
  const done = all.filter((task) => task.done).length;
  return tag(
    'div',
    { class: 'tasks' },
    tag('h3', {}, linked(title, address), `, ${done} of ${all.length} done`),
    about === '' ? '' : tag('p', { class: 'note' }, about.replace(/\s+/g, ' ')),
    tag(
      'ul',
      { class: 'lines' },
      all.map(({ task, done: isDone, said, address: at }) =>
        tag('li', {}, `${isDone ? '☑ done' : '☐ to do'}: `, linked(task || title, at), said === '' ? '' : `, ${said}`),
      ),
    ),
  );
}

function steps(all: readonly (Block & { is: 'steps' })['steps'][number][]): Markup {
  return tag(
    'ol',
    { class: 'steps' },
    all.map(({ title, text, grid, drawing, blanks: names }) =>
      tag(
        'li',
        { class: 'step' },
        tag('h3', {}, title),
        tag('p', {}, text),
        grid ? gridTable(grid) : '',
        drawing ? figure(drawing) : '',
        blanks([...names, 'Done', 'By']),
      ),
    ),
  );
}

/** So many rows tell what a line does; a drawing of hundreds of places would be a book. */
const mostRows = 40;

function figure(
  { name, title, drawing, address }: SheetDrawing,
  block?: Pick<Block & { is: 'drawing' }, 'anchor' | 'figures'>,
): Markup {
  const { heads, rows } = figuresIn(drawing);
  const every = Math.ceil(rows.length / mostRows);
  const shown = rows.filter((_, at) => at % every === 0);
  const caption = every === 1 ? title : `${title}: every ${every}th figure`;
  return tag(
    'figure',
    { id: block?.anchor ?? null, 'data-drawing': name, 'data-path': address },
    made(drawn(drawing)),
    block && block.figures.length > 0 ? tag('p', { class: 'ways' }, 'Shows: ', waysTo(block.figures)) : '',
    tag(
      'details',
      { class: 'as-figures', 'data-fold': name },
      tag('summary', {}, `${title} as figures`),
      plainTable(caption, heads, shown, 'plain'),
    ),
  );
}

function table({ caption, heads, rows }: TableBlock): Markup {
  return headedTable(
    { class: 'plain' },
    caption,
    heads,
    rows.map(({ cells, under }) => [
      tag('tr', {}, cells.map(cellMarkup)),
      under === undefined || under === ''
        ? ''
        : tag('tr', { class: 'under' }, tag('td', { colspan: heads.length, class: 'notes' }, under)),
    ]),
  );
}

function cellMarkup(cell: Cell, at: number): Markup {
  const [name, head] = at === 0 ? ['th', { scope: 'row' }] : ['td', {}];
  if (typeof cell === 'string') return tag(name, head, cell);
  if ('is' in cell)
    return cell.is === 'blank'
      ? tag(name, { ...head, class: 'blank' }, made('&#160;'))
      : tag(name, { ...head, class: 'number' }, cell.text);
  return tag(name, head, linked(cell.text, cell.address));
}
