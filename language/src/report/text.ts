// The sheet laid out for a terminal or a plain printout, 100 columns wide where it can be. Decides no content.
import type { SheetFinding, SheetModel, SheetSection, SheetSingle } from '@thou/shared/result/sheet';
import type { ViewName } from '@thou/shared/result/contract';
import { figureText } from './figures.ts';
import { stateWords } from './check-words.ts';
import { placeInWords } from './place.ts';
import { gridLines, under } from './grid.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { aligned, pageWidth, paragraph, table, widthOf } from './table.ts';

export function sheetText(sheet: SheetModel, style: Style = plainStyle): string {
  const blocks: string[][] = [
    heading(sheet, style),
    findings(sheet, style),
    toMeasure(sheet, style),
    readAgain(sheet, style),
    toOrder(sheet, style),
    toDo(sheet, style),
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
    'Figures without a note are as given, or worked out on paper: not all under them is measured.',
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
  const paint =
    finding.severity === 'error' ? style.bad : finding.severity === 'warning' ? style.warn : plainStyle.warn;
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
  const width = Math.min(44, Math.max(...sheet.toMeasure.map(({ label }) => widthOf(label))));
  const lines = sheet.toMeasure.flatMap(({ label, why, settles }) => {
    const reason = [why, settles === '' ? '' : `for ${settles}`].filter((part) => part !== '').join('; ');
    if (widthOf(label) > width) return [`  ${label}`, ...paragraph(' '.repeat(width + 4), reason)];
    return paragraph(`  ${label.padEnd(width)}  `, reason);
  });
  return [...titled('Still to be measured', style), ...lines];
}

function readAgain({ readAgain: all }: SheetModel, style: Style): string[] {
  if (all.length === 0) return [];
  const lines = all.flatMap(({ label, read, since }) => [
    `  ${label}`,
    ...paragraph('      ', [read === '' ? '' : `read ${read}`, since].filter((part) => part !== '').join('; ')),
  ]);
  return [...titled('To be read again', style), ...lines];
}

function toOrder({ toOrder: orders }: SheetModel, style: Style): string[] {
  if (orders.length === 0) return [];
  const sizes = aligned(
    orders.map(({ size, count }) => (count === 1 ? size : `${count} × ${size}`)),
    'right',
  );
  const width = Math.min(44, Math.max(...orders.map(({ label }) => widthOf(label))));
  const lines = orders.flatMap(({ label, from }, at) =>
    paragraph(`  ${sizes[at]}  ${label.padEnd(width)}  `, from === '' ? '' : `from ${from}`),
  );
  return [...titled('To be ordered', style), ...lines];
}

function toDo({ lists }: SheetModel, style: Style): string[] {
  if (lists.length === 0) return [];
  const lines = lists.flatMap(({ title, tasks }) => {
    const left = tasks.filter(({ done }) => !done).map(({ task }) => task);
    const done = left.length === 0 ? 'all done' : `${tasks.length - left.length} of ${tasks.length} done`;
    return [`  ${title}: ${done}`, ...left.filter((task) => task !== '').map((task) => `    □ ${task}`)];
  });
  return [...titled('Still to be done', style), ...lines];
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
    ...(section.parts.length === 0 ? [] : section.parts.flatMap((part) => paragraph('', part))),
    ...singlesTable(section.singles, style),
    ...gridLines(section.rows, section.singles.length + section.parts.length === 0, style),
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
