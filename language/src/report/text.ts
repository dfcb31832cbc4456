// The sheet laid out for a terminal or a plain printout, 100 columns wide where it can be. Decides no content.
import type { SheetFinding, SheetModel, SheetRow, SheetSection, SheetSingle } from '@thou/shared/result/sheet';
import type { ViewName } from '@thou/shared/result/contract';
import { figureText } from './figures.ts';
import { stateWords } from './findings.ts';
import { placeInWords } from './place.ts';
import { aligned, pageWidth, paragraph, table, widthOf } from './table.ts';

/** Emphasis for those who have it; plain text where each gives its text back. */
export interface Style {
  title(text: string): string;
  bad(text: string): string;
  warn(text: string): string;
  faint(text: string): string;
}
const same = (text: string): string => text;
export const plainStyle: Style = { title: same, bad: same, warn: same, faint: same };

export function sheetText(sheet: SheetModel, style: Style = plainStyle): string {
  const blocks: string[][] = [
    heading(sheet, style),
    findings(sheet, style),
    toMeasure(sheet, style),
    history(sheet, style),
    ...sheet.sections.map((section) => sectionLines(section, style)),
    cautions(sheet, style),
  ];
  return `${blocks
    .filter((block) => block.length > 0)
    .map((block) => block.join('\n'))
    .join('\n\n')}\n`;
}

function heading(sheet: SheetModel, style: Style): string[] {
  const variant = sheet.variantOf === null ? '' : `, a variant of ${sheet.variantOf}`;
  const title = `Build sheet: ${sheet.build}${variant}`;
  const marked = sheet.sections.some(({ rows }) => rows.some((row) => row.marked.includes(true)));
  const edition = sheet.edition === null ? '' : `trade library edition ${sheet.edition}`;
  return [
    style.title(title),
    style.faint([sheet.file, edition].filter((part) => part !== '').join(', ')),
    ...sheet.doc
      .split('\n')
      .filter((line) => line.trim() !== '')
      .flatMap((line) => paragraph('', line.trim())),
    ...(sheet.mistakes === '' ? [] : paragraph('', sheet.mistakes).map(style.bad)),
    sheet.summary,
    ...(marked ? ['Figures marked ! are out of limits or at risk.'] : []),
  ];
}

function titled(title: string, style: Style): string[] {
  return [style.title(title), style.faint('─'.repeat(widthOf(title)))];
}

function findings(sheet: SheetModel, style: Style): string[] {
  if (sheet.findings.length === 0) return [];
  const told = sheet.findings.flatMap((finding) => findingLines(finding, style));
  return [...titled('What does not hold', style), ...told, ...sheet.causes.flatMap((cause) => paragraph('', cause))];
}

function findingLines(finding: SheetFinding, style: Style): string[] {
  const paint = finding.severity === 'error' ? style.bad : finding.severity === 'warning' ? style.warn : same;
  const state = stateWords[finding.state as keyof typeof stateWords] ?? finding.state;
  const weight = finding.severity === 'hint' ? '' : `, ${finding.severity}`;
  const place = placeInWords(finding.place);
  const mark = `${state}${weight}`.toUpperCase();
  return [
    ...paragraph('', `${mark}: ${finding.headline}`).map((line) => line.replace(mark, () => paint(mark))),
    ...finding.lines.flatMap(({ label, text }) => paragraph(`    ${label}: `, text, pageWidth)),
    ...(place === '' ? [] : [style.faint(`    ${place}  ${finding.id}`)]),
  ];
}

function toMeasure(sheet: SheetModel, style: Style): string[] {
  if (sheet.toMeasure.length === 0) return [];
  const lines = sheet.toMeasure.flatMap(({ label, why, settles }) => {
    const reason = [why, settles === '' ? '' : `settles ${settles}`].filter((part) => part !== '').join('; ');
    return paragraph('  ', reason === '' ? label : `${label}: ${reason}`);
  });
  return [...titled('Still to be measured', style), ...lines];
}

function history(sheet: SheetModel, style: Style): string[] {
  if (sheet.history.length === 0) return [];
  return [...titled('What was done', style), ...sheet.history.map((line) => `  ${line}`)];
}

function cautions(sheet: SheetModel, style: Style): string[] {
  if (sheet.cautions.length === 0) return [];
  return [...titled('Cautions', style), ...sheet.cautions.flatMap((caution) => paragraph('', caution))];
}

function sectionLines(section: SheetSection, style: Style): string[] {
  return [
    ...titled(section.title, style),
    ...(section.parts.length === 0 ? [] : section.parts.flatMap((part) => paragraph('Part: ', part))),
    ...singlesTable(section.singles, style),
    ...section.rows.flatMap((row, at) =>
      rowLines(row, section.rows[at - 1], at === 0 && section.singles.length + section.parts.length === 0, style),
    ),
  ];
}

const viewTitles: readonly (readonly [ViewName, string])[] = [
  ['specified', 'Specified'],
  ['ordered', 'Ordered'],
  ['before', 'Before'],
  ['measured', 'Now'],
];

function singlesTable(singles: readonly SheetSingle[], style: Style): string[] {
  if (singles.length === 0) return [];
  const shown = viewTitles.filter(([view]) => singles.some((single) => single.shown.includes(view)));
  const withLimits = singles.some(({ limits }) => limits !== '');
  const notes = singles.map((single) => [
    single.limits === '' ? '' : `limits ${single.limits}`,
    single.state,
    single.note,
  ]);
  const head = ['', ...shown.map(([, title]) => (shown.length === 1 ? '' : title)), withLimits ? 'Limits' : '', ''];
  const rows = singles.map((single) => [
    single.each === '' ? single.name : `${single.name}, ${single.each}`,
    ...shown.map(([view]) => (single.shown.includes(view) ? figureText(single.views[view]) : '')),
    single.limits,
    single.state,
  ]);
  const body = viewColumns(rows, shown.length);
  const wide = table([head, ...body], ['left', ...shown.map(() => 'left' as const), 'left', 'left']);
  if (wide.every((line) => widthOf(line) <= pageWidth)) return withoutEmptyHead(wide, style);
  const narrow = table(
    [head.slice(0, -2), ...body.map((row) => row.slice(0, -2))],
    ['left', ...shown.map(() => 'left' as const)],
  );
  return [
    ...withoutEmptyHead(narrow.slice(0, 1), style),
    ...narrow.slice(1).flatMap((line, at) => [
      line,
      ...under(
        notes[at]!.filter((note) => note !== ''),
        style,
      ),
    ]),
  ];
}

/** Columns of figures with their points under each other; the heads stand apart from that. */
function viewColumns(rows: readonly (readonly string[])[], views: number): string[][] {
  const set = rows.map((row) => [...row]);
  for (let column = 1; column <= views; column++) {
    aligned(
      rows.map((row) => row[column]!),
      'point',
    ).forEach((text, at) => (set[at]![column] = text));
  }
  return set;
}

function withoutEmptyHead([head, ...lines]: readonly string[], style: Style): string[] {
  return head === undefined || head.trim() === '' ? lines : [style.faint(head), ...lines];
}

function under(notes: readonly string[], style: Style): string[] {
  return notes.length === 0 ? [] : paragraph('      ', notes.join('; ')).map(style.faint);
}

const labelWidth = 26;

/** One figure along an axis: the places as heads where they are not those of the row above, a line a view. */
function rowLines(row: SheetRow, above: SheetRow | undefined, atTop: boolean, style: Style): string[] {
  const sameAxis = above !== undefined && above.axis === row.axis && above.heads.join() === row.heads.join();
  const name = above?.address === row.address && row.at !== '' ? '' : row.name;
  const first = [name, row.at].filter((part) => part !== '').join(', ');
  const value = row.lines.length - 1;
  const lines = row.lines.map(({ label, figures }, at) => ({
    label: at === 0 ? [first, label].filter((part) => part !== '').join(', ') : `  ${label}`,
    unit: row.unit,
    cells: figures.map((figure, place) =>
      mark(
        figure.unit === row.unit ? figure.number : figureText({ ...figure, second: null, plusMinus: null }),
        at === value && row.marked[place] === true,
      ),
    ),
  }));
  const second = row.second ? [{ label: '', unit: row.second.unit, cells: row.second.numbers }] : [];
  const grid = inColumns([...lines, ...second], row.heads, sameAxis ? '' : row.axis);
  const notes = [row.limits === '' ? '' : `limits ${row.limits}`, row.state, row.note].filter((note) => note !== '');
  return [
    ...(sameAxis ? grid.body : [...(atTop ? [] : ['']), style.faint(grid.head), ...grid.body]),
    ...under(notes, style),
  ];
}

function mark(text: string, marked: boolean): string {
  return marked ? `!${text}` : text;
}

interface GridLine {
  readonly label: string;
  readonly unit: string;
  readonly cells: readonly string[];
}

function inColumns(
  lines: readonly GridLine[],
  heads: readonly string[],
  axis: string,
): { head: string; body: string[] } {
  const set = pointsAligned(lines);
  const width = Math.max(6, ...heads.map(widthOf), ...set.flatMap(({ cells }) => cells.map(widthOf))) + 1;
  const right = (text: string): string => ' '.repeat(Math.max(0, width - widthOf(text))) + text;
  const start = (label: string, unit: string): string => `${label.padEnd(labelWidth)} ${unit.padEnd(5)}`;
  return {
    head: start('', '').slice(0, Math.max(0, labelWidth + 6 - widthOf(axis))) + axis + heads.map(right).join(''),
    body: set.flatMap(({ label, unit, cells }) => {
      const figures = cells.map(right).join('');
      if (widthOf(label) <= labelWidth) return [start(label, unit) + figures];
      return [label, start('', unit) + figures];
    }),
  };
}

/** In each column the decimal points of one figure's views stand under each other; another unit has points of its own. */
function pointsAligned(lines: readonly GridLine[]): GridLine[] {
  const set = lines.map((line) => ({ ...line, cells: [...line.cells] }));
  const [first] = lines;
  const alike = set.filter(({ unit }) => unit === first?.unit);
  first?.cells.forEach((_, column) => {
    aligned(
      alike.map(({ cells }) => cells[column]!),
      'point',
    ).forEach((text, at) => (alike[at]!.cells[column] = text));
  });
  return set;
}
