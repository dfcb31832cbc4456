// The sheet as a page: findings on top, what is to be done, then the chapters as the job runs, each with its tables and drawings.
// The same for paper, for a browser and beside the text. Decides no content and no colour.
import type { SheetDrawing, SheetModel, SheetSection } from '@thou/shared/result/sheet';
import { drawn, figuresIn } from '@thou/shared/drawing/drawing';
import { stateWords } from '../check-words.ts';
import { placeInWords } from '../place.ts';
import { made, placeOf, plainTable, tag, type Markup } from './markup.ts';
import { gridTables, singlesTable } from './tables.ts';

export const sheetKinds = ['whole', 'bench', 'orders'] as const;
export type SheetKind = (typeof sheetKinds)[number];

/** What stands inside the page's `main`. */
export function sheetBody(model: SheetModel, kind: SheetKind): string {
  const parts = { whole: wholeSheet, bench: benchSheet, orders: orderSheet }[kind](model);
  return tag('article', { class: `sheet ${kind}`, 'data-build': model.build }, parts.flat()).html;
}

function wholeSheet(model: SheetModel): Markup[][] {
  const homes = drawingsBySection(model);
  return [
    heading(model, 'Build sheet'),
    findings(model),
    toMeasure(model),
    toOrder(model),
    lists(model),
    history(model),
    ...model.sections.map((section) => sectionParts(section, homes.get(section) ?? [])),
    rest('Drawings', homes.get(null) ?? []),
    cautions(model),
  ];
}

function heading(model: SheetModel, what: string): Markup[] {
  const variant = model.variantOf === null ? '' : `, a variant of ${model.variantOf}`;
  const edition = model.edition === null ? '' : `trade library edition ${model.edition}`;
  const marked = model.sections.some(({ rows }) => rows.some((row) => row.marked.includes(true)));
  return [
    tag('h1', {}, `${what}: ${model.build}${variant}`),
    tag('p', { class: 'from' }, [model.file, edition].filter((part) => part !== '').join(', ')),
    ...model.doc
      .split('\n')
      .filter((line) => line.trim() !== '')
      .map((line) => tag('p', {}, line.trim())),
    ...(model.mistakes === '' ? [] : [tag('p', { class: 'state error' }, `✕ ${model.mistakes}`)]),
    tag('p', { class: 'summary' }, model.summary),
    tag(
      'p',
      { class: 'note' },
      'Figures without a note are as given, or worked out on paper: not all under them is measured.',
      marked ? ' Figures marked ! are out of limits or at risk.' : '',
    ),
  ];
}

const signs: Readonly<Record<string, string>> = {
  'holds-measured': '●',
  'holds-on-paper': '○',
  'at-risk': '◆',
  'out-of-limits': '✕',
  accepted: '□',
  'cannot-tell': '?',
};

function findings({ findings: all, causes }: SheetModel): Markup[] {
  if (all.length === 0) return [];
  const told = all.map(({ state, severity, headline, lines, id, place }) => {
    const word = stateWords[state as keyof typeof stateWords] ?? state;
    const weight = severity === 'hint' ? '' : `, ${severity}`;
    return tag(
      'li',
      { class: `finding ${state}`, ...placeOf(place), 'data-finding': id },
      tag(
        'p',
        {},
        tag('strong', { class: `state ${severity}` }, `${signs[state] ?? '·'} ${word}${weight}`),
        ` ${headline}`,
      ),
      lines.length === 0
        ? ''
        : tag(
            'dl',
            {},
            lines.map(({ label, text }) => [tag('dt', {}, label), tag('dd', {}, text)]),
          ),
      place === null ? '' : tag('p', { class: 'from' }, `${placeInWords(place)}  ${id}`),
    );
  });
  return [
    tag(
      'section',
      { 'aria-label': 'What does not hold' },
      tag('h2', {}, 'What does not hold'),
      tag('ul', { class: 'findings' }, told),
      causes.map((cause) => tag('p', {}, cause)),
    ),
  ];
}

function titled(title: string, ...inside: readonly (Markup | readonly Markup[])[]): Markup[] {
  return [tag('section', { 'aria-label': title }, tag('h2', {}, title), ...inside)];
}

function linked(label: string, address: string): Markup {
  return tag('a', { href: '#', class: 'figure', 'data-path': address }, label);
}

function toMeasure({ toMeasure: all }: SheetModel): Markup[] {
  if (all.length === 0) return [];
  return titled(
    'Still to be measured',
    plainTable(
      'What settles most comes first',
      ['Figure', 'Settles', 'Why'],
      all.map(({ label, why, settles, address }) => [linked(label, address), settles, why]),
    ),
  );
}

function toOrder({ toOrder: all }: SheetModel): Markup[] {
  if (all.length === 0) return [];
  return titled(
    'To order',
    plainTable(
      'Sizes that the build worked out',
      ['What', 'Size', 'How many', 'From'],
      all.map(({ label, size, count, from, address }) => [linked(label, address), size, String(count), from]),
    ),
  );
}

function lists({ lists: all }: SheetModel): Markup[] {
  return all.flatMap(({ title, doc, tasks }) =>
    titled(
      title,
      doc === '' ? [] : tag('p', { class: 'note' }, doc.split(/\n\s*\n/)[0]!.replace(/\s+/g, ' ')),
      tag(
        'ul',
        { class: 'plain tasks' },
        tasks.map(({ task, done, said, address }) =>
          tag(
            'li',
            {},
            `${done ? '☑ done' : '☐ to do'}: `,
            linked(task || title, address),
            said === '' ? '' : `, ${said}`,
          ),
        ),
      ),
    ),
  );
}

function history({ history: lines }: SheetModel): Markup[] {
  return lines.length === 0
    ? []
    : titled(
        'What was done',
        tag(
          'ul',
          { class: 'plain' },
          lines.map((line) => tag('li', {}, line)),
        ),
      );
}

/** Drawings stand where the figure stands that they belong to; those of no section come at the end. */
function drawingsBySection({ sections, drawings }: SheetModel): Map<SheetSection | null, SheetDrawing[]> {
  const homes = new Map<SheetSection | null, SheetDrawing[]>();
  for (const drawing of drawings) {
    const mount = drawing.address.split('.')[0]!;
    const home =
      sections.find(({ singles, rows }) => [...singles, ...rows].some(({ address }) => address === drawing.address)) ??
      sections.find(({ singles, rows }) =>
        [...singles, ...rows].some(({ address }) => address.split('.')[0] === mount),
      ) ??
      null;
    homes.set(home, [...(homes.get(home) ?? []), drawing]);
  }
  return homes;
}

function sectionParts({ title, doc, parts, singles, rows }: SheetSection, drawings: readonly SheetDrawing[]): Markup[] {
  return titled(
    title,
    doc === ''
      ? []
      : doc
          .split(/\n\s*\n/)
          .slice(0, 1)
          .map((line) => tag('p', { class: 'note' }, line.replace(/\s+/g, ' '))),
    parts.map((part) => tag('p', {}, part)),
    singles.length === 0 ? [] : singlesTable(title, singles),
    gridTables(title, rows),
    drawings.map(figure),
  );
}

function rest(title: string, drawings: readonly SheetDrawing[]): Markup[] {
  return drawings.length === 0 ? [] : titled(title, drawings.map(figure));
}

/** So many rows tell what a line does; a drawing of hundreds of places would be a book. */
const mostRows = 40;

function figure({ name, title, drawing, address }: SheetDrawing): Markup {
  const { heads, rows } = figuresIn(drawing);
  const every = Math.ceil(rows.length / mostRows);
  const shown = rows.filter((_, at) => at % every === 0);
  const caption = every === 1 ? title : `${title}: every ${every}th figure`;
  return tag(
    'figure',
    { 'data-drawing': name, 'data-path': address },
    made(drawn(drawing)),
    tag('details', {}, tag('summary', {}, `${title} as figures`), plainTable(caption, heads, shown, 'grid')),
  );
}

function cautions({ cautions: lines }: SheetModel): Markup[] {
  return lines.length === 0
    ? []
    : titled(
        'Cautions',
        tag(
          'ul',
          {},
          lines.map((line) => tag('li', {}, line)),
        ),
      );
}

/** What is to be measured, with a blank for each reading. */
function benchSheet(model: SheetModel): Markup[][] {
  const head = [
    tag('h1', {}, `Bench sheet: ${model.build}`),
    tag('p', { class: 'from' }, model.file),
    tag(
      'p',
      { class: 'blanks' },
      'Date ',
      blank(),
      ' Measured by ',
      blank(),
      ' Instrument ',
      blank(),
      ' Temperature ',
      blank(),
    ),
  ];
  if (model.toMeasure.length === 0) return [head, [tag('p', {}, 'Nothing is left to be measured.')], cautions(model)];
  const tables = model.toMeasure.map(({ label, why, settles, places, unit, address }) =>
    tag(
      'section',
      { class: 'reading', 'aria-label': label },
      tag('h2', {}, linked(label, address), unit === '' ? '' : `, in ${unit}`),
      tag(
        'p',
        { class: 'note' },
        [why, settles === '' ? '' : `settles ${settles}`].filter((part) => part !== '').join('; '),
      ),
      tag(
        'ul',
        { class: 'blanks' },
        places.map((place) => tag('li', {}, place === '' ? '' : `${place} `, blank())),
      ),
    ),
  );
  return [head, tables, cautions(model)];
}

function blank(): Markup {
  return tag('span', { class: 'blank' }, made('&#160;'));
}

function orderSheet(model: SheetModel): Markup[][] {
  const orders = toOrder(model);
  return [
    [tag('h1', {}, `Order list: ${model.build}`), tag('p', { class: 'from' }, model.file)],
    orders.length > 0 ? orders : [tag('p', {}, 'No size was worked out that is to be ordered.')],
    cautions(model),
  ];
}
