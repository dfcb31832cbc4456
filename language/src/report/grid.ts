// Figures along an axis in columns, one figure below the other while their places are the same. Decides no content.
import type { SheetFigure, SheetRow } from '@thou/shared/result/sheet';
import { bareText } from './figures.ts';
import type { Style } from './style.ts';
import { aligned, paragraph, widthOf } from './table.ts';

const labelWidth = 26;
const unitWidth = 5;
const leastColumn = 6;

interface Line {
  readonly label: string;
  readonly unit: string;
  readonly cells: readonly string[];
}

/** `atTop`: nothing of the section stands above. */
export function gridLines(rows: readonly SheetRow[], atTop: boolean, style: Style): string[] {
  return groups(rows).flatMap((group, at) => {
    const set = group.map((row, index) => pointsAligned(linesOf(row, group[index - 1])));
    const cells = set.flatMap((lines) => lines.flatMap((line) => line.cells));
    const heads = group[0]!.heads;
    const width = Math.max(leastColumn, ...[...heads, ...cells].map(widthOf)) + 1;
    const head = group[0]!.axis.padStart(labelWidth + 1 + unitWidth) + heads.map((text) => right(text, width)).join('');
    return [
      ...(atTop && at === 0 ? [] : ['']),
      style.faint(head),
      ...set.flatMap((lines, index) => [
        ...lines.flatMap((line) => written(line, width)),
        ...under(notes(group[index]!), style),
      ]),
    ];
  });
}

/** Neighbours along the same places. */
function groups(rows: readonly SheetRow[]): SheetRow[][] {
  const found: SheetRow[][] = [];
  for (const row of rows) {
    const last = found[found.length - 1];
    const same = last && last[0]!.axis === row.axis && last[0]!.heads.join() === row.heads.join();
    if (same) last.push(row);
    else found.push([row]);
  }
  return found;
}

/** The value, the same in the second unit, then the views that vary. */
function linesOf(row: SheetRow, above: SheetRow | undefined): Line[] {
  const name = above?.address === row.address && row.at !== '' ? '' : row.name;
  const first = [name, row.at].filter((part) => part !== '').join(', ');
  const [value, ...views] = row.lines.map(({ label, figures }, at): Line => ({
    label: at === 0 ? [first, label].filter((part) => part !== '').join(', ') : `  ${label}`,
    unit: row.unit,
    cells: figures.map(
      (figure, place) => (at === 0 && row.marked[place] === true ? '!' : '') + cellText(figure, row.unit),
    ),
  }));
  const second: Line[] = row.second ? [{ label: '', unit: row.second.unit, cells: row.second.numbers }] : [];
  return [value!, ...second, ...views];
}

function cellText(figure: SheetFigure, unit: string): string {
  return figure.unit === unit ? figure.number : bareText({ ...figure, second: null });
}

function notes(row: SheetRow): string[] {
  const same = row.same.map(({ label, text }) => `${label} ${text}`);
  const limits = row.limits === '' ? '' : `limits ${row.limits}`;
  return [...same, limits, row.state, row.note].filter((note) => note !== '');
}

export function under(texts: readonly string[], style: Style): string[] {
  return texts.length === 0 ? [] : paragraph('      ', texts.join('; ')).map(style.faint);
}

function right(text: string, width: number): string {
  return ' '.repeat(Math.max(0, width - widthOf(text))) + text;
}

function written({ label, unit, cells }: Line, width: number): string[] {
  const figures = cells.map((text) => right(text, width)).join('');
  const start = (text: string): string => `${text.padEnd(labelWidth)} ${unit.padEnd(unitWidth)}`;
  const lines = widthOf(label) <= labelWidth ? [start(label) + figures] : [label, start('') + figures];
  return lines.map((line) => line.trimEnd());
}

/** In each column the decimal points of one figure's views stand under each other; another unit has points of its own. */
function pointsAligned(lines: readonly Line[]): Line[] {
  const set = lines.map((line) => ({ ...line, cells: [...line.cells] }));
  const alike = set.filter(({ unit }) => unit === lines[0]?.unit);
  lines[0]?.cells.forEach((_, column) => {
    const texts = alike.map(({ cells }) => cells[column]!);
    aligned(texts, 'point').forEach((text, at) => (alike[at]!.cells[column] = text));
  });
  return set;
}
